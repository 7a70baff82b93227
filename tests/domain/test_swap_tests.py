"""Whose turn it is in a swap test, and when it is over."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from uuid import uuid4

import pytest

from journal.domain.swap_tests import SwapKind, SwapTest, SwapTurn
from journal.domain.trials import Trial, TrialKind, TrialState

NOW = datetime(2030, 3, 4, 9, tzinfo=UTC)
OLD, NEW, ADA, BEN = (uuid4() for _ in range(4))
TURNS = tuple(
    SwapTurn(position=position, pair=pair, student_id=student, revision_id=revision)
    for position, (pair, student, revision) in enumerate(
        [(1, ADA, OLD), (1, ADA, NEW), (1, BEN, NEW), (1, BEN, OLD)], start=1
    )
)
SWAP_TEST = SwapTest(
    id=uuid4(),
    school_id=uuid4(),
    group_id=uuid4(),
    challenge_id=uuid4(),
    kind=SwapKind.REVISIONS,
    old_revision_id=OLD,
    new_revision_id=NEW,
    turns=TURNS,
    started_at=NOW,
)
TRIAL = Trial(
    id=uuid4(),
    school_id=SWAP_TEST.school_id,
    group_id=SWAP_TEST.group_id,
    session_id=uuid4(),
    revision_ids=(OLD, uuid4()),
    student_id=ADA,
    scribe_id=None,
    kind=TrialKind.PRACTICE,
    state=TrialState.MEASURED,
    handling={},
    place=None,
    x_mm=None,
    y_mm=None,
    zone=None,
    value=4.0,
    amount=None,
    misfire=None,
    distance_mm=None,
    panel="",
    logged_at=NOW,
    received_at=NOW,
)


def test_the_first_turn_that_is_not_taken_is_next() -> None:
    """A turn that was freed comes again before those after it."""
    assert TURNS[0] == SWAP_TEST.next_turn
    assert TURNS[1] == replace(SWAP_TEST, taken={1: uuid4(), 3: uuid4()}).next_turn
    assert TURNS[2] == SWAP_TEST.next_turn_of(BEN)
    assert SWAP_TEST.next_turn_of(uuid4()) is None


@pytest.mark.parametrize(
    ("changes", "position"),
    [
        ({}, 1),
        ({"student_id": BEN, "revision_ids": (NEW,)}, 3),
        ({"student_id": BEN}, None),
        ({"revision_ids": (NEW,)}, None),
        ({"student_id": None}, None),
        ({"kind": TrialKind.COUNTED}, None),
    ],
)
def test_a_trial_takes_its_students_next_turn_or_none(
    changes: dict[str, object], position: int | None
) -> None:
    """Student, device and practice must all fit."""
    found = SWAP_TEST.find_turn_for(replace(TRIAL, **changes))  # type: ignore[arg-type]
    assert position == (found.position if found else None)


def test_it_is_over_when_all_turns_are_taken_or_it_was_ended() -> None:
    """Through and ended are two ways to be over."""
    through = replace(SWAP_TEST, taken={turn.position: uuid4() for turn in TURNS})
    ended = replace(SWAP_TEST, ended_at=NOW)
    assert [(False, False), (True, True), (False, True)] == [
        (one.is_through, one.is_over) for one in (SWAP_TEST, through, ended)
    ]
    assert (ADA, BEN) == SWAP_TEST.student_ids
