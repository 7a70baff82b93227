"""Intraclass correlation where it cannot be said; its published values stand in their file."""

from __future__ import annotations

from journal.analysis.intraclass import correlate_ratings


def test_cannot_say_with_one_scorer_or_one_thing() -> None:
    """Both need at least two."""
    assert correlate_ratings([[1.0], [2.0]]) is None
    assert correlate_ratings([[1.0, 2.0]]) is None


def test_ratings_that_do_not_vary_have_no_correlation() -> None:
    """Nothing between the things rated and nothing within leaves nothing to divide by."""
    found = correlate_ratings([[2.0, 2.0], [2.0, 2.0]])
    assert found is not None
    assert found.one_way is None
