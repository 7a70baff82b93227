"""A trial in a few words, the same on tablet, desk and paper: challenge and trial in, words out."""

from __future__ import annotations

import math

from journal.content.messages import word_message
from journal.content.texts import find_entry
from journal.domain.challenges import Challenge
from journal.domain.factor_values import name_value
from journal.domain.messages import Message
from journal.domain.numbers import show_number, unit_of
from journal.domain.revision_rules import describe_new_value
from journal.domain.revisions import Change, Revision
from journal.domain.trials import Ending, Place, Trial, TrialKind, TrialState


def field_words(field: str, language: str, *, in_sentence: bool = False) -> str:
    """Return what a field of a trial is called; its own name where there is no word for it."""
    words = find_entry("trial_fields", language, "in_sentence" if in_sentence else "alone", field)
    return words if isinstance(words, str) else field


def count_words(count: int, singular: str, many: str) -> str:
    """Return a count with its noun."""
    return f"{count} {singular if count == 1 else many}"


def place_words(challenge: Challenge, trial: Trial) -> str:
    """Return where a trial ended, such as "Bark" or "Not on the wall"; empty for a measure."""
    panel = challenge.panel
    if panel is None or trial.place is None:
        return ""
    if trial.place is Place.WALL:
        return "Wall"
    if trial.place is Place.NOWHERE:
        return word_message(Message("trial_words.not_on_the_wall"))
    names = {zone.key: zone.name for zone in panel.zones}
    return names.get(trial.zone or "", panel.bare_name)


def value_words(challenge: Challenge, trial: Ending) -> str:
    """Return points or measure with the unit; empty for a misfire, and for what is no number."""
    if trial.value is None or not math.isfinite(trial.value):
        return ""
    number = show_number(trial.value)
    return f"{number} {unit_of(number, challenge.outcome.unit)}".strip()


def misfire_words(challenge: Challenge, trial: Trial) -> str:
    """Return the cause of a misfire in the challenge's words."""
    names = {cause.key: cause.name for cause in challenge.misfires}
    return names.get(trial.misfire or "", trial.misfire or "")


def outcome_words(challenge: Challenge, trial: Trial) -> str:
    """Return what came of a trial, such as "Bark, 4 points" or "Misfire: The dart got stuck"."""
    if trial.misfire is not None:
        return f"Misfire: {misfire_words(challenge, trial)}"
    parts = (place_words(challenge, trial), value_words(challenge, trial))
    return ", ".join(part for part in parts if part)


def result_words(challenge: Challenge, trial: Trial) -> str:
    """Return what stands in a list of trials, such as "Bark, 4 points" or "the band slipped"."""
    words = misfire_words if trial.misfire is not None else outcome_words
    return words(challenge, trial)


def describe_entry_state(challenge: Challenge, trial: Trial) -> str:
    """Return outcome and standing of a trial, such as "Bark, 4 points, practice"."""
    kind = "counted" if trial.kind is TrialKind.COUNTED else "practice"
    standing = {TrialState.VOID: "set aside", TrialState.STRUCK: "taken back"}
    return f"{outcome_words(challenge, trial)}, {standing.get(trial.state, kind)}"


def change_words(challenge: Challenge, key: str, change: Change) -> str:
    """Return one change of a part in a few words, such as "rail length 450 mm"."""
    kind = next((kind for kind in challenge.parts if kind.key == key), None)
    if kind is None:
        return name_value(change.factor, change.to_value, change.unit)
    return describe_new_value(change, kind, in_sentence=True)


def revision_words(challenge: Challenge, key: str, name: str, revision: Revision) -> str:
    """Return a revision with what is new in it, such as "Launcher 4, rail length 450 mm"."""
    label = f"{name} {revision.number}"
    if revision.parent_id is None or not revision.changes:
        return label
    rest = len(revision.changes) - 1
    more = f" and {count_words(rest, 'more change', 'more changes')}" if rest else ""
    return f"{label}, {change_words(challenge, key, revision.changes[0])}{more}"
