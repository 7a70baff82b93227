"""The ladder: a rung opens after an answer or a new trial, and may be left at any rung."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID, uuid4

import pytest
import sqlalchemy as sa

from journal.content.ladders import get_question
from journal.domain.actors import NOBODY, OPERATOR
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, NotFound, Refused, SignedOut
from journal.domain.ladders import RUNGS, AnswerEntry, AnswerKind, ClimbEnd, Rung
from journal.domain.revisions import Change, RevisionEntry
from journal.domain.trials import TrialState
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.ladder_questions import put_question
from journal.services.ladders import (
    answer_rung,
    leave_ladder,
    offer,
    open_next_rung,
    start_climb,
)
from journal.services.parts import parts_of_context
from journal.services.revisions import make_revision
from journal.store import ladders
from journal.store.classes import ClassRow
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.logged_trials import keep_trial
from tests.sentences import raises


def _start(store: Store, room: Classroom, clock: StandingClock) -> None:
    with open_work(store, room.tablets[0], clock=clock) as work:
        start_climb(work, room.group_ids[0])


def _answer(
    store: Store, room: Classroom, clock: StandingClock, rung: Rung, **fields: object
) -> None:
    entry = AnswerEntry(rung=rung, question="", **(fields or {"words": "They lie low."}))  # type: ignore[arg-type]
    with open_work(store, room.tablets[0], clock=clock) as work:
        answer_rung(work, room.group_ids[0], entry)


def _log_trial(store: Store, room: Classroom, clock: StandingClock, state: TrialState) -> None:
    with open_work(store, OPERATOR, clock=clock) as work:
        at = work.now() + timedelta(seconds=1)
        keep_trial(work.session, room, room.shared_revision_ids[0], at, state)


def _climb_now(store: Store, room: Classroom) -> Rung | None:
    with open_work(store, OPERATOR, writing=False) as work:
        climb = ladders.find_open_climb(work.session, room.group_ids[0], room.challenge_id)
    return climb.rung if climb else None


def test_each_answer_opens_the_next_rung_up_to_the_teacher(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """The last rung calls the teacher and stays open."""
    _start(store, classroom, clock)
    seen = []
    for rung in RUNGS:
        seen.append(_climb_now(store, classroom))
        _answer(store, classroom, clock, rung)
    assert list(RUNGS) == seen
    with open_work(store, OPERATOR, writing=False) as work:
        climb = ladders.find_open_climb(
            work.session, classroom.group_ids[0], classroom.challenge_id
        )
    assert climb is not None
    assert climb.wants_teacher
    assert list(RUNGS) == [answer.rung for answer in climb.answers]
    assert all(answer.question for answer in climb.answers)


def test_a_new_trial_opens_the_next_rung_but_a_struck_one_does_not(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Without an answer or a trial the rung stays."""
    _start(store, classroom, clock)
    for state in (None, TrialState.STRUCK):
        if state:
            _log_trial(store, classroom, clock, state)
        with (
            open_work(store, classroom.tablets[0], clock=clock) as work,
            raises(Refused, match="Answer this question first"),
        ):
            open_next_rung(work, classroom.group_ids[0])
    _log_trial(store, classroom, clock, TrialState.MEASURED)
    clock.move(seconds=5)
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        open_next_rung(work, classroom.group_ids[0])
    assert Rung.COMPARE is _climb_now(store, classroom)
    with (
        open_work(store, classroom.tablets[0], clock=clock) as work,
        pytest.raises(Refused),
    ):
        open_next_rung(work, classroom.group_ids[0])


def test_stuck_twice_is_one_climb(store: Store, classroom: Classroom, clock: StandingClock) -> None:
    """A second tap finds the group where it stands."""
    _start(store, classroom, clock)
    _answer(store, classroom, clock, Rung.NOTICE)
    _start(store, classroom, clock)
    assert Rung.COMPARE is _climb_now(store, classroom)


@pytest.mark.parametrize("rungs_climbed", range(len(RUNGS)))
def test_the_ladder_may_be_left_at_any_rung(
    store: Store, classroom: Classroom, clock: StandingClock, rungs_climbed: int
) -> None:
    """Knowing what to try ends the climb; being stuck again starts a new one."""
    _start(store, classroom, clock)
    for rung in RUNGS[:rungs_climbed]:
        _answer(store, classroom, clock, rung)
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        leave_ladder(work, classroom.group_ids[0])
    assert _climb_now(store, classroom) is None
    with open_work(store, OPERATOR, writing=False) as work:
        climbs = ladders.climbs_of_groups(work.session, classroom.group_ids, classroom.challenge_id)
    assert [ClimbEnd.KNOWS_WHAT_TO_TRY] == [climb.ended_by for climb in climbs]
    _start(store, classroom, clock)
    assert Rung.NOTICE is _climb_now(store, classroom)


@pytest.mark.parametrize(
    ("fields", "kind"),
    [
        ({"starter": "They are all alike."}, AnswerKind.STARTER),
        ({"starter": "Each time", "words": "it flew low."}, AnswerKind.WORDS),
        ({"said_to_teacher": True}, AnswerKind.SAID),
    ],
)
def test_an_answer_is_tapped_written_or_said(
    store: Store,
    classroom: Classroom,
    clock: StandingClock,
    fields: dict[str, object],
    kind: AnswerKind,
) -> None:
    """All three count."""
    _start(store, classroom, clock)
    _answer(store, classroom, clock, Rung.NOTICE, **fields)
    with open_work(store, OPERATOR, writing=False) as work:
        climbs = ladders.climbs_of_groups(work.session, classroom.group_ids, classroom.challenge_id)
    assert [kind] == [answer.kind for answer in climbs[0].answers]


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"words": " \u0000 "}, "words"),
        ({"words": "x" * 601}, "words"),
        ({"words": "w", "student_id": uuid4()}, "who"),
        ({"words": "w", "rung": Rung.AIM}, "words"),
    ],
)
def test_an_answer_that_says_nothing_is_asked_for_again(
    store: Store,
    classroom: Classroom,
    clock: StandingClock,
    fields: dict[str, object],
    field: str,
) -> None:
    """Empty, too long, by a stranger, or to another question than the open one."""
    _start(store, classroom, clock)
    given = {"rung": Rung.NOTICE} | fields
    with pytest.raises(Invalid) as caught:
        _answer(store, classroom, clock, **given)  # type: ignore[arg-type]
    assert [field] == list(caught.value.by_field())


def test_the_question_names_the_factor_that_the_group_changed(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """It names the factor and the two revisions, no value and no way to go."""
    _change(store, classroom, clock, ("bands", "2"))
    text = _question(store, classroom, Rung.COMPARE)
    expected = "Launcher 1, then Launcher 2: you changed the bands."
    assert text.startswith(expected)
    _change(store, classroom, clock, ("bands", "4"), ("rail_length", "350"))
    assert "the bands and the rail length" in _question(store, classroom, Rung.COMPARE)


@pytest.mark.parametrize("rung", RUNGS)
@pytest.mark.parametrize("band", list(GradeBand))
def test_no_rendered_question_holds_a_value_of_the_group(
    store: Store, classroom: Classroom, clock: StandingClock, rung: Rung, band: GradeBand
) -> None:
    """Values and units that the group entered never come back in a question."""
    _change(store, classroom, clock, ("rail_length", "350"), ("cord", "cotton string"))
    with open_work(store, OPERATOR) as work:
        work.session.execute(sa.update(ClassRow).values(band=band))
    text = _question(store, classroom, rung)
    for word in ("350", "200", "mm", "cotton", "elastic", "longer", "shorter", "more", "less"):
        assert word not in text.split()
        assert "350" not in text


def test_a_group_that_changed_nothing_gets_the_plain_question(
    store: Store, classroom: Classroom
) -> None:
    """No slot stays open."""
    expected = get_question(Rung.COMPARE, GradeBand.THREE_TO_FIVE, "en").plain
    assert expected == _question(store, classroom, Rung.COMPARE)


def test_a_stalled_group_is_offered_the_ladder(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Offered, never forced; once open, the offer says where it is."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.tablets[0], writing=False) as work:
        context = get_group_context(work, group_id)
        assert offer(work, context, None) is None
        made = offer(work, context, "no_new_best")
    assert made is not None
    assert ("no_new_best", False) == (made.why, made.is_open)
    _start(store, classroom, clock)
    with open_work(store, classroom.tablets[0], writing=False) as work:
        again = offer(work, get_group_context(work, group_id), None)
    assert again is not None
    assert again.is_open


def test_only_the_group_and_its_teacher_climb(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Another group's ladder is not found."""
    group_id = classroom.group_ids[1]
    entry = AnswerEntry(rung=Rung.NOTICE, question="", words="w")
    for verb in (
        lambda work: start_climb(work, group_id),
        lambda work: answer_rung(work, group_id, entry),
        lambda work: open_next_rung(work, group_id),
        lambda work: leave_ladder(work, group_id),
    ):
        with open_work(store, classroom.tablets[0], clock=clock) as work, pytest.raises(NotFound):
            verb(work)
        with open_work(store, NOBODY, clock=clock) as work, pytest.raises(SignedOut):
            verb(work)


def _change(store: Store, room: Classroom, clock: StandingClock, *changes: tuple[str, str]) -> None:
    with open_work(store, room.tablets[0], clock=clock) as work:
        state = parts_of_context(work, get_group_context(work, room.group_ids[0]))[0]
        entry = RevisionEntry(
            part_id=state.part.id,
            parent_id=_current(state.current),
            changes=tuple(
                Change(factor=factor, from_value="", to_value=value) for factor, value in changes
            ),
        )
        make_revision(work, room.group_ids[0], entry)


def _current(revision: object) -> UUID:
    found = getattr(revision, "id", None)
    assert isinstance(found, UUID)
    return found


def _question(store: Store, room: Classroom, rung: Rung) -> str:
    with open_work(store, room.tablets[0], writing=False) as work:
        context = get_group_context(work, room.group_ids[0])
        return put_question(context, rung, parts_of_context(work, context)).text
