"""One record a trial."""

import math

import pytest

from journal.analysis.records import TrialRecord, by_revision, by_student, hits_of, in_order
from tests.analysis.trial_records import trials


@pytest.mark.parametrize(
    ("value", "misfire", "measured"),
    [
        (3.0, None, 3.0),
        (0.0, None, 0.0),
        (3.0, "slipped", None),
        (None, None, None),
        (math.nan, None, None),
        (-math.inf, None, None),
        (1e300, None, None),
        (1e-300, None, 0.0),
    ],
)
def test_value_that_counts(
    value: float | None, misfire: str | None, measured: float | None
) -> None:
    """A misfire has none, and neither has what nobody can measure."""
    record = TrialRecord(order=1, revision="A", value=value, misfire=misfire)
    assert measured == record.measured


def test_hits_need_both_coordinates_and_no_misfire() -> None:
    """Half a position is none."""
    records = [
        TrialRecord(order=1, revision="A", x_mm=1.0, y_mm=2.0),
        TrialRecord(order=2, revision="A", x_mm=1.0),
        TrialRecord(order=3, revision="A", x_mm=1.0, y_mm=math.nan),
        TrialRecord(order=4, revision="A", x_mm=1.0, y_mm=2.0, misfire="slipped"),
    ]
    assert [(1.0, 2.0)] == hits_of(records)


def test_records_are_sorted_out_in_order_of_appearance() -> None:
    """Revisions and students keep the order in which they first came."""
    records = [*trials("B", [1.0], student="2"), *trials("A", [2.0], student="1", start=0)]
    assert ["B", "A"] == list(by_revision(records))
    assert ["2", "1"] == list(by_student(records))
    assert ["A", "B"] == [record.revision for record in in_order(records)]
