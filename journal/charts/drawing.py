"""The writer of SVG: elements and words come in, escaped markup goes out."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TypeAlias
from xml.sax.saxutils import escape, quoteattr

from journal.charts.palette import FONT, INK, PAPER

Attribute: TypeAlias = str | float | None

#: Advance widths of Andika regular in hundredths of an em, measured from the font, rounded up.
_ADVANCES = {
    sign: hundredths
    for hundredths, signs in (
        (30, " '`ijl\u2019,.:;|"),
        (38, "!f"),
        (44, "()-[]^tr"),
        (52, '/IJ\\cs{}"*?Lekvxyz\u2013é'),
        (59, "EFSabghnopqu~ñ"),
        (62, "#$&+0123456789<=>PTZd"),
        (67, "BKRXY_ACGV"),
        (76, "DHNOQU%w"),
        (88, "@m…M"),
        (102, "W"),
    )
    for sign in signs
}
#: Any other sign, such as an accented capital.
_OTHER_ADVANCE = 68
#: Characters that XML 1.0 cannot hold at all (section 2.2), so that a pasted name breaks no page.
_UNWRITABLE = (
    {code: None for code in range(32) if code not in {9, 10, 13}}
    | {
        0xFFFE: None,
        0xFFFF: None,
    }
    | dict.fromkeys(range(0xD800, 0xE000))
)


def figure(value: float, places: int = 2) -> str:
    """Return a number as short text; a number that is not finite raises ValueError."""
    if not math.isfinite(value):
        message = "A drawing takes finite numbers only."
        raise ValueError(message)
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def element(name: str, *children: str, **attributes: Attribute) -> str:
    """Write one element; children are markup already, attributes are escaped here.

    An underscore in an attribute's name stands for a hyphen; None leaves the attribute out.
    """
    written = "".join(
        f" {key.rstrip('_').replace('_', '-')}={quoteattr(_attribute_text(value))}"
        for key, value in attributes.items()
        if value is not None
    )
    inside = "".join(children)
    return f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>"


def draw(
    *elements: str,
    width_px: float,
    height_px: float,
    title: str,
    desc: str,
    ids: str = "",
    definitions: Iterable[str] = (),
) -> str:
    """Put elements into one whole drawing with its title first."""
    inside = "".join(definitions)
    return element(
        "svg",
        element("title", words(title) or "Drawing"),
        element("desc", words(desc) or words(title)),
        element("defs", inside) if inside else "",
        *elements,
        xmlns="http://www.w3.org/2000/svg",
        id=ids or None,
        role="img",
        width=width_px,
        height=height_px,
        viewBox=f"0 0 {figure(width_px)} {figure(height_px)}",
        font_family=FONT,
    )


def words(text: str) -> str:
    """Return text as it may stand between tags."""
    return escape(text.translate(_UNWRITABLE))


def circle(x: float, y: float, radius: float, **attributes: Attribute) -> str:
    """Write a circle."""
    return element("circle", cx=x, cy=y, r=radius, **attributes)


def rectangle(x: float, y: float, width: float, height: float, **attributes: Attribute) -> str:
    """Write a rectangle."""
    return element("rect", x=x, y=y, width=width, height=height, **attributes)


def stroke(points: str, colour: str = INK, width: float = 1.5, **attributes: Attribute) -> str:
    """Write an open line from path data."""
    return element("path", d=points, fill="none", stroke=colour, stroke_width=width, **attributes)


def segment(x1: float, y1: float, x2: float, y2: float) -> str:
    """Return the path data of a straight line."""
    return f"M{figure(x1)} {figure(y1)}L{figure(x2)} {figure(y2)}"


def outline(points: Iterable[tuple[float, float]]) -> str:
    """Return the path data of a closed shape."""
    return "M" + "L".join(f"{figure(x)} {figure(y)}" for x, y in points) + "Z"


def label(
    x: float,
    y: float,
    text: str,
    *,
    size_px: float = 18,
    colour: str = INK,
    bold: bool = False,
    anchor: str = "start",
) -> str:
    """Write a line of text; y is its baseline."""
    return element(
        "text",
        words(text),
        x=x,
        y=y,
        font_size=size_px,
        font_weight=700 if bold else None,
        text_anchor=None if anchor == "start" else anchor,
        fill=colour,
    )


def plate(
    x: float,
    y: float,
    text: str,
    *,
    size_px: float = 18,
    bold: bool = False,
    anchor: str = "start",
    ground: str = PAPER,
) -> str:
    """Write the quiet ground under a line of text, so that lines behind do not cross it.

    A halo would need `paint-order`, which paper ignores, or the text twice, which is read twice.
    """
    width = text_width_px(text, size_px, bold=bold) + 6
    left = x - 3 - {"start": 0.0, "middle": (width - 6) / 2, "end": width - 6}[anchor]
    return rectangle(left, y - size_px * 0.86, width, size_px * 1.16, fill=ground)


def text_width_px(text: str, size_px: float, *, bold: bool = False) -> float:
    """Return about how wide a line of text is: wide enough to keep things clear of it."""
    ems = sum(_ADVANCES.get(sign, _OTHER_ADVANCE) for sign in text) / 100
    return ems * size_px * (1.05 if bold else 1.0)


def fit_text(text: str, size_px: float, room_px: float, *, bold: bool = False) -> str:
    """Return the text, cut with an ellipsis where the room is too small; maybe empty."""
    if text_width_px(text, size_px, bold=bold) <= room_px:
        return text
    kept = text
    while kept and text_width_px(f"{kept}…", size_px, bold=bold) > room_px:
        kept = kept[:-1]
    return f"{kept.rstrip()}…" if kept.strip() else ""


def _attribute_text(value: Attribute) -> str:
    if isinstance(value, str):
        return value.translate(_UNWRITABLE)
    return figure(float(value or 0))
