"""What poor results are put down to: a bar for each reading, as long as it is sure.

Comes in: names with shares. Goes out: bars; one that is named is solid, "cannot tell" is no bar.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.charts.drawing import draw, label, rectangle
from journal.charts.palette import INK, SUNK_2
from journal.charts.tables import ChartTable

_LEFT_PX = 96.0
_ROW_PX = 34.0
_BAR_PX = 20.0
#: Room for "very likely, over 9 in 10" behind the longest bar.
_FIGURE_PX = 190.0
_TEXT_PX = 16.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseShare:
    """One reading with how sure it is."""

    name: str
    in_100: int
    #: The same in words.
    words: str
    is_named: bool = False

    @property
    def in_words(self) -> str:
        """Return the share in words and tenths."""
        return self.words


def draw_causes(
    shares: Sequence[CauseShare],
    *,
    width_px: float = 420,
    ids: str = "causes",
    title: str = "What the trials point to",
) -> str:
    """Draw a bar a reading; the one that is named is solid."""
    room = width_px - _LEFT_PX - _FIGURE_PX
    top, bottom = 4.0, 4.0 + _ROW_PX * len(shares)
    parts = []
    for place, share in enumerate(shares):
        y = top + place * _ROW_PX + (_ROW_PX - _BAR_PX) / 2
        width = max(1.0, room * min(100, max(0, share.in_100)) / 100)
        base = y + _BAR_PX / 2 + _TEXT_PX * 0.35
        parts += [
            label(0, base, share.name, size_px=_TEXT_PX, bold=share.is_named),
            rectangle(
                _LEFT_PX,
                y,
                width,
                _BAR_PX,
                fill=INK if share.is_named else SUNK_2,
                stroke=INK,
                stroke_width=1,
            ),
            label(
                _LEFT_PX + width + 8,
                base,
                share.in_words,
                size_px=_TEXT_PX,
                bold=share.is_named,
            ),
        ]
    return draw(
        *parts,
        width_px=width_px,
        height_px=bottom + 4,
        title=title,
        desc="; ".join(f"{cause_share.name} {cause_share.in_words}" for cause_share in shares),
        ids=ids,
    )


def causes_table(shares: Sequence[CauseShare], *, caption: str) -> ChartTable:
    """Return the same as a table."""
    return ChartTable(
        caption=caption,
        header=("What", "How sure"),
        rows=tuple((share.name, share.in_words) for share in shares),
    )
