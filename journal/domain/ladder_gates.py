"""What opens the next rung of the ladder, by band, and when the teacher is called to it.

Trying first and being taught after helped older children, the other way round in grades 2 to 5
(Sinha & Kapur 2021): so the gate is low for the youngest, with an adult there first, and highest in
grades 6 to 8.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from journal.domain.classes import GradeBand
from journal.domain.ladders import Climb, Rung, rung_after


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderGate:
    """What a band has to do before the next question."""

    #: A tapped sentence is an answer; else it is to be finished in own words.
    a_tap_answers: bool
    #: So many new trials open the next rung without an answer.
    trials: int
    #: The teacher is called when the ladder is opened, not only by its last rung.
    adult_first: bool


GATES = {
    GradeBand.TWO: LadderGate(a_tap_answers=True, trials=1, adult_first=True),
    GradeBand.THREE_TO_FIVE: LadderGate(a_tap_answers=True, trials=1, adult_first=False),
    GradeBand.SIX_TO_EIGHT: LadderGate(a_tap_answers=False, trials=2, adult_first=False),
}


def find_opened_rung(rung: Rung, band: GradeBand, trials_since: int) -> Rung:
    """Return the rung that is open after so many new trials: the next one, or still this."""
    return rung_after(rung) if trials_since >= GATES[band].trials else rung


def find_call(climb: Climb, band: GradeBand) -> datetime | None:
    """Return since when an open climb calls the teacher; None where it does not."""
    if climb.wants_teacher:
        return climb.rung_opened_at
    return climb.started_at if climb.is_open and GATES[band].adult_first else None
