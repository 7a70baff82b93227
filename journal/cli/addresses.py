"""An address as a QR code for the terminal."""

from __future__ import annotations

import io

import segno


def draw_code(text: str) -> str:
    """Draw a QR code with half blocks, small enough for a terminal of 80 x 24."""
    out = io.StringIO()
    segno.make(text, error="m", micro=False).terminal(out, compact=True, border=2)
    return out.getvalue()
