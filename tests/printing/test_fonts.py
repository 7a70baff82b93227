"""Paper is set in the font as its publisher released it, accents and all."""

from __future__ import annotations

import hashlib
import io
import logging

import pypdf
import pytest

from journal.jobs.portfolios import FONTS
from journal.printing.rendering import render_pdf

#: The files of Debian's package fonts-sil-andika 6.101-2, which ships the release of SIL as it is.
#: The licence (SIL OFL 1.1) calls another format or a part of it a modified version, and a modified
#: version may not have the name.
RELEASED = {
    "Andika-Bold.ttf": "4361126189a2d0e0da66999352db58aaf1b4ca940faf8a8239d725f8303d890d",
    "Andika-Italic.ttf": "6a4a0dd26d28f577b51dd6afb5acf6fd91ab21694e25649c270a32179bb52a62",
    "Andika-Regular.ttf": "202b96b1f174a4a43baefe885b40dacacb81786755efd08ed4b7704e79c45515",
}
FACE = "".join(
    f'@font-face {{ font-family: "Andika"; font-weight: {weight}; font-style: {style};'
    f' src: url("journal-font:{file}") format("truetype"); }}'
    for file, weight, style in (
        ("Andika-Regular.ttf", 400, "normal"),
        ("Andika-Italic.ttf", 400, "italic"),
        ("Andika-Bold.ttf", 700, "normal"),
    )
)
#: Names as children have them: Spanish, Polish, Czech, Turkish, Vietnamese, Yoruba with a mark of
#: its own behind the letter.
NAMES = "Íñigo Güell São Łódź Žofie Şükrü Nguyễn Ọlá́"


def test_fonts_are_as_released() -> None:
    """Neither converted nor cut down; the licence lies beside them."""
    found = {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in FONTS.glob("*.ttf")
    }

    assert found == RELEASED
    licence = (FONTS / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert 'Reserved Font Names "Andika" and "SIL"' in licence


@pytest.mark.parametrize("tag", ["p", "b", "i"])
def test_accents_are_in_the_font_and_can_be_read_out(
    tag: str, caplog: pytest.LogCaptureFixture
) -> None:
    """No other font stands in for a letter, and the text comes back letter for letter."""
    sheet = f'<html lang="en"><title>x</title><style>{FACE} html {{ font-family: Andika }}</style>'
    with caplog.at_level(logging.WARNING, logger="weasyprint"):
        printed = render_pdf(f"{sheet}<p><{tag}>{NAMES}</{tag}></p>", FONTS)

    (page,) = pypdf.PdfReader(io.BytesIO(printed)).pages
    fonts = {font.get_object()["/BaseFont"] for font in page["/Resources"]["/Font"].values()}
    assert all("Andika" in name for name in fonts), fonts
    assert page.extract_text().split() == NAMES.split()
    assert caplog.messages == []
