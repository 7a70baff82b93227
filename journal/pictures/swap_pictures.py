"""A swap test drawn pair by pair."""

from __future__ import annotations

from uuid import UUID

from journal.charts.strip_marks import StripTick
from journal.charts.swaps import PairMark, draw_swap, swap_table
from journal.content.messages import word_message
from journal.domain.challenges import OutcomeKind
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.swap_tests import SwapKind, SwapTest
from journal.findings.swap_names import name_swap
from journal.findings.swap_pairs import pairs_of
from journal.findings.trial_records import label_revision
from journal.pictures.drawings import Drawing
from journal.pictures.group_pictures import rows_of

PICTURE_PX = 640


def draw_swap_test(
    record: GroupRecord, swap_test: SwapTest, *, width_px: float, ids: str, text_px: float = 18
) -> Drawing | None:
    """Draw the whole pairs of a swap test; None before the first one."""
    pairs = pairs_of(record, swap_test)
    if not pairs:
        return None
    challenge = record.context.challenge
    ticks: tuple[StripTick, ...] = ()
    if challenge.outcome.kind is OutcomeKind.ZONES:
        ticks = tuple(StripTick(value=row.value, name=row.name) for row in rows_of(record).rows)
    names = ("own", "exchanged")
    if swap_test.kind is SwapKind.REVISIONS:
        names = (name_device(record, pairs[0].old_id), name_device(record, pairs[0].new_id))
    marks = [
        PairMark(
            student=record.group.name_of(pair.student_id),
            old=pair.old.value,
            new=pair.new.value,
            old_first=pair.old_first,
        )
        for pair in pairs
    ]
    unit, swapped = challenge.outcome.unit, name_swap(record, swap_test)
    svg = draw_swap(
        marks,
        names=names,
        ticks=ticks,
        unit=unit,
        width_px=width_px,
        height_px=text_px * 9.5,
        text_px=text_px,
        ids=ids,
        title=word_message(Message("swap_pictures.swap_test_of", swapped=swapped), record.language),
    )
    table = swap_table(marks, names=names, unit=unit, caption=f"Pairs of {swapped}")
    return Drawing(svg=svg, table=table)


def name_device(record: GroupRecord, revision_id: UUID) -> str:
    """Return the name of a revision with its part; "" for one that the group never used."""
    found = record.find_revision(revision_id)
    return "" if found is None else label_revision(*found)
