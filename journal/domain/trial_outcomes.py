"""The outcome of a trial by its challenge: where it ended in, state, zone and value out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from journal.domain.challenges import Challenge, Outcome, OutcomeKind
from journal.domain.errors import Invalid, Problem
from journal.domain.numbers import show_number
from journal.domain.panels import Panel
from journal.domain.trials import Ending, Place, TrialState

#: Nobody logs more drops, grams or turns than this with one trial; a larger one is a slip.
MOST_AMOUNT = 1_000_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialOutcome(Ending):
    """How a trial ended and what it is worth."""

    state: TrialState


def judge_outcome(challenge: Challenge, ending: Ending) -> TrialOutcome:
    """Work out what a trial is worth; raise Invalid where the entry cannot be so."""
    if ending.misfire is not None:
        return _judge_misfire(challenge, ending)
    if challenge.outcome.kind is OutcomeKind.ZONES and challenge.panel is not None:
        return _judge_place(challenge.panel, ending)
    return _judge_measure(challenge.outcome, ending)


def check_amount(outcome: Outcome, amount: float | None) -> list[Problem]:
    """Return what is wrong with the amount logged beside a trial."""
    if amount is None:
        return []
    if not outcome.amount_name:
        return [Problem("amount", "This challenge logs no amount. Leave it out.")]
    if not math.isfinite(amount) or amount > MOST_AMOUNT:
        return [Problem("amount", "That amount is no number anyone can count. Check it.")]
    if amount < 0:
        return [Problem("amount", "An amount cannot be less than 0. Take 0 or more.")]
    return []


def _judge_misfire(challenge: Challenge, ending: Ending) -> TrialOutcome:
    if ending.misfire not in {cause.key for cause in challenge.misfires}:
        what = "Choose one of the listed causes of a misfire."
        raise Invalid.at("misfire", what)
    if ending.says_where or ending.value is not None:
        what = "A misfire has no place and no measure. Choose one or the other."
        raise Invalid.at("misfire", what)
    return TrialOutcome(state=TrialState.MISFIRE, misfire=ending.misfire)


def _judge_place(panel: Panel, ending: Ending) -> TrialOutcome:
    if ending.value is not None:
        what = "Points are worked out from the place. Send the place, not the points."
        raise Invalid.at("value", what)
    if ending.x_mm is not None or ending.y_mm is not None:
        return _judge_hit(panel, ending)
    if ending.place is Place.PANEL:
        return _judge_named_zone(panel, ending.zone)
    if ending.place is None or ending.zone is not None:
        what = "Say where it ended: tap the panel or the wall, or choose a button."
        raise Invalid.at("place", what)
    points = panel.wall_points if ending.place is Place.WALL else panel.nowhere_points
    return TrialOutcome(state=TrialState.MEASURED, place=ending.place, value=points)


def _judge_hit(panel: Panel, ending: Ending) -> TrialOutcome:
    x_mm, y_mm = ending.x_mm, ending.y_mm
    if x_mm is None or y_mm is None:
        raise Invalid.at("place", "A place needs two numbers, across and up. One is missing.")
    if not panel.wall_holds(x_mm, y_mm):
        what = "That place is off the wall. Tap the panel or the wall, or say it flew past."
        raise Invalid.at("place", what)
    place = Place.PANEL if panel.holds(x_mm, y_mm) else Place.WALL
    if ending.place not in {None, place}:
        what = f"The tapped place is on the {place}, but something else was said. Tap again."
        raise Invalid.at("place", what)
    zone = panel.find_zone(x_mm, y_mm)
    found = None if zone is None else zone.key
    if ending.zone not in {None, found}:
        raise Invalid.at("place", "The tapped place is in another zone. Tap again.")
    elsewhere = panel.bare_points if place is Place.PANEL else panel.wall_points
    return TrialOutcome(
        state=TrialState.MEASURED,
        place=place,
        x_mm=x_mm,
        y_mm=y_mm,
        zone=found,
        value=elsewhere if zone is None else zone.points,
    )


def _judge_named_zone(panel: Panel, key: str | None) -> TrialOutcome:
    zone = next((zone for zone in panel.zones if zone.key == key), None)
    if key is not None and zone is None:
        raise Invalid.at("place", "The panel has no such zone. Choose one of the list.")
    return TrialOutcome(
        state=TrialState.MEASURED,
        place=Place.PANEL,
        zone=key,
        value=panel.bare_points if zone is None else zone.points,
    )


def _judge_measure(outcome: Outcome, ending: Ending) -> TrialOutcome:
    if ending.says_where:
        raise Invalid.at("place", "This challenge takes a measure, not a place.")
    value = ending.value
    if value is None:
        raise Invalid.at("value", f"The measure is missing. Enter the {outcome.unit}.".strip())
    if not math.isfinite(value) or not outcome.lowest <= value <= outcome.highest:
        limits = f"{show_number(outcome.lowest)} to {show_number(outcome.highest)} {outcome.unit}"
        raise Invalid.at("value", f"It can be {limits}. Check the number and the unit.")
    if outcome.kind is OutcomeKind.COUNT and not value.is_integer():
        raise Invalid.at("value", "A count is a whole number. Check it.")
    return TrialOutcome(state=TrialState.MEASURED, value=value)
