"""The gate's words: the teacher's checklist, the tablet's waiting line, the caution on paper."""

from __future__ import annotations

from collections.abc import Mapping

from journal.content.texts import get_text
from journal.domain.challenges import Challenge
from journal.domain.classes import GradeBand
from journal.domain.sessions import GateCheck, checks_of


def get_gate_lines(language: str, *, launches: bool) -> dict[GateCheck, str]:
    """Return the line of each check, in the order of the checklist."""
    checks = checks_of(launches=launches)
    return {check: get_text("gates", language, "checks", check.value) for check in checks}


def get_waiting_line(band: GradeBand, language: str, *, launches: bool) -> str:
    """Return what a tablet says while launching, or loading, waits for the teacher."""
    return get_text("gates", language, "waiting", _matter(launches=launches), band.value)


def get_lane_words(language: str, *, launches: bool) -> Mapping[str, str]:
    """Return what screens say of the lane: how it stands, and what the teacher taps."""
    keys = ("open", "closed", "ask", "none", "do_open", "do_close", "first", "before", "opened")
    matter = _matter(launches=launches)
    return {key: get_text("gates", language, "lane", matter, key) for key in keys}


def get_parked_line(language: str) -> str:
    """Return what a tablet says of an entry that came late and waits for the teacher."""
    return get_text("gates", language, "parked")


def get_rules_line(language: str) -> str:
    """Return whose rules come first, for each tablet page that leads to a launch or a load."""
    return get_text("gates", language, "rules")


def get_caution_line(language: str, *challenges: Challenge) -> str:
    """Return the last line of the teacher's screens and of paper.

    It is that of a launch where one of the challenges launches, else that of a load where one
    loads until something breaks, else one that holds for every test.
    """
    matter = "testing"
    if any(challenge.has_gate for challenge in challenges):
        matter = _matter(launches=any(challenge.launches for challenge in challenges))
    return get_text("gates", language, "caution", matter)


def get_session_words(language: str, challenge: Challenge) -> str:
    """Return what is done in a session of a challenge; "" where its distance says that."""
    if challenge.launches:
        return ""
    return get_text("gates", language, "session", "loading" if challenge.has_gate else "testing")


def _matter(*, launches: bool) -> str:
    return "launching" if launches else "loading"
