"""What a group's trials say: beside parent and best, place of hits, use, amount, fairness."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from journal.analysis.fair_test import CanTell
from journal.analysis.technique import ShareReason
from journal.domain.classes import GradeBand
from journal.domain.revisions import Change
from journal.domain.trials import Place
from journal.services.findings import GroupFindings, find_for_group
from journal.services.records import GroupRecord
from journal.services.voices import TEACHER_BAND
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, record_with, told_values

#: Points of one revision, of a clearly higher one, and of one between them.
LOW, HIGH, MIDDLE = (
    [1.0, 1, 2, 1, 2, 1, 2, 1],
    [8.0, 8, 4, 8, 8, 4, 8, 8],
    [2.0, 4, 2, 4, 2, 2, 4, 2],
)


def in_band(
    record: GroupRecord, band: GradeBand, measures: tuple[tuple[str, bool], ...] = ()
) -> GroupRecord:
    """Return the record of a class of another band, with measures opened or closed."""
    school_class = replace(record.bench.school_class, band=band, measures=measures)
    return replace(record, bench=replace(record.bench, school_class=school_class))


def last(findings: GroupFindings) -> tuple[str, ...]:
    """Return the sentences of the newest revision of the main part."""
    return findings.of_part(findings.revisions[0].part_id)[-1].sentences


def test_the_best_so_far_is_compared_where_it_is_not_the_parent(
    store: Store, classroom: Classroom
) -> None:
    """Revision 4 stands beside its parent 3, and beside 2, which did best."""
    told = [
        *told_values(LOW, 1),
        *told_values(HIGH, 2),
        *told_values(LOW, 3),
        *told_values(MIDDLE, 4),
    ]
    found = find_for_group(record_with(store, classroom, told)).revisions
    assert found[1].best_comparison is None
    newest = found[3]
    assert newest.comparison is not None
    assert newest.best_comparison is not None
    assert ("Launcher 3", "Launcher 2") == (newest.comparison.old, newest.best_comparison.old)
    assert newest.beside_best[0].startswith("Launcher 4 scored less than Launcher 2.")


def test_pairs_are_told_in_ten(store: Store, classroom: Classroom) -> None:
    """Every pair of these is won by the new one: 10 of 10; nothing is said before a test."""
    told = [*told_values(LOW, 1), *told_values(HIGH, 2)]
    beside = find_for_group(record_with(store, classroom, told)).revisions[1].beside
    assert "In about 10 of 10 pairs, the new one does better." in beside
    few = [*told_values(LOW[:2], 1), *told_values(HIGH[:2], 2)]
    beside = find_for_group(record_with(store, classroom, few)).revisions[1].beside
    assert ("It is too early to tell: there are only a few trials.",) == beside


def test_a_band_decides_and_a_teacher_opens(store: Store, classroom: Classroom) -> None:
    """No mean below grade 6 (6.SP) unless the teacher opens it; a closed one is not told."""
    record = record_with(store, classroom, told_values([1, 2, 4, 8, 8, 4]))
    younger = in_band(record, GradeBand.THREE_TO_FIVE)
    assert not any("Mean" in one for one in last(find_for_group(younger)))
    opened = in_band(record, GradeBand.THREE_TO_FIVE, (("show_mean", True),))
    assert "Mean 4.5 points, n = 6." in last(find_for_group(opened))
    older = in_band(record, GradeBand.SIX_TO_EIGHT)
    assert "Mean 4.5, median 4 points, n = 6." in last(find_for_group(older))
    closed = in_band(record, GradeBand.SIX_TO_EIGHT, (("show_mean", False), ("show_range", False)))
    sentences = last(find_for_group(closed))
    assert "Median 4 points, n = 6." in sentences
    assert not any("Range" in one or "Mean" in one for one in sentences)


def test_the_chance_is_told_only_where_it_was_opened(store: Store, classroom: Classroom) -> None:
    """A p-value is for the teacher to open; then it is a count of 1000."""
    told = [*told_values(LOW[:4], 1), *told_values([8.0, 8, 8, 8], 2)]
    record = record_with(store, classroom, told)
    assert not any("chance" in one for one in find_for_group(record).revisions[1].beside)
    opened = in_band(record, GradeBand.SIX_TO_EIGHT, (("show_p_value", True),))
    # 2 of the 70 ways to deal 4 and 4 are as far out: 0.0286, counted by hand.
    told_by = find_for_group(opened).revisions[1].beside
    assert "By chance alone such a gap comes 29 times in 1000." in told_by


def test_a_striking_value_is_shown_with_and_without(store: Store, classroom: Classroom) -> None:
    """Quartiles 2 and 2.5: 8 lies beyond 1.5 quartile ranges; worked out by hand."""
    record = record_with(store, classroom, told_values([2, 2, 2, 3, 2, 8, 2]))
    sentences = last(find_for_group(in_band(record, GradeBand.SIX_TO_EIGHT)))
    assert "8 points is a striking value: it stays, shown with and without." in sentences
    assert "Without it: mean 2.17, median 2." in sentences
    assert "Mean 3, median 2 points, n = 7." in sentences
    younger = last(find_for_group(in_band(record, GradeBand.TWO)))
    assert "One dot is far from the rest." in younger


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
    fitted = find_for_group(record, at_length=True).hits.by_revision[0].spread.fitted
    assert fitted is not None
    assert fitted.scores_only == 6


def _crossed(*, exchanged: bool) -> list[Told]:
    draw = random.Random(7)
    return [
        Told(
            value=float(draw.choice([0, 1, 2, 4, 8])),
            revision=revision,
            student=student,
            own_part=(student + turn) % 3 if exchanged else None,
        )
        for revision in (1, 2, 3)
        for student in range(3)
        for turn in range(4)
    ]


def test_an_own_part_bound_to_its_child_is_said_and_an_exchange_offered(
    store: Store, classroom: Classroom
) -> None:
    """Until parts change hands, dart and handling are one and the same in the data."""
    bound = find_for_group(record_with(store, classroom, _crossed(exchanged=False))).use
    assert bound.offers_exchange
    assert any("cannot be told apart until they are exchanged" in one for one in bound.sentences)
    assert "Use and own part together" in [line.name for line in bound.lines]
    told_apart = find_for_group(record_with(store, classroom, _crossed(exchanged=True))).use
    assert not told_apart.offers_exchange
    assert {"Own part", "Use (who used it)"} <= {line.name for line in told_apart.lines}
    assert 100 == pytest.approx(sum(line.in_100 for line in told_apart.lines), abs=3)


def test_intervals_of_shares_come_on_demand(store: Store, classroom: Classroom) -> None:
    """They hold their share, and the same trials give the same ones."""
    record = record_with(store, classroom, _crossed(exchanged=False))
    assert all(line.interval_in_100 is None for line in find_for_group(record).use.lines)
    lines = find_for_group(record, at_length=True).use.lines
    assert lines == find_for_group(record, at_length=True).use.lines
    for line in lines:
        assert line.interval_in_100 is not None
        assert line.interval_in_100[0] <= line.in_100 <= line.interval_in_100[1]


@pytest.mark.parametrize(
    ("told", "reason"),
    [
        ([], ShareReason.TOO_FEW_TRIALS),
        ([*told_values(LOW, 1), *told_values(HIGH, 2)], ShareReason.ONE_STUDENT),
        (told_values(LOW, 1, students=3), ShareReason.ONE_REVISION),
        ([replace(one, student=None) for one in told_values(LOW)], ShareReason.NO_STUDENT_KNOWN),
        (
            [*told_values([4.0] * 6, 1, students=2), *told_values([4.0] * 6, 2, students=2)],
            ShareReason.ALL_EQUAL,
        ),
    ],
)
def test_what_cannot_be_separated_says_why(
    store: Store, classroom: Classroom, told: list[Told], reason: ShareReason
) -> None:
    """No share is shown, and the first sentence holds the reason."""
    use = find_for_group(record_with(store, classroom, told)).use
    assert reason is use.shares.reason
    assert () == use.lines
    assert use.sentences[0].startswith(("Cannot say, because", "Cannot separate"))


def test_the_table_of_students_and_revisions_has_means_and_counts(
    store: Store, classroom: Classroom
) -> None:
    """Who did not try a revision has a dash there."""
    told = [*told_values([1, 2, 3, 4], 1, students=2), *told_values([8.0], 2)]
    table = find_for_group(record_with(store, classroom, told)).use.table
    assert ("Student", "Launcher 1", "Launcher 2") == table.header
    assert (("Ada", "2.0 (2)", "8.0 (1)"), ("Ben", "3.0 (2)", "–")) == table.rows


def _amounts(revision: int, amounts: list[float]) -> list[Told]:
    return [Told(value=20 - 2 * one, amount=one, revision=revision) for one in amounts]


def test_an_amount_is_looked_at_within_one_revision(store: Store, classroom: Classroom) -> None:
    """So that the device stays the same; the falling line is the one put in."""
    told = [*_amounts(1, [1, 2]), *_amounts(2, [1, 2, 3, 4, 5, 6, 7])]
    amount = find_for_group(
        in_band(record_with(store, classroom, told), GradeBand.SIX_TO_EIGHT)
    ).amount
    assert amount is not None
    assert 7 == amount.found.n
    assert -2.0 == amount.found.slope
    assert "Launcher 2" in amount.among
    assert "With more paint, the results go down: 7 trials." == amount.sentences[0]


@pytest.mark.parametrize(
    ("amounts", "expected"),
    [
        ([1, 2, 3], "We cannot say yet: 3 trials with paint, needed 7."),
        ([1, 2, 1, 2, 1, 2, 1, 2], "We cannot say yet: 2 amounts of paint, needed 5."),
    ],
)
def test_few_amounts_are_refused_with_the_reason(
    store: Store, classroom: Classroom, amounts: list[float], expected: str
) -> None:
    """Seven trials and five amounts at least."""
    record = in_band(record_with(store, classroom, _amounts(1, amounts)), GradeBand.SIX_TO_EIGHT)
    amount = find_for_group(record).amount
    assert amount is not None
    assert (expected,) == amount.sentences


def test_amounts_of_several_revisions_are_said_to_be(store: Store, classroom: Classroom) -> None:
    """Only where no revision alone has enough."""
    told = [*_amounts(1, [1, 2, 3, 4]), *_amounts(2, [5, 6, 7, 8])]
    amount = find_for_group(record_with(store, classroom, told)).amount
    assert amount is not None
    assert "Over all revisions, so the device changed as well." == amount.among


def test_one_change_and_nothing_else_can_tell_why(store: Store, classroom: Classroom) -> None:
    """What changed on purpose is named; what else differed is said; then how far it reaches."""
    told = [*told_values(LOW, 1), *told_values(HIGH, 2)]
    fair = find_for_group(record_with(store, classroom, told)).revisions[1].fairness
    assert fair is not None
    assert CanTell.WHY is fair.fair.can_tell
    assert (
        "What changed: rail length.",
        "Just one thing changed, and all else stayed. That is fair.",
    ) == fair.sentences


def test_two_changes_or_another_session_tell_if_not_why(store: Store, classroom: Classroom) -> None:
    """A bundle is welcome; it leaves open which of them did it."""
    later = [replace(one, session=1) for one in told_values(HIGH, 2)]
    fair = find_for_group(record_with(store, classroom, [*told_values(LOW, 1), *later]))
    assert fair.revisions[1].fairness is not None
    assert (
        "What changed: rail length.",
        "They were tested in two sessions.",
        "We can tell if it helped, not why.",
    ) == fair.revisions[1].fairness.sentences
    both = (
        Change(factor="rail_length", from_value="200", to_value="300"),
        Change(factor="bands", from_value="1", to_value="2"),
    )
    told = [*told_values(LOW, 1), *told_values(HIGH, 2)]
    bundle = find_for_group(record_with(store, classroom, told, changes=both)).revisions[1]
    assert bundle.fairness is not None
    assert "We can tell if it helped, not why." == bundle.fairness.sentences[-1]


def test_practice_within_a_revision_is_told_to_the_teacher(
    store: Store, classroom: Classroom
) -> None:
    """Four rising values a student, two students: 2 of 576 orders reach it, p = 0.003."""
    told = told_values([1, 1, 2, 2, 4, 4, 8, 8], students=2)
    practice = find_for_group(record_with(store, classroom, told)).practice
    assert pytest.approx(2 / 576) == practice.practice.p_value
    assert practice.sentence.endswith("Practice is at work.")
    level = find_for_group(record_with(store, classroom, told_values([1, 8, 2, 4]))).practice
    assert "does not rule practice out" in level.sentence
    none = find_for_group(record_with(store, classroom, told_values([1]))).practice
    assert none.sentence.startswith("No trend can be looked for yet")
