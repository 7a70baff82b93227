"""Portfolios from the record to paper: where services and printing meet, for pages and terminal."""

from __future__ import annotations

from pathlib import Path

from journal.portfolio.pages import PortfolioPage
from journal.printing import portfolios as paper

#: The screens' font as its publisher made it: paper is set in the same one.
FONTS = Path(__file__).parent.parent / "printing" / "fonts"


def print_portfolio(page: PortfolioPage) -> bytes:
    """Print a gathered portfolio; no unit of work is open while it is rendered."""
    return paper.print_portfolio(page, FONTS)


def name_file(number: int, group_name: str) -> str:
    """Return the name of a portfolio's file; a sign that a file system may refuse is left out."""
    kept = "".join(sign if sign.isalnum() else " " for sign in group_name)
    return "-".join(["portfolio", str(number), *kept.split()]) + ".pdf"
