"""The colours of every drawing, as hex: paper knows no style sheet.

Ink has happened, madder is now, dashed is not yet. Nothing rests on a colour alone.
"""

from __future__ import annotations

PAPER = "#FAF6EC"
SHEET = "#FFFDF7"
SUNK = "#F1EADB"
SUNK_2 = "#E7DDC8"
INK = "#1C2632"
INK_2 = "#454F59"
INK_3 = "#666C70"
EDGE = "#857E6E"
RULE = "#D9D0BE"
MADDER = "#A4173F"

#: The hues of the groups: Okabe and Ito, "Color Universal Design" (2008), then ink.
GROUP_HUES = (
    "#0072B2",
    "#E69F00",
    "#009E73",
    "#D55E00",
    "#CC79A7",
    "#56B4E9",
    "#F0E442",
    INK,
)

FONT = "Andika, 'DejaVu Sans', sans-serif"
