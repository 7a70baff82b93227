"""QR codes as drawings."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import segno

from journal.charts.codes import QUIET, draw_code

LINK = "HTTP://192.168.178.234:8080/"
SVG = "{http://www.w3.org/2000/svg}"
#: The finder pattern in three corners (ISO/IEC 18004, from memory).
FINDER = ("1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111")


def _squares(svg: str, square_px: int) -> list[str]:
    """Return the rows of a drawing, dark squares as 1."""
    root = ET.fromstring(svg)  # noqa: S314 - our own drawing
    side = int(root.attrib["width"]) // square_px
    path = root.find(f"{SVG}path")
    assert path is not None
    assert f"scale({square_px})" == path.attrib["transform"]
    dark = {(int(x), int(y)) for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", path.attrib["d"])}
    return ["".join(str(int((x, y) in dark)) for x in range(side)) for y in range(side)]


def test_a_code_stands_in_free_space_with_its_three_corners() -> None:
    """Without the four free squares around it a camera does not find it."""
    rows = _squares(draw_code(LINK, "Code", square_px=8), 8)
    size = len(rows)
    assert {"0" * size} == {*rows[:QUIET], *rows[-QUIET:]}
    assert all(row[:QUIET] == row[-QUIET:] == "0" * QUIET for row in rows)
    inner = [row[QUIET:-QUIET] for row in rows[QUIET:-QUIET]]
    for corner in (
        [row[:7] for row in inner[:7]],
        [row[-7:] for row in inner[:7]],
        [row[:7] for row in inner[-7:]],
    ):
        assert FINDER == tuple(corner)


def test_a_drawing_has_every_square_of_its_code() -> None:
    """Compared with the library's own matrix; capitals keep an address to 25 squares a side."""
    rows = _squares(draw_code(LINK, "Code", square_px=3), 3)
    matrix = segno.make(LINK, error="m", micro=False).matrix
    assert ["".join(map(str, row)) for row in matrix] == [
        row[QUIET:-QUIET] for row in rows[QUIET:-QUIET]
    ]
    assert 25 == len(matrix)
