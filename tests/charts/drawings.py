"""What the tests of drawings share: reading a drawing, and the promises each one keeps."""

from __future__ import annotations

import logging
import re
from xml.etree import ElementTree as ET

import weasyprint

SVG = "{http://www.w3.org/2000/svg}"
HEX = re.compile(r"^(#[0-9A-F]{6}|none|url\(#[A-Za-z0-9_-]+\))$")


def read(svg: str) -> ET.Element:
    """Parse a drawing; it was made here, so it is no stranger's XML."""
    return ET.fromstring(svg)  # noqa: S314


def count(svg: str, name: str, **attributes: str) -> int:
    """Count the elements with these attributes (underscores stand for hyphens)."""
    wanted = {key.replace("_", "-"): value for key, value in attributes.items()}
    return sum(
        all(found.get(key) == value for key, value in wanted.items())
        for found in read(svg).iter(f"{SVG}{name}")
    )


def texts(svg: str) -> list[str]:
    """Return every line of text that is drawn."""
    return ["".join(found.itertext()) for found in read(svg).iter(f"{SVG}text")]


def desc(svg: str) -> str:
    """Return the description."""
    return read(svg).findtext(f"{SVG}desc") or ""


def check_drawing(svg: str) -> None:
    """Check what every drawing promises to screen and paper."""
    root = read(svg)
    children = list(root)
    assert [f"{SVG}title", f"{SVG}desc"] == [child.tag for child in children[:2]]
    assert children[0].text
    assert children[1].text
    assert root.get("font-family") == "Andika, 'DejaVu Sans', sans-serif"
    width, height = float(root.get("width", "0")), float(root.get("height", "0"))
    assert min(width, height) > 0
    assert root.get("viewBox") == f"0 0 {root.get('width')} {root.get('height')}"
    assert not re.search(r"var\(|paint-order|class=|<script|\bon\w+=", svg)
    assert not re.search(r"[\"\s(,]-?(nan|inf)\b", svg)
    ids = [found.get("id") for found in root.iter() if found.get("id")]
    assert len(ids) == len(set(ids))
    for found in root.iter():
        for key in ("fill", "stroke"):
            colour = found.get(key, "none")
            assert HEX.match(colour), colour
            if colour.startswith("url"):
                assert colour[5:-1] in ids


def check_paper(svgs: list[str], records: list[logging.LogRecord]) -> None:
    """Check that the printer of pages draws each without a word in its log."""
    page = f"<html lang='en'><title>Drawings</title><body>{''.join(svgs)}</body></html>"
    pdf = weasyprint.HTML(string=page).write_pdf()
    assert pdf.startswith(b"%PDF")
    assert [] == [f"{record.name}: {record.getMessage()}" for record in records
                  if record.name.startswith("weasyprint")]  # fmt: skip
