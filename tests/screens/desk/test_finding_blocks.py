"""The blocks of a group's page for the teacher: where it hits, in figures and words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.findings.group_findings import find_for_group
from journal.findings.voices import TEACHER_BAND
from journal.screens.desk.finding_blocks import HitsBlock, show_hits
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with

RING = ((10, 0), (0, 10), (-10, 0), (0, -10), (7, 7), (-7, -7))


def _show(store: Store, room: Classroom, told: list[Told]) -> HitsBlock:
    record = in_band(record_with(store, room, told), TEACHER_BAND)
    block = show_hits(record, find_for_group(record), record.main_part, with_intervals=False)
    assert block is not None
    return block


def _ring(x_mm: float, y_mm: float, student: int = 0) -> list[Told]:
    return [
        Told(value=2.0, student=student, x_mm=x_mm + dx, y_mm=y_mm + dy, zone="trunk")
        for dx, dy in RING
    ]


@pytest.mark.parametrize(
    ("place_mm", "expected"),
    [
        ((-200, -150), "250 (150 below, 200 left)"),
        ((200, 150), "250 (150 above, 200 right)"),
        ((-150, 200), "250 (200 above, 150 left)"),
        ((150, -200), "250 (200 below, 150 right)"),
    ],
)
def test_off_the_aim_point_is_told_by_its_side(
    store: Store, classroom: Classroom, place_mm: tuple[int, int], expected: str
) -> None:
    """Up and right count as more, as on the panel; both lengths belong to their side."""
    figures = _show(store, classroom, _ring(*place_mm)).figures
    assert "Off the aim point" == figures.header[2]
    assert [expected, expected] == [row[2] for row in figures.rows]
    assert ["Launcher 1", "Ada, Launcher 1"] == [row[0] for row in figures.rows]


def test_each_child_has_a_card_of_the_own_hits(store: Store, classroom: Classroom) -> None:
    """With the own name and mark; whoever has no trial has no card."""
    block = _show(store, classroom, [*_ring(0, 200), *_ring(200, 0, student=1)])
    assert ["Ada", "Ben"] == [card.name for card in block.cards]
    assert [1, 2] == [card.strokes for card in block.cards]
    assert ["A tight cluster, high.", "A tight cluster, right."] == [
        card.note.split(" Their")[0] for card in block.cards
    ]
    assert ("Hits with Launcher 1", ()) == (block.places.caption, block.fitted)


def test_a_hit_that_is_one_of_nobody_named(store: Store, classroom: Classroom) -> None:
    """Its row says so, and it has no card."""
    told = [replace(one, student=None) for one in _ring(0, 200)]
    block = _show(store, classroom, told)
    assert () == block.cards
    assert "Nobody named, Launcher 1" in [row[0] for row in block.figures.rows]
