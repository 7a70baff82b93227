"""The outcome of a trial by its challenge: where it ended in, state, zone and value out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from journal.domain.challenges import Challenge, Outcome, OutcomeKind
from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message
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
        return [Problem("amount", Message("trial_outcomes.challenge_logs_no_amount"))]
    if not math.isfinite(amount) or amount > MOST_AMOUNT:
        return [
            Problem("amount", Message("trial_outcomes.that_amount_is_no_number_anyone_can_count"))
        ]
    if amount < 0:
        return [Problem("amount", Message("trial_outcomes.amount_cannot_be_less_than_0"))]
    return []


def _judge_misfire(challenge: Challenge, ending: Ending) -> TrialOutcome:
    if ending.misfire not in {cause.key for cause in challenge.misfires}:
        what = Message("trial_outcomes.choose_one_of_the_listed_causes")
        raise Invalid.at("misfire", what)
    if ending.says_where or ending.value is not None:
        what = Message("trial_outcomes.misfire_has_no_place_and_no_measure")
        raise Invalid.at("misfire", what)
    return TrialOutcome(state=TrialState.MISFIRE, misfire=ending.misfire)


def _judge_place(panel: Panel, ending: Ending) -> TrialOutcome:
    if ending.value is not None:
        what = Message("trial_outcomes.points_are_worked_out_from_the_place")
        raise Invalid.at("value", what)
    if ending.x_mm is not None or ending.y_mm is not None:
        return _judge_hit(panel, ending)
    if ending.place is Place.PANEL:
        return _judge_named_zone(panel, ending.zone)
    if ending.place is None or ending.zone is not None:
        what = Message("trial_outcomes.say_where_it_ended")
        raise Invalid.at("place", what)
    points = panel.wall_points if ending.place is Place.WALL else panel.nowhere_points
    return TrialOutcome(state=TrialState.MEASURED, place=ending.place, value=points)


def _judge_hit(panel: Panel, ending: Ending) -> TrialOutcome:
    x_mm, y_mm = ending.x_mm, ending.y_mm
    if x_mm is None or y_mm is None:
        raise Invalid.at("place", Message("trial_outcomes.place_needs_two_numbers"))
    if not panel.wall_holds(x_mm, y_mm):
        what = Message("trial_outcomes.that_place_is_off_the_wall")
        raise Invalid.at("place", what)
    place = Place.PANEL if panel.holds(x_mm, y_mm) else Place.WALL
    if ending.place not in {None, place}:
        what = Message("trial_outcomes.tapped_place_is_on_the", place=place)
        raise Invalid.at("place", what)
    zone = panel.find_zone(x_mm, y_mm)
    found = None if zone is None else zone.key
    if ending.zone not in {None, found}:
        raise Invalid.at("place", Message("trial_outcomes.tapped_place_is_in_another_zone"))
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
        raise Invalid.at("place", Message("trial_outcomes.panel_has_no_such_zone"))
    return TrialOutcome(
        state=TrialState.MEASURED,
        place=Place.PANEL,
        zone=key,
        value=panel.bare_points if zone is None else zone.points,
    )


def _judge_measure(outcome: Outcome, ending: Ending) -> TrialOutcome:
    if ending.says_where:
        raise Invalid.at("place", Message("trial_outcomes.challenge_takes_a_measure"))
    value = ending.value
    if value is None:
        raise Invalid.at("value", Message("trial_outcomes.measure_is_missing", unit=outcome.unit))
    if not math.isfinite(value) or not outcome.lowest <= value <= outcome.highest:
        what = Message(
            "trial_outcomes.it_can_be",
            lowest=outcome.lowest,
            highest=outcome.highest,
            unit=outcome.unit,
        )
        raise Invalid.at("value", what)
    if outcome.kind is OutcomeKind.COUNT and not value.is_integer():
        raise Invalid.at("value", Message("trial_outcomes.count_is_a_whole_number"))
    return TrialOutcome(state=TrialState.MEASURED, value=value)
