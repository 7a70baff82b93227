"""Checks one imported row against the challenge: a row in, plain values or problems out.

Every problem names row and column, so that all of them are mended at once.
"""

from __future__ import annotations

from journal.domain.challenges import Challenge, OutcomeKind
from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.panels import Panel
from journal.domain.trial_outcomes import TrialOutcome, check_amount, judge_outcome
from journal.domain.trials import Ending, Place
from journal.exchange.problems import TableProblems
from journal.exchange.trials import CsvTrial

#: Where a problem of an outcome stands, when the domain names it otherwise than the table does.
_COLUMNS = {"place": "place", "value": "value", "misfire": "misfire"}


def read_handling(trial: CsvTrial, challenge: Challenge, problems: TableProblems) -> dict[str, str]:
    """Return how it was used, from "pull=full; tilt=mark 3" or "full; mark 3".

    What the row does not tell stays untold.
    """
    chosen: dict[str, str] = {}
    for words in filter(None, (part.strip() for part in trial.handling.split(";"))):
        name, equals, value = (part.strip() for part in words.partition("="))
        matches = [
            (handling_choice.key, choice)
            for handling_choice in challenge.handling
            if not equals
            or name.casefold() in {handling_choice.key.casefold(), handling_choice.name.casefold()}
            for choice in handling_choice.choices
            if choice.casefold() == (value if equals else name).casefold()
        ]
        if len(matches) == 1:
            chosen[matches[0][0]] = matches[0][1]
        else:
            problems.note(trial.row, "handling", _handling_problem(words, challenge, len(matches)))
    return chosen


def judge_row(
    trial: CsvTrial, challenge: Challenge, problems: TableProblems
) -> TrialOutcome | None:
    """Return what the trial is worth by the challenge's own rule; None where it cannot be so."""
    for column in ("guest", "owner"):
        if getattr(trial, column):
            problems.note(trial.row, column, Message("guest_tests.not_imported"))
    for problem in check_amount(challenge.outcome, trial.amount):
        problems.note(trial.row, "amount", problem.what)
    try:
        outcome = judge_outcome(challenge, _ending(trial, challenge))
    except Invalid as error:
        for problem in error.problems:
            column = _COLUMNS.get(problem.field, problem.field)
            if column == "place" and trial.x_mm is not None:
                column = "x_mm"
            problems.note(trial.row, column, problem.what)
        return None
    given, found = trial.value, outcome.value
    if trial.x_mm is not None and given is not None and given != found:
        worth = Message("imports.nothing") if found is None else found
        what = Message("imports.that_place_is_worth", worth=worth, told=given)
        problems.note(trial.row, "value", what)
    return outcome


def _ending(trial: CsvTrial, challenge: Challenge) -> Ending:
    misfire = _misfire_key(trial, challenge)
    panel = challenge.panel
    if misfire is None and challenge.outcome.kind is OutcomeKind.ZONES and panel is not None:
        if trial.x_mm is not None:
            return Ending(x_mm=trial.x_mm, y_mm=trial.y_mm, place=trial.place)
        if trial.value is not None:
            return _ending_of_points(trial.value, trial.place, panel)
        if trial.place is Place.PANEL:
            what = Message("imports.say_where_on_the_panel")
            raise Invalid.at("place", what)
    return Ending(
        place=trial.place,
        x_mm=trial.x_mm,
        y_mm=trial.y_mm,
        value=trial.value,
        misfire=misfire,
    )


def _ending_of_points(points: float, place: Place | None, panel: Panel) -> Ending:
    """Return the place that points stand for, where only one does."""
    if place in {None, Place.PANEL}:
        zones = [zone.key for zone in panel.zones if zone.points == points]
        if len(zones) == 1 and points != panel.bare_points:
            return Ending(place=Place.PANEL, zone=zones[0])
        if not zones and points == panel.bare_points:
            return Ending(place=Place.PANEL)
    off = {Place.WALL: panel.wall_points, Place.NOWHERE: panel.nowhere_points}
    places = [key for key, worth in off.items() if worth == points and place in {None, key}]
    if len(places) == 1:
        return Ending(place=places[0])
    if places:
        what = Message("imports.points_can_be_the_wall_or_nowhere", points=points)
        raise Invalid.at("place", what)
    raise Invalid.at(
        "value", Message("imports.no_place_of_the_panel_is_worth_points", points=points)
    )


def _misfire_key(trial: CsvTrial, challenge: Challenge) -> str | None:
    if trial.misfire is None:
        return None
    written = trial.misfire.casefold()
    for cause in challenge.misfires:
        if written in {cause.key.casefold(), cause.name.casefold()}:
            return cause.key
    names = ", ".join(cause.name for cause in challenge.misfires)
    what = Message("imports.no_cause_of_a_misfire_here", misfire=trial.misfire, names=names)
    raise Invalid.at("misfire", what)


def _handling_problem(written: str, challenge: Challenge, matches: int) -> Message:
    if not challenge.handling:
        return Message("imports.challenge_has_no_choices_of_how")
    if matches:
        return Message("imports.can_mean_more_than_one_thing", told=written)
    choices = "; ".join(
        f"{choice.key}={' or '.join(choice.choices)}" for choice in challenge.handling
    )
    return Message("imports.no_choice_of_this_challenge", told=written, choices=choices)
