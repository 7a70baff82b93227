"""Portfolios as files."""

from __future__ import annotations

from journal.jobs.portfolios import name_file


def test_a_file_is_named_after_number_and_group() -> None:
    """Signs that a file system may refuse are left out; letters of any language stay."""
    assert "portfolio-1-Heron.pdf" == name_file(1, "Heron")
    assert "portfolio-2-Rote-Füchse.pdf" == name_file(2, "../Rote Füchse?")
    assert "portfolio-3.pdf" == name_file(3, "/")
