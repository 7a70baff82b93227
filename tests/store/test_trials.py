"""Trials as rows: inserted once with their revisions, whichever database keeps them."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from uuid import UUID, uuid4

import pytest

from journal.domain.errors import NotFound
from journal.domain.trial_fields import describe_content
from journal.domain.trials import Correction, Place, Trial, TrialEntry, TrialKind, TrialState
from journal.store import trials
from journal.store.engine import Store
from tests.factories.classrooms import Classroom

AT = datetime(2030, 3, 4, 10, 0, tzinfo=UTC)


def _trial(room: Classroom, trial_id: UUID | None = None) -> Trial:
    return Trial(
        id=trial_id or uuid4(),
        school_id=room.school_id,
        group_id=room.group_ids[0],
        session_id=room.session_id,
        revision_ids=room.revisions_for(0, 0),
        student_id=room.student_ids[0][0],
        scribe_id=None,
        kind=TrialKind.PRACTICE,
        state=TrialState.MEASURED,
        handling={"pull": "half"},
        place=None,
        x_mm=12.5,
        y_mm=-40.0,
        zone="blaze",
        value=8.0,
        amount=None,
        misfire=None,
        distance_mm=2000,
        panel="trail",
        logged_at=AT,
        received_at=AT,
    )


def _same(one: Trial, other: Trial) -> bool:
    """Tell whether two trials are the same, in whatever order they name their revisions."""
    first, second = (replace(each, revision_ids=()) for each in (one, other))
    return first == second and set(one.revision_ids) == set(other.revision_ids)


def test_a_trial_comes_back_with_all_its_revisions(store: Store, classroom: Classroom) -> None:
    """What is read is what was added: numbers, moments, handling, and each part's revision."""
    trial = _trial(classroom)
    with store.open_session(writing=True) as session:
        kept = trials.add_once(session, trial, {"x_mm": 12.5})
    with store.open_session(writing=False) as session:
        found = trials.get_trial(session, trial.id)

    assert (True, True) == (kept.added, kept.same_content)
    assert len(classroom.revisions_for(0, 0)) == 2
    assert _same(trial, found)


def test_a_second_insert_tells_same_from_other_content(store: Store, classroom: Classroom) -> None:
    """The id is there already: nothing is added, and the content first sent decides."""
    trial = _trial(classroom)
    told = []
    for sent in ({"value": 8}, {"value": 8}, {"value": 4}):
        with store.open_session(writing=True) as session:
            kept = trials.add_once(session, trial, sent)
        told.append((kept.added, kept.same_content))

    assert [(True, True), (False, True), (False, False)] == told


def test_many_senders_of_one_id_leave_one_trial(store: Store, classroom: Classroom) -> None:
    """Eight threads add the same trial at the same moment: one adds it, its revisions are whole."""
    trial, start = _trial(classroom), threading.Barrier(8)

    def add(_: int) -> bool:
        start.wait()
        with store.open_session(writing=True) as session:
            return trials.add_once(session, trial, {"value": 8}).added

    with ThreadPoolExecutor(8) as pool:
        added = list(pool.map(add, range(8)))
    with store.open_session(writing=False) as session:
        found = trials.get_trial(session, trial.id)

    assert 1 == added.count(True)
    assert _same(trial, found)


def test_a_work_that_fails_leaves_nothing(store: Store, classroom: Classroom) -> None:
    """Raising rolls back: no trial and no revision of it stays behind."""
    trial = _trial(classroom)

    def add_and_fail() -> None:
        with store.open_session(writing=True) as session:
            trials.add_once(session, trial, {})
            raise RuntimeError

    with pytest.raises(RuntimeError):
        add_and_fail()
    with store.open_session(writing=False) as session:
        with pytest.raises(NotFound):
            trials.get_trial(session, trial.id)
        assert frozenset() == trials.revisions_with_trials(session, trial.revision_ids)


def test_a_correction_keeps_the_old_value(store: Store, classroom: Classroom) -> None:
    """The trial reads as corrected; the line beside it says what it was."""
    trial = _trial(classroom)
    line = Correction(
        trial_id=trial.id,
        field="value",
        old="8",
        new="4",
        reason="read wrongly",
        corrected_at=AT,
        teacher_id=classroom.teacher_id,
    )
    with store.open_session(writing=True) as session:
        trials.add_once(session, trial, {})
        trials.correct_trial(session, trial, replace(trial, value=4.0), [line])
    with store.open_session(writing=False) as session:
        found = trials.get_trial(session, trial.id)
        lines = trials.corrections_of_trials(session, [trial.id])

    assert _same(replace(trial, value=4.0), found)
    assert (line,) == lines


def test_the_last_trial_is_the_last_received(store: Store, classroom: Classroom) -> None:
    """Order goes by receipt, whatever the order of the inserts."""
    early = replace(_trial(classroom), received_at=AT.replace(minute=1))
    late = replace(_trial(classroom), received_at=AT.replace(minute=2))
    with store.open_session(writing=True) as session:
        assert trials.find_last_trial(session, classroom.group_ids[0]) is None
        for trial in (late, early):
            trials.add_once(session, trial, {})
    with store.open_session(writing=False) as session:
        last = trials.find_last_trial(session, classroom.group_ids[0])
        found = trials.trials_of_groups(session, classroom.group_ids, [classroom.session_id])

    assert last is not None
    assert late.id == last.id
    assert [early.id, late.id] == [trial.id for trial in found]


@pytest.mark.parametrize(
    ("entry", "kept"),
    [
        (
            TrialEntry(
                revision_ids=(UUID(int=7), UUID(int=3)),
                kind=TrialKind.COUNTED,
                logged_at=datetime(2026, 3, 2, 9, 30, 15, 250000, timezone(timedelta(hours=1))),
                sent_at=datetime(2026, 3, 2, 9, 31, tzinfo=UTC),
                student_id=UUID(int=11),
                handling={"tilt": "mark 3", "pull": "full"},
                place=Place.PANEL,
                x_mm=12.5,
                y_mm=-40.0,
                amount=4.0,
            ),
            "67bb8034b674ffddb2896a43ff9a7f54dccf7348982ef78ecedeea5c0f517b5d",
        ),
        (
            TrialEntry(
                revision_ids=(UUID(int=1),),
                kind=TrialKind.PRACTICE,
                logged_at=datetime(2026, 3, 2, 9, 30, tzinfo=UTC),
                student_id=UUID(int=11),
                misfire="stuck",
            ),
            "2a41241ee8b27ca775c6ebf8727bd67328f1b0297b2905141b0ae689ee9cf1a9",
        ),
    ],
)
def test_hash_of_an_entry_stays_what_it_was(entry: TrialEntry, kept: str) -> None:
    """A tablet may send again after the server was renewed: these hashes are in tables already."""
    assert kept == trials.content_hash(describe_content(entry))
