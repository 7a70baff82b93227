"""The portfolio on paper: a PortfolioPage comes in, the bytes of its PDF go out."""

from __future__ import annotations

from pathlib import Path

from journal.printing.papers import print_paper


def print_portfolio(page: object, fonts: Path) -> bytes:
    """Print a portfolio; `fonts` is the folder of our own fonts.

    The page is whatever `services.portfolios` gathered: this room stands beside that one and only
    knows the template that reads it.
    """
    return print_paper("portfolio.html", page, fonts)
