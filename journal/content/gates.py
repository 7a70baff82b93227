"""The gate's words: the teacher's checklist, the tablet's waiting line, the caution on paper."""

from __future__ import annotations

from journal.content.texts import get_text
from journal.domain.classes import GradeBand
from journal.domain.sessions import GateCheck


def get_gate_lines(language: str) -> dict[GateCheck, str]:
    """Return the line of each check, in the order of the checklist."""
    return {check: get_text("gates", language, "checks", check.value) for check in GateCheck}


def get_waiting_line(band: GradeBand, language: str) -> str:
    """Return what a tablet says while launching waits for the teacher."""
    return get_text("gates", language, "waiting", band.value)


def get_caution_line(language: str, *, launches: bool) -> str:
    """Return the last line of the teacher's screens and of paper."""
    return get_text("gates", language, "caution", "launching" if launches else "loading")
