"""What a group reads of its findings: as much as its band, in sentences it can read."""

from __future__ import annotations

import pytest

from journal.domain.classes import GradeBand
from journal.findings.group_findings import find_for_group
from journal.screens.tablet.journal_findings import show_finding
from journal.store.engine import Store
from tests.content.test_reading_levels import HIGHEST_GRADE, grade_of
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with, told_values

ROWS = (
    [[1.0, 2, 1, 4], [8.0, 8, 4, 8]],
    [[4.0, 4], [2.0, 1]],
    [[2.0, 2, 2, 2, 8, 2], [2.0, 4, 2, 2, 4, 2]],
    [[1.0, 1, 2, 2, 4, 1, 2, 1], [4.0, 8, 8, 8, 4, 8, 8, 8], [1.0, 2, 1, 2, 1, 1, 2, 1]],
)


def _trials(rows: list[list[float]]) -> list[Told]:
    """Return hits gathering low, with a misfire at the end of each revision."""
    told = []
    for number, values in enumerate(rows, start=1):
        for place, one in enumerate(told_values(values, number, students=2)):
            told.append(
                Told(
                    value=one.value,
                    revision=number,
                    student=one.student,
                    x_mm=10.0 * (place % 3),
                    y_mm=-200.0 - 10 * (place % 2),
                    amount=float(1 + place % 6),
                )
            )
        told.append(Told(misfire="band_slipped", revision=number))
    return told


@pytest.mark.parametrize("band", list(GradeBand))
def test_a_groups_findings_are_read_easily(
    store: Store, classroom: Classroom, band: GradeBand
) -> None:
    """What stands in the journal, pooled over four groups, keeps to the band's reading grade."""
    sentences: list[str] = []
    for rows in ROWS:
        record = in_band(record_with(store, classroom, _trials(rows)), band)
        finding = show_finding(record, find_for_group(record))
        sentences += (*finding.sentences, *finding.more)
    assert grade_of(sentences) <= HIGHEST_GRADE[band]


@pytest.mark.parametrize(
    ("band", "expected"),
    [(GradeBand.TWO, 0), (GradeBand.THREE_TO_FIVE, 0), (GradeBand.SIX_TO_EIGHT, 2)],
)
def test_boxes_and_lines_come_with_the_band(
    store: Store, classroom: Classroom, band: GradeBand, expected: int
) -> None:
    """Box plots from grade 6, scatter plots with grade 8 (6.SP.B.4, 8.SP.A.1)."""
    record = in_band(record_with(store, classroom, _trials(ROWS[3])), band)
    drawings = show_finding(record, find_for_group(record)).drawings
    assert expected == min(2, len(drawings))


def test_nothing_is_said_twice(store: Store, classroom: Classroom) -> None:
    """What stands first is not among the rest."""
    record = record_with(store, classroom, _trials(ROWS[3]))
    finding = show_finding(record, find_for_group(record))
    assert set() == set(finding.sentences) & set(finding.more)
    assert len(finding.more) == len(set(finding.more))


def test_before_the_first_trial_there_is_nothing_more(store: Store, classroom: Classroom) -> None:
    """An empty journal says so once."""
    record = record_with(store, classroom, [])
    finding = show_finding(record, find_for_group(record))
    assert ("No trials yet. The first ones will stand here.",) == finding.sentences
    assert ((), ()) == (finding.more, finding.drawings)
