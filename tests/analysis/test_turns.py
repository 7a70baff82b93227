"""Old and new in turn."""

import pytest

from journal.analysis.records import TrialRecord
from journal.analysis.turns import lead_of, turn_pairs, whole_pairs
from tests.analysis.trial_records import turns


def _parted(records: list[TrialRecord]) -> tuple[list[TrialRecord], list[TrialRecord]]:
    return (
        [record for record in records if record.revision == "A"],
        [record for record in records if record.revision == "B"],
    )


@pytest.mark.parametrize("pattern", ["ABBA", "BAAB", "ABBAABBA", "ABBAAB", "ABBABAAB"])
def test_turns_are_kept(pattern: str) -> None:
    """Neighbours make pairs, and each comes first as often, give or take one."""
    pairs = turn_pairs(*_parted(turns(pattern, list(range(len(pattern))))))
    assert pairs is not None
    assert len(pattern) // 2 == len(pairs)


@pytest.mark.parametrize("pattern", ["AABB", "AAAABBBB", "ABAB", "AB", "ABBB", "ABBAB"])
def test_blocks_and_steady_orders_are_no_turns(pattern: str) -> None:
    """Blocks, always the old one first, and unequal numbers leave practice in."""
    assert turn_pairs(*_parted(turns(pattern, [1.0] * len(pattern)))) is None


def test_two_students_may_start_differently() -> None:
    """One pair each, one begins with old and one with new."""
    records = [*turns("AB", [1, 2], student="1"), *turns("BA", [3, 4], student="2")]
    pairs = turn_pairs(*_parted(records))
    assert pairs is not None
    assert [(True, 1.0), (False, -1.0)] == [(pair.old_first, pair.difference) for pair in pairs]


def test_misfire_holds_its_place() -> None:
    """The pair with the misfire is there, without a difference."""
    pairs = turn_pairs(*_parted(turns("ABBA", [1, None, 5, 4])))
    assert pairs is not None
    assert [None, 1.0] == [pair.difference for pair in pairs]


def test_retest_after_a_misfire_keeps_the_turns() -> None:
    """A misfire launched again is looked at without the misfire."""
    pairs = turn_pairs(*_parted(turns("AABBA", [None, 1, 3, 5, 4])))
    assert pairs is not None
    assert [2.0, 1.0] == [pair.difference for pair in pairs]


def test_whole_pairs_count_though_one_order_comes_more_often() -> None:
    """Two children begin with old and leave after a pair each; the third one does both orders."""
    records = [
        *turns("AB", [1, 2], student="1"),
        *turns("AB", [1, 2], student="2"),
        *turns("ABBA", [1, 2, 3, 4], student="3"),
    ]
    assert turn_pairs(*_parted(records)) is None
    pairs = whole_pairs(*_parted(records))
    assert pairs is not None
    assert (4, 2) == (len(pairs), lead_of(pairs))


@pytest.mark.parametrize("pattern", ["AABB", "AAAABBBB", "ABAB", "AB", "ABBB", "ABBAB"])
def test_no_pairs_are_made_of_what_has_none(pattern: str) -> None:
    """Blocks, one order alone and unequal numbers stay what they are."""
    assert whole_pairs(*_parted(turns(pattern, [1.0] * len(pattern)))) is None
