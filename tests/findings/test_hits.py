"""Where a group hits, in words and figures."""

from __future__ import annotations

import pytest

from journal.domain.classes import GradeBand
from journal.domain.trials import Place
from journal.findings.group_findings import find_for_group
from journal.findings.voices import TEACHER_BAND
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with


def _cluster(x_mm: float, y_mm: float, student: int = 0, n: int = 6) -> list[Told]:
    """Return hits in a small ring about a place."""
    steps = [(10, 0), (0, 10), (-10, 0), (0, -10), (7, 7), (-7, -7)]
    return [
        Told(value=2.0, student=student, x_mm=x_mm + dx, y_mm=y_mm + dy, zone="trunk")
        for dx, dy in steps[:n]
    ]


@pytest.mark.parametrize(
    ("place", "band", "expected"),
    [
        ((-200, -210), GradeBand.TWO, "Your hits lie close, low and left."),
        ((-200, -210), GradeBand.THREE_TO_FIVE, "The hits make a tight cluster, low and left."),
        ((0, 200), GradeBand.SIX_TO_EIGHT, "A tight cluster, high."),
        ((0, 0), GradeBand.THREE_TO_FIVE, "The hits make a tight cluster, on no clear side."),
    ],
)
def test_where_it_hits_in_the_bands_words(
    store: Store, classroom: Classroom, place: tuple[float, float], band: GradeBand, expected: str
) -> None:
    """The side is named as seen from the aim point."""
    record = in_band(record_with(store, classroom, _cluster(*place)), band)
    assert expected == find_for_group(record).hits.by_revision[0].sentences[0]


def test_each_student_has_a_place(store: Store, classroom: Classroom) -> None:
    """With the newest tested revision, and figures only from grade 6 on."""
    told = [*_cluster(0, 200), *_cluster(200, 0, student=1), *_cluster(0, 0, student=2, n=3)]
    hits = find_for_group(in_band(record_with(store, classroom, told), TEACHER_BAND)).hits
    assert ["Ada", "Ben", "Cleo"] == [one.label for one in hits.by_student]
    assert [
        "A tight cluster, high.",
        "A tight cluster, right.",
        "Too few hits to say where they lie: n = 3.",
    ] == [one.sentences[0] for one in hits.by_student]
    # The ring's own radius is 10 mm for each hit: root of 600 / 10, over c4(11) = 0.9754.
    scatter = hits.by_student[0].exact
    assert scatter is not None
    assert pytest.approx((600 / 10) ** 0.5 / 0.9754, rel=0.01) == scatter.scatter_mm
    assert hits.by_student[0].figures[0] == "Their middle lies 200 mm from the aim point."
    younger = find_for_group(in_band(record_with(store, classroom, told), GradeBand.TWO)).hits
    assert () == younger.by_student[0].figures


def test_zones_without_a_place_are_said_to_be_so(store: Store, classroom: Classroom) -> None:
    """Points alone tell no side; what they add is fitted only when asked for."""
    told = [
        *(Told(value=value, zone="bark") for value in (4.0, 2, 1, 4, 8, 2)),
        Told(value=0.0, place=Place.WALL),
    ]
    record = record_with(store, classroom, told)
    found = find_for_group(record).hits.by_revision[0]
    assert "For 6 of them we know the zone, not the place." in found.sentences
    assert "No trial here tells where on the panel it hit." in found.sentences
    assert found.spread.fitted is None
    fitted = find_for_group(record, with_intervals=True).hits.by_revision[0].spread.fitted
    assert fitted is not None
    assert fitted.scores_only == 6
