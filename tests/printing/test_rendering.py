"""The renderer takes our own fonts and nothing else."""

from __future__ import annotations

import pytest
from weasyprint.urls import FatalURLFetchingError

from journal.jobs.portfolios import FONTS
from journal.printing.rendering import OwnFonts, render_pdf


@pytest.mark.parametrize(
    "address",
    [
        "https://example.org/picture.png",
        "http://127.0.0.1/picture.png",
        "file:///etc/hostname",
        "data:image/png;base64,AAAA",
        "journal-font:../tokens.css",
        "journal-font:unknown.ttf",
    ],
)
def test_everything_else_is_refused(address: str) -> None:
    """No other host, no file of the machine, no font that is not ours."""
    with pytest.raises(FatalURLFetchingError, match="only fonts of our own"):
        OwnFonts(FONTS).fetch(address)
    with pytest.raises(FatalURLFetchingError):
        render_pdf(f'<html lang="en"><title>x</title><img alt="x" src="{address}">', FONTS)


def test_each_of_our_fonts_is_handed_out() -> None:
    """The bytes of the file, whole."""
    files = sorted(FONTS.glob("*.ttf"))
    assert 3 == len(files)
    for file in files:
        answer = OwnFonts(FONTS).fetch(f"journal-font:{file.name}")
        assert file.read_bytes() == answer.read()
