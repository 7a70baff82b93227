"""Swap tests: the plan, and which trial took which turn."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.swap_tests import SwapKind, SwapTest, SwapTurn
from journal.domain.trials import TrialState
from journal.store.tables import Row, choice
from journal.store.trials import TrialRow


class SwapTestRow(Row):
    """A plan of turns; it is never changed, only ended."""

    __tablename__ = "swap_tests"
    __table_args__ = (
        sa.CheckConstraint(
            "(kind != 'revisions') OR "
            "(old_revision_id IS NOT NULL AND new_revision_id IS NOT NULL)",
            "revisions_are_two",
        ),
    )

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    kind: Mapped[SwapKind] = mapped_column(choice(SwapKind, "kind"))
    old_revision_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("revisions.id"))
    new_revision_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("revisions.id"))
    #: In order: pair, student, revision.
    turns: Mapped[list[Any]] = mapped_column()
    started_at: Mapped[datetime] = mapped_column()
    ended_at: Mapped[datetime | None] = mapped_column()


# One open swap test a group and challenge, whoever taps first.
sa.Index(
    "uq_swap_tests_open",
    SwapTestRow.school_id,
    SwapTestRow.group_id,
    SwapTestRow.challenge_id,
    unique=True,
    sqlite_where=SwapTestRow.ended_at.is_(None),
    postgresql_where=SwapTestRow.ended_at.is_(None),
)
sa.Index(None, SwapTestRow.group_id, SwapTestRow.challenge_id)


class SwapTrialRow(Row):
    """A trial that took a turn; a turn freed by a struck trial is taken by another one."""

    __tablename__ = "swap_trials"
    __table_args__ = (sa.UniqueConstraint("school_id", "trial_id"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    swap_test_id: Mapped[UUID] = mapped_column(sa.ForeignKey("swap_tests.id"), index=True)
    position: Mapped[int] = mapped_column()
    trial_id: Mapped[UUID] = mapped_column(sa.ForeignKey("trials.id"))


def add_swap_test(session: Session, swap_test: SwapTest) -> None:
    """Keep a plan."""
    session.add(
        SwapTestRow(
            id=swap_test.id,
            school_id=swap_test.school_id,
            group_id=swap_test.group_id,
            challenge_id=swap_test.challenge_id,
            kind=swap_test.kind,
            old_revision_id=swap_test.old_revision_id,
            new_revision_id=swap_test.new_revision_id,
            turns=[
                [turn.pair, str(turn.student_id), str(turn.revision_id)] for turn in swap_test.turns
            ],
            started_at=swap_test.started_at,
            ended_at=swap_test.ended_at,
        )
    )
    session.flush()


def add_swap_trial(session: Session, swap_test: SwapTest, turn: SwapTurn, trial_id: UUID) -> None:
    """Note that a trial took a turn."""
    session.execute(
        sa.insert(SwapTrialRow).values(
            school_id=swap_test.school_id,
            swap_test_id=swap_test.id,
            position=turn.position,
            trial_id=trial_id,
        )
    )


def end_swap_test(session: Session, swap_test_id: UUID, at: datetime) -> None:
    """End a swap test; one that has ended stays as it is."""
    session.execute(
        sa.update(SwapTestRow)
        .where(SwapTestRow.id == swap_test_id, SwapTestRow.ended_at.is_(None))
        .values(ended_at=at)
    )


def get_swap_test(session: Session, swap_test_id: UUID) -> SwapTest:
    """Return the swap test; raise NotFound."""
    found = _select(session, SwapTestRow.id == swap_test_id)
    if not found:
        message = Message("swap_tests.no_such_swap_test")
        raise NotFound(message)
    return found[0]


def find_open_swap_test(session: Session, group_id: UUID, challenge_id: UUID) -> SwapTest | None:
    """Return the swap test that the group is in now; None where there is none."""
    found = _select(
        session,
        SwapTestRow.group_id == group_id,
        SwapTestRow.challenge_id == challenge_id,
        SwapTestRow.ended_at.is_(None),
    )
    return found[0] if found else None


def swap_tests_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[SwapTest, ...]:
    """Return the swap tests of some groups, oldest first, in one query."""
    return _select(
        session,
        SwapTestRow.group_id.in_(list(group_ids)),
        SwapTestRow.challenge_id == challenge_id,
    )


def _select(session: Session, *conditions: sa.ColumnElement[bool]) -> tuple[SwapTest, ...]:
    counts = TrialRow.state.in_([state for state in TrialState if state.is_usable])
    found = session.execute(
        sa.select(SwapTestRow, SwapTrialRow.position, TrialRow.id)
        .outerjoin(SwapTrialRow, SwapTrialRow.swap_test_id == SwapTestRow.id)
        .outerjoin(TrialRow, sa.and_(TrialRow.id == SwapTrialRow.trial_id, counts))
        .where(*conditions)
        .order_by(SwapTestRow.started_at, SwapTestRow.id, TrialRow.received_at)
        .execution_options(populate_existing=True)
    )
    rows: dict[UUID, SwapTestRow] = {}
    taken: dict[UUID, dict[int, UUID]] = {}
    for row, position, trial_id in found:
        rows[row.id] = row
        own = taken.setdefault(row.id, {})
        if trial_id is not None:
            # Where two tablets took one turn at once, the first one has it.
            own.setdefault(position, trial_id)
    return tuple(_swap_test(row, taken[row.id]) for row in rows.values())


def _swap_test(row: SwapTestRow, taken: dict[int, UUID]) -> SwapTest:
    return SwapTest(
        id=row.id,
        school_id=row.school_id,
        group_id=row.group_id,
        challenge_id=row.challenge_id,
        kind=row.kind,
        old_revision_id=row.old_revision_id,
        new_revision_id=row.new_revision_id,
        turns=tuple(
            SwapTurn(
                position=position,
                pair=pair,
                student_id=UUID(student_id),
                revision_id=UUID(revision_id),
            )
            for position, (pair, student_id, revision_id) in enumerate(row.turns, start=1)
        ),
        started_at=row.started_at,
        ended_at=row.ended_at,
        taken=taken,
    )
