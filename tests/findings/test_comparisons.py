"""What is said of two revisions: better by the outcome, ties as ties, figures as what they are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.analysis.dominance import PairCounts
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, Direction, near_is_better
from journal.findings.comparisons import describe_chance, describe_figures, describe_pairs
from journal.findings.group_findings import find_for_group
from journal.findings.voices import teacher_voice
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with, told_values

LOW, HIGH = [1.0, 1, 2, 1, 2, 1, 2, 1], [8.0, 8, 4, 8, 8, 4, 8, 8]
BANDS = list(GradeBand)


def directed(record: GroupRecord, direction: Direction) -> GroupRecord:
    """Return the record with another direction of its outcome."""
    challenge = record.context.challenge
    outcome = replace(challenge.outcome, direction=direction)
    return replace(
        record, context=replace(record.context, challenge=replace(challenge, outcome=outcome))
    )


def beside(
    record: GroupRecord, band: GradeBand, direction: Direction = MORE_IS_BETTER
) -> tuple[str, ...]:
    """Return what a class of a band reads of the second revision beside the first."""
    found = find_for_group(in_band(directed(record, direction), band))
    return found.of_part(found.revisions[0].part_id)[1].beside


def both(old: list[float], new: list[float], students: int = 1) -> list[Told]:
    """Return trials of two revisions, one after the other."""
    return [*told_values(old, 1, students), *told_values(new, 2, students)]


@pytest.mark.parametrize("band", BANDS)
@pytest.mark.parametrize("count", [3, 4, 9])
def test_values_without_a_difference_are_the_same_so_far(
    store: Store, classroom: Classroom, band: GradeBand, count: int
) -> None:
    """4, 4, 4 beside 4, 4, 4 is no hint of a change, and neither is a longer row of them."""
    told = " ".join(beside(record_with(store, classroom, both([4.0] * count, [4.0] * count)), band))
    assert "The same so far." in told
    assert not {"hint", "leads", "pairs", "apart"} & set(told.replace(".", "").lower().split())


@pytest.mark.parametrize("band", BANDS)
@pytest.mark.parametrize(
    ("direction", "word"),
    [
        (MORE_IS_BETTER, "worse"),
        (LESS_IS_BETTER, "better"),
        (near_is_better(0), "better"),
        (near_is_better(8), "worse"),
    ],
)
def test_a_hint_has_the_direction_of_the_outcome(
    store: Store, classroom: Classroom, band: GradeBand, direction: Direction, word: str
) -> None:
    """8, 8, 8 falling to 0, 0, 0: a hint, and which way it goes."""
    record = record_with(store, classroom, both([8.0] * 3, [0.0] * 3))
    first = beside(record, band, direction)[0]
    assert "hint" in first
    assert word in first
    assert "Keep testing" in first


@pytest.mark.parametrize("band", BANDS)
@pytest.mark.parametrize(
    ("direction", "word"),
    [
        (MORE_IS_BETTER, "did better"),
        (LESS_IS_BETTER, "did worse"),
        (near_is_better(8), "did better"),
        (near_is_better(0), "did worse"),
    ],
)
def test_a_verdict_has_the_direction_of_the_outcome(
    store: Store, classroom: Classroom, band: GradeBand, direction: Direction, word: str
) -> None:
    """Higher points are better or worse as the challenge has it; "scored more" says neither."""
    told = beside(record_with(store, classroom, both(LOW, HIGH)), band, direction)
    assert f"Launcher 2 {word} than Launcher 1. Practice can explain it" in told[0]
    assert "scored" not in " ".join(told)


@pytest.mark.parametrize("band", BANDS)
def test_higher_is_not_nearer(store: Store, classroom: Classroom, band: GradeBand) -> None:
    """2 and 6 lie as far from 4: clearly higher, and neither better nor worse."""
    record = record_with(store, classroom, both([2.0] * 6, [6.0] * 6))
    told = beside(record, band, near_is_better(4))
    assert "Launcher 2 came higher than Launcher 1." in told[0]
    assert "nearer" in told[0]
    assert not {"better", "worse"} & set(" ".join(told).replace(".", "").split())


def test_nearer_is_told_as_nearness(store: Store, classroom: Classroom) -> None:
    """Wide about 50, then close to it: the means hardly move, the distances from 50 do."""
    wide, close = [10.0, 95.0, 20.0, 80.0, 5.0, 90.0], [48.0, 52.0, 49.0, 51.0, 50.5, 49.5]
    record = record_with(store, classroom, both(wide, close))
    told = beside(record, GradeBand.SIX_TO_EIGHT, near_is_better(50))
    assert told[0].startswith("Launcher 2 did better than Launcher 1.")
    # By hand: distances 40 45 30 30 45 40 and 2 2 1 1 .5 .5, means 38.333 and 1.1667.
    assert "Launcher 2 lies 37.2 points nearer to 50 on average. n = 6 against 6." == told[1]


@pytest.mark.parametrize("band", BANDS)
def test_what_is_open_is_not_called_alike(
    store: Store, classroom: Classroom, band: GradeBand
) -> None:
    """No clear difference is not equality."""
    mixed = [1.0, 8, 2, 4, 1, 8, 2, 4]
    told = " ".join(beside(record_with(store, classroom, both(mixed, mixed[::-1])), band))
    assert "These trials cannot tell them apart." in told
    assert "much the same" not in told
    assert "No clear difference" not in told


def test_the_difference_within_students_is_called_that(store: Store, classroom: Classroom) -> None:
    """Unequal turns: each student did 2 points better, and yet the mean fell.

    Student 1 (low) did 2 and 6 trials, student 2 (high) 6 and 2. By hand: means 5.5 and 4.5.
    """
    told = [
        *(Told(value=1.0, revision=1, student=0) for _ in range(2)),
        *(Told(value=7.0, revision=1, student=1) for _ in range(6)),
        *(Told(value=3.0, revision=2, student=0) for _ in range(6)),
        *(Told(value=9.0, revision=2, student=1) for _ in range(2)),
    ]
    sentences = beside(record_with(store, classroom, told), GradeBand.SIX_TO_EIGHT)
    within = "Launcher 2 lies 2 points higher on average, within students. n = 8 against 8."
    assert within in sentences
    assert "Turns were unequal, so the plain means lie 1 point apart." in sentences


def test_what_it_rests_on_is_said_where_more_is_shown(store: Store, classroom: Classroom) -> None:
    """Judged when the new one had six; a third child tried the old one alone, later or before."""
    told = [*both(LOW[:7], HIGH[:7]), Told(value=8.0, revision=1, student=2)]
    for band in BANDS:
        sentences = " ".join(beside(record_with(store, classroom, told), band))
        assert "first 7" in sentences
    mixed = [Told(value=8.0, revision=1, student=2), *both(LOW[:6], HIGH[:6])]
    for band in BANDS:
        sentences = " ".join(beside(record_with(store, classroom, mixed), band))
        assert "both" in sentences


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ((0, 16, 0), ["Every pair comes out level."]),
        ((9, 0, 0), ["In every pair, the new one does better."]),
        ((0, 0, 9), ["In no pair, the new one does better."]),
        ((143, 0, 1), ["In nearly every pair, the new one does better."]),
        ((1, 0, 143), ["In hardly any pair, the new one does better."]),
        ((4, 4, 2), ["In about 4 of 10 pairs, the new one", "In about 4 of 10 pairs, both"]),
        ((1, 1, 1), ["In about 4 of 10 pairs, the new one", "In about 3 of 10 pairs, both"]),
    ],
)
def test_ties_are_told_as_ties(
    store: Store, classroom: Classroom, pairs: tuple[int, int, int], said: list[str]
) -> None:
    """Half of a tie is no lead; ten of ten is every one or it is not said."""
    school_class = record_with(store, classroom, []).context.school_class
    voice = teacher_voice(school_class, GradeBand.THREE_TO_FIVE)
    leads, ties, trails = pairs
    told = describe_pairs(PairCounts(leads=leads, ties=ties, trails=trails), voice)
    assert len(said) == len(told)
    assert all(one.startswith(start) for one, start in zip(told, said, strict=True))


@pytest.mark.parametrize(
    ("p_value", "said"),
    [
        (1.0, "always comes."),
        (0.99999, "nearly always comes."),
        (0.25, "comes 250 times in 1000."),
        (0.001, "comes once in 1000."),
        (0.0001, "comes less than once in 1000."),
    ],
)
def test_chance_is_never_1000_times_in_1000(
    store: Store, classroom: Classroom, p_value: float, said: str
) -> None:
    """Always is always, and what rounds to it is nearly always."""
    school_class = record_with(store, classroom, []).context.school_class
    assert describe_chance(p_value, teacher_voice(school_class)).endswith(said)


def test_a_few_far_results_that_turn_it_are_named(store: Store, classroom: Classroom) -> None:
    """Most pairs point one way and the means the other: that is said."""
    record = record_with(store, classroom, both(LOW, HIGH))
    found = find_for_group(record)
    voice = teacher_voice(record.context.school_class)
    comparison = found.of_part(found.revisions[0].part_id)[1].comparison
    assert comparison is not None
    assert comparison.better is True
    turned = replace(comparison, pairs=PairCounts(leads=3, ties=0, trails=7))
    said = "A few far results outweigh the pairs: look at the dots."
    assert said in describe_figures(turned, voice)
    assert said not in describe_figures(comparison, voice)
