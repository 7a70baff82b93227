"""Old against new within pairs, on invented groups whose truth is known."""

import random
from collections.abc import Callable
from itertools import product

import pytest
from scipy.stats import binom

from journal.analysis.comparisons import compare
from journal.analysis.records import TrialRecord
from journal.analysis.swap_comparison import find_more_pairs, find_swap
from journal.analysis.verdicts import PracticeWord, Verdict
from journal.domain.outcomes import LESS_IS_BETTER, near_is_better
from tests.analysis.trial_records import trials, turns

Sides = tuple[list[TrialRecord], list[TrialRecord]]


def _parted(records: list[TrialRecord]) -> Sides:
    return (
        [record for record in records if record.revision == "A"],
        [record for record in records if record.revision == "B"],
    )


def test_p_value_is_that_of_flipping_every_sign() -> None:
    """Eight pairs, every sign flip written out."""
    gaps = [3.0, -1.0, 2.0, 4.0, 0.0, 1.0, 5.0, -2.0]
    values = [
        value
        for place, gap in enumerate(gaps)
        for value in ((10.0, 10.0 + gap) if place % 2 == 0 else (10.0 + gap, 10.0))
    ]
    found = find_swap(*_parted(turns("ABBAABBAABBAABBA", values)))
    sums = [
        sum(sign * gap for sign, gap in zip(signs, gaps, strict=True))
        for signs in product((1, -1), repeat=8)
    ]
    assert sum(abs(one) >= abs(sum(gaps)) for one in sums) / 256 == found.p_value
    assert pytest.approx(sum(gaps) / 8) == found.difference
    assert 8 == found.pairs


def test_words_of_a_swap_test() -> None:
    """Two pairs are too early, five a hint at most, six can be clear."""
    for count, verdict in ((2, Verdict.TOO_EARLY), (4, Verdict.HINT), (6, Verdict.MORE)):
        pattern = ("ABBA" * 3)[: 2 * count]
        values = [2.0 if letter == "A" else 5.0 + place for place, letter in enumerate(pattern)]
        found = find_swap(*_parted(turns(pattern, values)))
        assert verdict == found.verdict
    assert found.better is True


def test_direction_decides_what_is_better() -> None:
    """More of a measure is worse where less is better; nearness goes by distance."""
    values = [2.0 if letter == "A" else 5.0 for letter in "ABBAABBAABBA"]
    sides = _parted(turns("ABBAABBAABBA", values))
    assert find_swap(*sides, LESS_IS_BETTER).better is False
    assert find_swap(*sides, near_is_better(5.0)).better is True
    assert find_swap(*sides, near_is_better(2.0)).better is False


def test_a_misfire_loses_its_pair_only() -> None:
    """The other pairs still speak."""
    found = find_swap(*_parted(turns("ABBAABBA", [1, None, 5, 2, 1, 6, 7, 2])))
    assert (3, 1) == (found.pairs, found.lost_pairs)


def test_blocks_are_no_swap_test() -> None:
    """Without turns nothing is said within pairs."""
    found = find_swap(trials("A", [1.0] * 4), trials("B", [9.0] * 4, start=5))
    assert not found.in_turns
    assert found.p_value is None
    assert Verdict.TOO_EARLY == found.verdict


def test_more_pairs_are_estimated_as_a_range_and_repeat() -> None:
    """A clear gap needs few, a faint one many or more than can be said; the answer stays."""
    clear = _parted(turns("ABBAABBA", [1.0, 4.0, 5.0, 2.0, 1.0, 5.0, 4.0, 2.0]))
    needed = find_more_pairs(*clear)
    assert needed is not None
    assert (2, 2) == (needed.low, needed.high)
    faint = _parted(turns("ABBAABBA", [1.0, 4.0, 2.0, 5.0, 4.0, 2.0, 5.0, 3.5]))
    many = find_more_pairs(*faint)
    assert many is not None
    assert many.high is None
    assert many == find_more_pairs(*faint)


def test_two_pairs_or_no_difference_estimate_nothing() -> None:
    """Too little to draw from."""
    assert find_more_pairs(*_parted(turns("ABBA", [1, 2, 3, 4]))) is None
    assert find_more_pairs(*_parted(turns("ABBAABBA", [2.0] * 8))) is None


# Invented groups: 4 students, chance sd 1 a trial, students' levels sd 1, skill rising by 1.5 sd
# over all of a student's trials. Common practice for such studies, no source.
RISES: dict[str, Callable[[float], float]] = {
    "none": lambda _: 0.0,
    "steady": lambda part: 1.5 * part,
    "late": lambda part: 1.5 * (part > 0.75),
    "steep": lambda part: 1.5 * (1 - 0.02**part),
}


def _group(
    draw: random.Random, patterns: list[str], rise: Callable[[float], float], gain: float
) -> Sides:
    records = []
    for student, pattern in enumerate(patterns):
        level = draw.gauss(0, 1)
        values = [
            round(
                level
                + rise(place / (len(pattern) - 1))
                + gain * (letter == "B")
                + draw.gauss(0, 1),
                1,
            )
            for place, letter in enumerate(pattern)
        ]
        records += turns(pattern, values, student=str(student))
    return _parted(records)


def _share(patterns: list[str], rise: str, gain: float, groups: int) -> float:
    draw = random.Random(f"{patterns}{rise}{gain}")
    said = [
        find_swap(*_group(draw, patterns, RISES[rise], gain)).verdict is Verdict.MORE
        for _ in range(groups)
    ]
    return sum(said) / groups


@pytest.mark.parametrize("rise", RISES)
def test_practice_does_not_pass_for_a_better_device(rise: str) -> None:
    """With no real change "more" is said in at most 5 % of groups, however skill rises."""
    groups = 400
    share = _share(["ABBAABBA", "BAABBAAB"] * 2, rise, 0.0, groups)
    # Allowed for chance: 5 % true, 99.9 % of samples.
    assert share <= binom.ppf(0.999, groups, 0.05) / groups


@pytest.mark.parametrize(("trials_each", "least"), [(4, 0.33), (8, 0.70), (12, 0.87)])
def test_a_true_gain_is_seen(trials_each: int, least: float) -> None:
    """A gain of 1 sd is called more in at least 33 / 70 / 87 % with 4 / 8 / 12 trials each."""
    groups = 400
    patterns = [("ABBA" * 3)[:trials_each], ("BAAB" * 3)[:trials_each]] * 2
    share = _share(patterns, "none", 1.0, groups)
    assert share >= binom.ppf(0.001, groups, least) / groups


def test_blocks_never_say_more_without_the_warning() -> None:
    """Rising skill in blocks is often called more, and always with practice not ruled out."""
    draw = random.Random(12)
    found = [compare(*_group(draw, ["AAAABBBB"] * 4, RISES["steady"], 0.0)) for _ in range(12)]
    clear = [one for one in found if one.verdict is Verdict.MORE]
    assert clear
    assert {PracticeWord.NOT_RULED_OUT} == {one.practice for one in found}
