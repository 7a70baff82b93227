"""What a class needs next, from nothing to its first trial."""

from dataclasses import replace

from journal.domain.next_steps import Standing, Step, steps_left

NOTHING = Standing(
    has_students=False,
    has_groups=False,
    has_challenge=False,
    has_session=False,
    is_paused=False,
    has_word=False,
    has_tablets=False,
    launches=True,
    loads=False,
    lane_is_open=False,
    has_trials=False,
)


def test_the_steps_come_in_order_and_go_as_they_are_done() -> None:
    """Each thing that is there takes its own step away, and no other."""
    done = ("students", "groups", "challenge", "session", "word", "tablets")
    standing = NOTHING
    for name in done:
        assert Step(name) is steps_left(standing)[0]
        standing = replace(standing, **{f"has_{name}": True})
    assert (Step.LANE, Step.TRIAL) == steps_left(standing)
    assert (Step.TRIAL,) == steps_left(replace(standing, lane_is_open=True))
    assert () == steps_left(replace(standing, lane_is_open=True, has_trials=True))


def test_tablets_that_are_in_need_no_word() -> None:
    """A word runs out in the middle of a lesson without anybody missing it."""
    assert Step.WORD not in steps_left(replace(NOTHING, has_tablets=True))


def test_what_loads_has_a_checklist_and_what_only_measures_has_none() -> None:
    """The lane is named where something is launched."""
    assert Step.LOAD in steps_left(replace(NOTHING, launches=False, loads=True))
    plain = steps_left(replace(NOTHING, launches=False))
    assert not {Step.LANE, Step.LOAD} & set(plain)


def test_after_the_first_trial_only_a_session_is_missed() -> None:
    """In later lessons nobody is told what they know: but without a session none begins."""
    assert (Step.SESSION,) == steps_left(replace(NOTHING, has_trials=True))
    paused = replace(NOTHING, has_trials=True, has_session=True, is_paused=True)
    assert (Step.RESUME,) == steps_left(paused)
