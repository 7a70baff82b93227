"""Logging a trial: taken once, refused with a sentence, followed by what it means for the parts."""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest

from journal.domain.actors import OPERATOR, Actor
from journal.domain.errors import Conflict, GateShut, Invalid, JournalError, NotFound, Refused
from journal.domain.parts import PartEvent, PartEventKind
from journal.domain.stages import Stage
from journal.domain.trials import Place, Trial, TrialEntry, TrialKind, TrialState
from journal.services.trials import log_trial, mend_broken
from journal.services.work import open_work
from journal.store import classes, groups, parts, revisions, sessions, stages, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom


def entry_of(room: Classroom, clock: StandingClock, **changes: Any) -> TrialEntry:
    """Return an entry that is taken: the first student of the first group, 10 mm off the aim."""
    plain = TrialEntry(
        revision_ids=room.revisions_for(0, 0),
        kind=TrialKind.PRACTICE,
        logged_at=clock(),
        student_id=room.student_ids[0][0],
        x_mm=10.0,
        y_mm=-5.0,
    )
    return replace(plain, **changes)


def log(
    store: Store,
    clock: StandingClock,
    actor: Actor,
    entry: TrialEntry,
    trial_id: UUID | None = None,
) -> Trial:
    """Log one entry in a unit of work of its own."""
    with open_work(store, actor, clock=clock) as work:
        return log_trial(work, trial_id or uuid4(), entry).trial


@pytest.fixture
def bridge_room(store: Store, clock: StandingClock) -> Classroom:
    """Return a classroom that loads paper bridges: one shared part, destroyed by its test."""
    with open_work(store, OPERATOR, clock=clock) as work:
        return make_classroom(work.session, clock(), challenge_key="paper_bridge")


def bridge_entry(room: Classroom, clock: StandingClock, **changes: Any) -> TrialEntry:
    """Return an entry of a loaded bridge."""
    plain = entry_of(room, clock, x_mm=None, y_mm=None, value=340.0)
    return replace(plain, **changes)


def test_hit_gets_zone_points_and_the_sessions_conditions(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Zone and points are worked out from the place, distance comes from the session."""
    trial = log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    assert ("blaze", 8.0, Place.PANEL) == (trial.zone, trial.value, trial.place)
    assert classroom.challenge.distance_mm == trial.distance_mm
    assert classroom.session_id == trial.session_id
    assert {"pull": "full", "tilt": "mark 1", "hand": "right"} == trial.handling


@pytest.mark.parametrize(
    ("ending", "place", "zone", "value"),
    [
        ({"x_mm": 400.0, "y_mm": 0.0}, Place.WALL, None, 0.0),
        ({"x_mm": 300.0, "y_mm": 0.0}, Place.PANEL, None, 1.0),
        ({"x_mm": None, "y_mm": None, "place": Place.WALL}, Place.WALL, None, 0.0),
        ({"x_mm": None, "y_mm": None, "place": Place.NOWHERE}, Place.NOWHERE, None, 0.0),
        ({"x_mm": None, "y_mm": None, "place": Place.PANEL}, Place.PANEL, None, 1.0),
        (
            {"x_mm": None, "y_mm": None, "place": Place.PANEL, "zone": "bark"},
            Place.PANEL,
            "bark",
            4.0,
        ),
    ],
)
def test_place_decides_points(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    ending: dict[str, Any],
    place: Place,
    zone: str | None,
    value: float,
) -> None:
    """Wall, bare panel, nowhere and a named zone have their own points."""
    trial = log(store, clock, classroom.tablets[0], entry_of(classroom, clock, **ending))

    assert (place, zone, value) == (trial.place, trial.zone, trial.value)


def test_misfire_keeps_its_cause_and_no_value(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A misfire is no zero."""
    entry = entry_of(classroom, clock, x_mm=None, y_mm=None, misfire="stuck")

    trial = log(store, clock, classroom.tablets[0], entry)

    assert (TrialState.MISFIRE, "stuck", None) == (trial.state, trial.misfire, trial.value)


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"x_mm": 481.0}, "place", "off the wall"),
        ({"x_mm": None}, "place", "across and up"),
        ({"x_mm": None, "y_mm": None}, "place", "Say where it ended"),
        ({"place": Place.WALL}, "place", "Tap again"),
        ({"zone": "bark"}, "place", "another zone"),
        ({"value": 8.0}, "value", "worked out"),
        ({"amount": -1.0}, "amount", "less than 0"),
        ({"amount": float("inf")}, "amount", "no number"),
        ({"misfire": "stuck"}, "misfire", "no place"),
        ({"misfire": "hexed", "x_mm": None, "y_mm": None}, "misfire", "listed causes"),
        ({"handling": {"pull": "twice"}}, "handling.pull", "full, half"),
        ({"handling": {"wind": "none"}}, "handling", "no such choice"),
        ({"student_id": None}, "student_id", "tap a name"),
        ({"student_id": uuid4()}, "student_id", "not in this group"),
        ({"scribe_id": uuid4()}, "scribe_id", "must be in this group"),
        (
            {"x_mm": None, "y_mm": None, "place": Place.PANEL, "zone": "moon"},
            "place",
            "no such zone",
        ),
    ],
)
def test_wrong_entry_is_named_by_field(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    changes: dict[str, Any],
    field: str,
    words: str,
) -> None:
    """Each wrong thing is told beside its field, and nothing is kept."""
    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, **changes))

    assert words in " ".join(caught.value.by_field()[field])
    with open_work(store, OPERATOR, writing=False) as work:
        assert trials.find_last_trial(work.session, classroom.group_ids[0]) is None


def test_several_wrong_things_are_told_at_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Nobody mends one field only to learn of the next."""
    entry = entry_of(classroom, clock, amount=-2.0, student_id=None, x_mm=9999.0)

    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[0], entry)

    assert {"student_id", "amount", "place"} == set(caught.value.by_field())


def test_replay_is_taken_once(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """The same id with the same content is the same trial, even after the session has ended."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    first = log(store, clock, classroom.tablets[0], entry, trial_id)
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
        revisions.set_aside(work.session, entry.revision_ids[0], clock())

    with open_work(store, classroom.tablets[0], clock=clock) as work:
        again = log_trial(work, trial_id, entry)

    assert (False, first) == (again.added, again.trial)


def test_same_id_with_other_content_is_a_conflict(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Two tablets that log one id see both contents."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    log(store, clock, classroom.tablets[0], entry, trial_id)

    with pytest.raises(Conflict) as caught:
        log(store, clock, classroom.tablets[0], replace(entry, x_mm=200.0), trial_id)

    assert (10.0, 200.0) == (caught.value.kept["x_mm"], caught.value.sent["x_mm"])


def test_another_groups_entry_is_not_shown_in_a_conflict(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Whoever sends a known id from another group learns nothing of what it holds."""
    trial_id = uuid4()
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock), trial_id)
    other = entry_of(
        classroom,
        clock,
        revision_ids=classroom.revisions_for(1, 0),
        student_id=classroom.student_ids[1][0],
    )

    with pytest.raises(Conflict) as caught:
        log(store, clock, classroom.tablets[1], other, trial_id)

    assert caught.value.kept == {}


def test_thirty_senders_of_one_id_leave_one_trial(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Thirty threads that log one entry at the same time keep it once, all with the same answer."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    gate = threading.Barrier(30)
    answers: list[tuple[bool, UUID]] = []

    def send() -> None:
        gate.wait()
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            kept = log_trial(work, trial_id, entry)
        answers.append((kept.added, kept.trial.id))

    threads = [threading.Thread(target=send) for _ in range(30)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert [(False, trial_id)] * 29 + [(True, trial_id)] == sorted(answers)
    with open_work(store, OPERATOR, writing=False) as work:
        kept = trials.trials_of_groups(work.session, classroom.group_ids, [classroom.session_id])
    assert len(kept) == 1


def test_logging_waits_for_a_session(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Without a session there is nothing to log into."""
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
    clock.move(minutes=1)

    with pytest.raises(Refused, match="has not started a session"):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))


def test_late_entry_belongs_to_the_session_in_which_it_was_made(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An entry that waited for the network is taken after the lesson."""
    entry = entry_of(classroom, clock)
    clock.move(minutes=5)
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
    clock.move(hours=2)

    trial = log(store, clock, classroom.tablets[0], entry)

    assert classroom.session_id == trial.session_id
    assert trial.received_at - trial.logged_at > timedelta(hours=2)


def test_launching_waits_for_the_gate(store: Store, clock: StandingClock) -> None:
    """Before the teacher's checklist the entry is refused with the waiting line."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), gate_open=False)

    with pytest.raises(GateShut, match="checks the lane"):
        log(store, clock, room.tablets[0], entry_of(room, clock))


def test_loading_a_bridge_needs_no_gate(store: Store, clock: StandingClock) -> None:
    """Where nothing is launched there is no lane to open."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), challenge_key="paper_bridge", gate_open=False)

    assert log(store, clock, room.tablets[0], bridge_entry(room, clock)).value == 340.0


def test_revision_set_aside_is_refused(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What the group put away is taken up again first."""
    with open_work(store, OPERATOR, clock=clock) as work:
        revisions.set_aside(work.session, classroom.shared_revision_ids[0], clock())

    with pytest.raises(Refused, match="Launcher 1 was set aside"):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))


def own_part(store: Store, room: Classroom, group: int, student: int) -> UUID:
    """Return the id of a student's own part."""
    with open_work(store, OPERATOR, writing=False) as work:
        revision = revisions.get_revision(work.session, room.own_revision_ids[group][student])
    return revision.part_id


def happen(
    store: Store,
    clock: StandingClock,
    room: Classroom,
    part_id: UUID,
    kind: PartEventKind,
    borrower: UUID | None = None,
) -> None:
    """Let something happen to a part."""
    event = PartEvent(
        id=uuid4(), part_id=part_id, kind=kind, at=clock(), borrower_group_id=borrower
    )
    with open_work(store, OPERATOR, clock=clock) as work:
        parts.add_event(work.session, room.school_id, event)


@pytest.mark.parametrize(
    ("kind", "words"),
    [(PartEventKind.LOST, "Ada’s dart is lost"), (PartEventKind.BROKEN, "Ada’s dart is broken")],
)
def test_lost_or_broken_part_is_refused_until_mended(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    kind: PartEventKind,
    words: str,
) -> None:
    """What is gone cannot be used, what is back can."""
    part_id = own_part(store, classroom, 0, 0)
    happen(store, clock, classroom, part_id, kind)

    with pytest.raises(Refused, match=words):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    happen(store, clock, classroom, part_id, PartEventKind.MENDED)
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))


def test_group_mates_part_is_borrowed_by_naming_it(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Another child's dart of the same group is used without ceremony."""
    entry = entry_of(classroom, clock, revision_ids=classroom.revisions_for(0, 1))

    trial = log(store, clock, classroom.tablets[0], entry)

    assert classroom.student_ids[0][0] == trial.student_id


def test_another_groups_part_is_refused_unless_borrowed(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Only a part that was lent to the group counts as its own for the while."""
    foreign = (classroom.shared_revision_ids[0], classroom.own_revision_ids[1][2])

    with pytest.raises(Invalid, match="Finn’s dart is another group’s"):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, revision_ids=foreign))

    part_id = own_part(store, classroom, 1, 2)
    happen(
        store, clock, classroom, part_id, PartEventKind.BORROWED, borrower=classroom.group_ids[0]
    )
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock, revision_ids=foreign))


@pytest.mark.parametrize("which", ["missing", "twice", "unknown", "none"])
def test_each_part_is_named_once(
    store: Store, clock: StandingClock, classroom: Classroom, which: str
) -> None:
    """A trial uses one revision of each part of the challenge, no fewer and no more."""
    launcher, dart = classroom.revisions_for(0, 0)
    sent = {
        "missing": (launcher,),
        "twice": (launcher, dart, classroom.own_revision_ids[0][1]),
        "unknown": (launcher, dart, uuid4()),
        "none": (),
    }[which]

    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, revision_ids=sent))

    assert {"revision_ids"} == set(caught.value.by_field())


def test_counted_attempts_end_with_the_rule_and_a_misfire_takes_none(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Three counted attempts a member; a misfire is repeated."""
    misfire = entry_of(
        classroom, clock, kind=TrialKind.COUNTED, x_mm=None, y_mm=None, misfire="stuck"
    )
    log(store, clock, classroom.tablets[0], misfire)
    for _ in range(classroom.challenge.counting.attempts):
        log(
            store, clock, classroom.tablets[0],
            entry_of(classroom, clock, kind=TrialKind.COUNTED),
        )  # fmt: skip

    with pytest.raises(Refused, match="All 3 counted attempts are done"):
        log(
            store, clock, classroom.tablets[0],
            entry_of(classroom, clock, kind=TrialKind.COUNTED),
        )  # fmt: skip

    other = entry_of(
        classroom,
        clock,
        kind=TrialKind.COUNTED,
        student_id=classroom.student_ids[0][1],
        revision_ids=classroom.revisions_for(0, 1),
    )
    assert log(store, clock, classroom.tablets[0], other).kind is TrialKind.COUNTED


def test_entry_made_before_a_move_is_taken_and_one_after_it_is_not(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A moved child's waiting entries stay with the group in which they were made."""
    student_id = classroom.student_ids[1][3]
    before = entry_of(
        classroom, clock, student_id=student_id, revision_ids=classroom.revisions_for(1, 3)
    )
    with open_work(store, OPERATOR, clock=clock) as work:
        first = groups.get_group(work.session, classroom.group_ids[0])
        groups.leave_groups(work.session, student_id, clock())
        groups.join_group(work.session, first, [student_id], clock())
    after = replace(before, logged_at=clock())

    assert student_id == log(store, clock, classroom.tablets[1], before).student_id
    with pytest.raises(Invalid, match="not in this group"):
        log(store, clock, classroom.tablets[1], after)


def test_tablet_of_another_group_finds_no_such_revision(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A tablet logs for its own group only: the other group's things are not its own."""
    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[1], entry_of(classroom, clock))

    assert "student_id" in caught.value.by_field()


def test_teacher_logs_for_a_group_of_the_own_class_only(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The group is that of the shared part; another teacher's class is not found."""
    entry = entry_of(classroom, clock)
    stranger = replace(classroom.teacher, teacher_id=uuid4())

    assert classroom.group_ids[0] == log(store, clock, classroom.teacher, entry).group_id
    with pytest.raises(NotFound):
        log(store, clock, stranger, entry)


def test_trial_moves_the_group_to_the_test_stage_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Arriving is noted with the first trial, staying is not."""
    for _ in range(2):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    with open_work(store, OPERATOR, writing=False) as work:
        walked = stages.steps_of_groups(work.session, classroom.group_ids, classroom.challenge_id)
    assert [Stage.TEST] == [step.stage for step in walked[classroom.group_ids[0]]]


def test_each_trial_is_news_for_the_overview_and_a_replay_is_not(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The class's version counts what could be shown."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    for _ in range(3):
        log(store, clock, classroom.tablets[0], entry, trial_id)

    with open_work(store, OPERATOR, writing=False) as work:
        assert classes.find_version(work.session, classroom.class_id) == 1


def test_test_breaks_a_bridge_until_it_is_built_again(
    store: Store, clock: StandingClock, bridge_room: Classroom
) -> None:
    """A destroyed part waits for "the same way" or for a new revision."""
    tablet = bridge_room.tablets[0]
    log(store, clock, tablet, bridge_entry(bridge_room, clock))

    with pytest.raises(Refused, match="Bridge is broken"):
        log(store, clock, tablet, bridge_entry(bridge_room, clock))

    with open_work(store, tablet, clock=clock) as work:
        mend_broken(work, bridge_room.group_ids[0])
    log(store, clock, tablet, bridge_entry(bridge_room, clock))


def test_misfire_leaves_the_bridge_whole(
    store: Store, clock: StandingClock, bridge_room: Classroom
) -> None:
    """A load that fell off has not tested the bridge."""
    tablet = bridge_room.tablets[0]
    log(
        store, clock, tablet,
        bridge_entry(bridge_room, clock, value=None, misfire="load_fell"),
    )  # fmt: skip

    assert log(store, clock, tablet, bridge_entry(bridge_room, clock)).value == 340.0


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"value": 20001.0}, "0 to 20000 g"),
        ({"value": -1.0}, "0 to 20000 g"),
        ({"value": float("nan")}, "0 to 20000 g"),
        ({"value": None}, "measure is missing"),
        ({"place": Place.WALL}, "not a place"),
        ({"amount": 3.0}, "logs no amount"),
    ],
)
def test_measure_stays_within_its_limits(
    store: Store,
    clock: StandingClock,
    bridge_room: Classroom,
    changes: dict[str, Any],
    words: str,
) -> None:
    """A slip of the finger is told with limits and unit."""
    with pytest.raises(Invalid, match=words):
        log(store, clock, bridge_room.tablets[0], bridge_entry(bridge_room, clock, **changes))


def test_table_from_elsewhere_may_lack_student_and_own_part(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An import at the terminal knows the shared part only."""
    entry = entry_of(
        classroom, clock, student_id=None, revision_ids=(classroom.shared_revision_ids[0],)
    )

    assert log(store, clock, OPERATOR, entry).student_id is None


def test_usual_trial_takes_few_statements(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    count_queries: Callable[[], AbstractContextManager[list[str]]],
) -> None:
    """Eight statements for a trial at the test stage, however many trials there are."""
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    with count_queries() as statements:
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    assert len(statements) == 8, "\n".join(statements)


def test_nothing_else_is_raised_than_errors_for_people(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Signs that no text should hold end as a sentence, not as a fault."""
    for strange in ("\x00", "\ud800", "x" * 100_000, ""):
        for changes in (
            {"handling": {"pull": strange}},
            {"handling": {strange: "full"}},
            {"misfire": strange, "x_mm": None, "y_mm": None},
            {"zone": strange},
        ):
            with pytest.raises(JournalError):
                log(store, clock, classroom.tablets[0], entry_of(classroom, clock, **changes))
