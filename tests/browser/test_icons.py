"""Drawings that must not be taken for one another, measured as Chromium draws them."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

import journal.web

ICONS = Path(journal.web.__file__).parent / "static" / "icons.svg"
#: Draws a symbol in black at the size of the caution line and returns which pixels are inked.
INKED = """([text, name]) => new Promise((done) => {
  const size = 28;
  const all = new DOMParser().parseFromString(text, "image/svg+xml");
  const symbol = all.getElementById(name);
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${size}" height="${size}"` +
    ` viewBox="0 0 24 24" color="black" fill="none" stroke="currentColor" stroke-width="1.75">` +
    `${symbol.innerHTML}</svg>`;
  const image = new Image();
  image.onload = () => {
    const canvas = document.createElement("canvas");
    canvas.width = canvas.height = size;
    const pen = canvas.getContext("2d");
    pen.drawImage(image, 0, 0);
    const data = pen.getImageData(0, 0, size, size).data;
    done(Array.from({ length: size * size }, (_, at) => data[4 * at + 3] > 127));
  };
  image.src = "data:image/svg+xml," + encodeURIComponent(svg);
})"""


def _inked(chromium: Browser, text: str, name: str) -> set[int]:
    page = chromium.new_page()
    found = page.evaluate(INKED, [text, name])
    page.close()
    return {at for at, inked in enumerate(found) if inked}


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("open", "closed"),
        ("load_open", "load_closed"),
        ("open", "load_open"),
        ("closed", "load_closed"),
        ("bridge", "load_open"),
    ],
)
def test_drawings_of_the_lane_and_the_load_are_unlike(
    chromium: Browser, first: str, second: str
) -> None:
    """Less than a third of the ink of both is shared, so that a glance in grey tells them apart."""
    text = ICONS.read_text("utf-8")
    one, other = (_inked(chromium, text, name) for name in (first, second))
    assert min(len(one), len(other)) > 60
    assert len(one & other) / len(one | other) < 1 / 3
