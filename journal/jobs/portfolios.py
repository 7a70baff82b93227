"""Portfolios from the record to paper: where services and printing meet, for pages and terminal."""

from __future__ import annotations

from pathlib import Path

from journal.printing import portfolios as paper
from journal.services.portfolio_pages import PortfolioPage

#: The screens' own fonts, as files: paper is set in the same ones.
FONTS = Path(__file__).parent.parent / "web" / "static" / "fonts"


def print_portfolio(page: PortfolioPage) -> bytes:
    """Print a gathered portfolio; no unit of work is open while it is rendered."""
    return paper.print_portfolio(page, FONTS)
