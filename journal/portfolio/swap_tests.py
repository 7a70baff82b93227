"""Swap tests on paper: a record comes in, the pairs as a picture with what they say go out."""

from __future__ import annotations

from collections.abc import Collection

from journal.content.shown_times import show_day
from journal.domain.group_records import GroupRecord
from journal.domain.revisions import Revision
from journal.domain.swap_tests import SwapKind, SwapTest
from journal.findings.swap_names import name_swap
from journal.findings.swap_tests import judge_swap_test
from journal.pictures.swap_pictures import draw_swap_test
from journal.portfolio.pages import SwapPrint

#: Drawn for a column 122 mm wide; on paper 1 px of a drawing is then 0.2 mm.
_WIDTH_PX = 610


def list_swaps(
    record: GroupRecord, revision: Revision, shown: Collection[str]
) -> tuple[SwapPrint, ...]:
    """Return the swap tests that are over and in which this revision is the new one.

    `told` are the sentences that stand beside them already.
    """
    return tuple(
        _print(record, test, shown)
        for test in record.swap_tests
        if test.is_over and test.taken and test.new_revision_id == revision.id
    )


def list_exchanges(record: GroupRecord) -> tuple[SwapPrint, ...]:
    """Return the exchanges of own parts that are over."""
    return tuple(
        _print(record, test)
        for test in record.swap_tests
        if test.is_over and test.taken and test.kind is SwapKind.OWN_PARTS
    )


def _print(record: GroupRecord, swap_test: SwapTest, shown: Collection[str] = ()) -> SwapPrint:
    drawn = draw_swap_test(
        record, swap_test, width_px=_WIDTH_PX, ids=f"s{swap_test.id.hex[:8]}", text_px=14
    )
    return SwapPrint(
        heading=f"Swap test, {name_swap(record, swap_test)}",
        picture="" if drawn is None else drawn.svg,
        note=show_day(swap_test.started_at),
        sentences=tuple(
            sentence
            for sentence in judge_swap_test(record, swap_test).sentences
            if sentence not in shown
        ),
    )
