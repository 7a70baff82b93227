"""What a group's trials say: beside parent and best, place of hits, use, amount, fairness."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.analysis.fairness import CanTell
from journal.domain.classes import GradeBand
from journal.domain.outcomes import LESS_IS_BETTER, near_is_better
from journal.domain.revisions import Change
from journal.findings.group_findings import GroupFindings, find_for_group
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with, told_values

#: Points of one revision, of a clearly higher one, and of one between them.
LOW, HIGH, MIDDLE = (
    [1.0, 1, 2, 1, 2, 1, 2, 1],
    [8.0, 8, 4, 8, 8, 4, 8, 8],
    [2.0, 4, 2, 4, 2, 2, 4, 2],
)


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
    assert newest.beside_best[0].startswith("Launcher 4 did worse than Launcher 2.")


def test_pairs_are_told_in_ten(store: Store, classroom: Classroom) -> None:
    """Every pair of these is won by the new one; nothing is said before a test."""
    told = [*told_values(LOW, 1), *told_values(HIGH, 2)]
    beside = find_for_group(record_with(store, classroom, told)).revisions[1].beside
    assert "In every pair, the new one does better." in beside
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
    assert not any("Range" in sentence or "Mean" in sentence for sentence in sentences)


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


def test_one_change_and_nothing_else_can_tell_why(store: Store, classroom: Classroom) -> None:
    """What changed on purpose is named; what else differed is said; then how far it reaches."""
    told = [*told_values(LOW, 1), *told_values(HIGH, 2)]
    fair = find_for_group(record_with(store, classroom, told)).revisions[1].fairness
    assert fair is not None
    assert CanTell.WHY is fair.fair.can_tell
    assert (
        "What changed: rail length.",
        "First came all of one, then all of the other.",
        "Just one thing changed. That is fair.",
    ) == fair.sentences


def test_turns_leave_no_order_to_mention(store: Store, classroom: Classroom) -> None:
    """A B B A by two students: practice is the same for both."""
    order = [(1, 0), (2, 1), (2, 0), (1, 1), (2, 0), (1, 1), (1, 0), (2, 1)]
    told = [
        Told(value=float(4 * revision - student), revision=revision, student=student)
        for revision, student in order * 2
    ]
    fair = find_for_group(record_with(store, classroom, told)).revisions[1].fairness
    assert fair is not None
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
        "First came all of one, then all of the other.",
        "Such a test can tell if it helped, not why.",
    ) == fair.revisions[1].fairness.sentences
    both = (
        Change(factor="rail_length", from_value="200", to_value="300"),
        Change(factor="bands", from_value="1", to_value="2"),
    )
    told = [*told_values(LOW, 1), *told_values(HIGH, 2)]
    bundle = find_for_group(record_with(store, classroom, told, changes=both)).revisions[1]
    assert bundle.fairness is not None
    assert "Such a test can tell if it helped, not why." == bundle.fairness.sentences[-1]


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


def test_rising_results_are_practice_only_where_more_is_better(
    store: Store, classroom: Classroom
) -> None:
    """The same rise is what tired hands do where less is better; near a value it is open."""
    record = record_with(store, classroom, told_values([1, 1, 2, 2, 4, 4, 8, 8], students=2))
    challenge = record.context.challenge
    for direction, end in (
        (LESS_IS_BETTER, "Hands may be tired, or a part wears."),
        (near_is_better(4), "Practice may be at work, or tired hands, or a part wears."),
    ):
        outcome = replace(challenge.outcome, direction=direction)
        context = replace(record.context, challenge=replace(challenge, outcome=outcome))
        assert find_for_group(replace(record, context=context)).practice.sentence.endswith(end)


def test_a_rise_of_nothing_is_not_told(store: Store, classroom: Classroom) -> None:
    """Where most steps are none the middle one is 0, and the rise is told without it."""
    told = told_values([1.0] * 13 + [2.0] * 3)
    sentence = find_for_group(record_with(store, classroom, told)).practice.sentence
    assert "by about" not in sentence
    assert "rose" in sentence


def test_paper_rests_on_every_trial(store: Store, classroom: Classroom) -> None:
    """Seven and seven: a screen judged them at six; printed, they are finished."""
    told = [*told_values([*LOW[:5], 1, 2], 1), *told_values([*HIGH[:5], 8, 4], 2)]
    record = in_band(record_with(store, classroom, told), GradeBand.SIX_TO_EIGHT)
    live = find_for_group(record).revisions[1]
    printed = find_for_group(record, finished=True).revisions[1]
    assert live.comparison is not None
    assert printed.comparison is not None
    assert (6, 7) == (live.comparison.new_n, printed.comparison.new_n)
    assert any("first 7 of Launcher 1, 6 of Launcher 2" in one for one in live.beside)
    assert not any("first" in one for one in printed.beside)
    assert any("n = 7 against 7" in one for one in printed.beside)


def test_results_that_come_in_runs_are_told_to_the_teacher(
    store: Store, classroom: Classroom
) -> None:
    """Three low, six high, three low: of 11 neighbours 2 differ, so (9 - 2) / 12 = .583 by hand.

    The bound for 12 is .577. Where results rise, neighbours are alike by that alone.
    """
    runs = told_values([1] * 3 + [8] * 6 + [1] * 3)
    practice = find_for_group(record_with(store, classroom, runs)).practice
    assert practice.autocorrelation is not None
    assert pytest.approx(7 / 12) == practice.autocorrelation.lag_one
    assert "alike, whoever had the turn (lag-one correlation 0.583, n = 12)" in practice.sentence
    rising = find_for_group(record_with(store, classroom, told_values([1] * 6 + [8] * 6))).practice
    assert "alike" not in rising.sentence
    mixed = find_for_group(record_with(store, classroom, told_values([1, 8, 2, 4] * 3))).practice
    assert "alike" not in mixed.sentence
