"""A mark of each group's trials, from which a reader sees whether any of them changed.

A trial is inserted once, and whatever changes it later adds a line to `corrections`: a strike, a
void, a value put right. So the ids of both say all. They are ids that nobody can guess, each with
the moment at which it came in: no other history of the same database, such as one that went on from
a copy, has the same mark for other trials.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Session

from journal.store.trials import CorrectionRow, TrialRow


def mark_trials_of_groups(
    session: Session, school_id: UUID, group_ids: Collection[UUID], session_ids: Collection[UUID]
) -> dict[UUID, str]:
    """Return the mark of each group's trials in some sessions, in two queries."""
    came = session.execute(
        sa.select(
            TrialRow.group_id,
            sa.func.aggregate_strings(
                sa.cast(TrialRow.received_at, sa.String) + sa.cast(TrialRow.id, sa.String), ","
            ),
        )
        .where(
            TrialRow.group_id.in_(group_ids),
            TrialRow.session_id.in_(session_ids),
        )
        .group_by(TrialRow.group_id)
    )
    # Asked for each correction: the other way round each trial would be looked up among them.
    corrected_group = (
        sa.select(TrialRow.group_id).where(TrialRow.id == CorrectionRow.trial_id).scalar_subquery()
    )
    corrected = session.execute(
        sa.select(
            corrected_group.label("group_id"),
            sa.func.aggregate_strings(sa.cast(CorrectionRow.id, sa.String), ","),
        )
        .where(CorrectionRow.school_id == school_id)
        .group_by(sa.literal_column("group_id"))
    )
    marks = {group_id: hashlib.sha256() for group_id in group_ids}
    for rows in (came, corrected):
        for group_id, ids in rows:
            if group_id in marks:
                # In whatever order the database read them: another order reads the group once more.
                marks[group_id].update(ids.encode() + b";")
    return {group_id: mark.hexdigest() for group_id, mark in marks.items()}
