"""The form of a trial, sent without a script: fields come in, a TrialEntry goes out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from werkzeug.datastructures import MultiDict

from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message
from journal.domain.trial_fields import values_of
from journal.domain.trials import Ending, Place, TrialEntry, TrialKind
from journal.web.forms.fields import find_id, read_id, read_number

_HANDLING = "handling-"


def read_entry(form: MultiDict[str, str], now: datetime) -> TrialEntry:
    """Return what the form says; raise Invalid with a sentence for each field."""
    problems: list[Problem] = []
    student_id = find_id(form.get("student_id", ""))
    own = [
        value for name, value in form.items() if student_id and name.startswith(f"own-{student_id}")
    ]
    revision_ids = [find_id(text) for text in (*form.getlist("shared"), *own)]
    if None in revision_ids:
        problems.append(
            Problem("revision_ids", Message("trials.choose_what_was_used_under_the_name"))
        )
    kind = form.get("kind", TrialKind.PRACTICE.value)
    if kind not in set(TrialKind):
        problems.append(Problem("kind", Message("corrections.choose_practice_or_counted")))
    amount = read_number(form.get("amount", ""), "amount", problems)
    ending = read_ending(form, problems)
    if problems:
        raise Invalid.of(problems)
    return TrialEntry(
        revision_ids=tuple(id_ for id_ in revision_ids if id_ is not None),
        kind=TrialKind(kind),
        logged_at=now,
        student_id=student_id,
        scribe_id=find_id(form.get("scribe_id", "")),
        handling={
            name.removeprefix(_HANDLING): value
            for name, value in form.items()
            if name.startswith(_HANDLING)
        },
        amount=amount,
        **values_of(ending, Ending),
    )


def read_trial_id(form: Mapping[str, str]) -> UUID:
    """Return the id that the page made for the trial."""
    sentence = Message("trials.page_was_open_for_too_long")
    return read_id(form.get("trial_id", ""), "trial_id", sentence)


def read_place(at: str) -> tuple[Place | None, str | None]:
    """Return place and zone of a button such as "zone:bark", "bare", "wall" or "nowhere"."""
    if at.startswith("zone:"):
        return Place.PANEL, at.removeprefix("zone:")
    places = {"bare": Place.PANEL, "wall": Place.WALL, "nowhere": Place.NOWHERE}
    return places.get(at), None


def read_ending(form: Mapping[str, str], problems: list[Problem]) -> Ending:
    """Return where it ended by the button that was tapped; a number that is none is noted."""
    at = form.get("at", "")
    if at.startswith("misfire:"):
        return Ending(misfire=at.removeprefix("misfire:"))
    if at == "measure":
        return Ending(value=read_number(form.get("value", ""), "value", problems))
    place, zone = read_place(at)
    return Ending(place=place, zone=zone)
