"""The form that puts a trial right: fields come in, a CorrectionEntry goes out."""

from __future__ import annotations

from collections.abc import Mapping

from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message
from journal.domain.trial_corrections import CORRECTED_NUMBERS, CorrectionEntry
from journal.domain.trials import TrialKind, TrialState
from journal.web.forms.fields import find_id, read_number
from journal.web.forms.trials import read_place


def read_correction(form: Mapping[str, str]) -> CorrectionEntry:
    """Return how the trial should be; raise Invalid with a sentence for each field."""
    problems: list[Problem] = []
    state, kind = form.get("state", ""), form.get("kind", "")
    if state not in set(TrialState):
        problems.append(Problem("state", Message("corrections.choose_what_it_was")))
    if kind not in set(TrialKind):
        problems.append(Problem("kind", Message("corrections.choose_practice_or_counted")))
    numbers = {
        field: read_number(form.get(field, ""), field, problems) for field in CORRECTED_NUMBERS
    }
    if problems:
        raise Invalid.of(problems)
    place, zone = read_place(form.get("at", ""))
    return CorrectionEntry(
        reason=form.get("reason", "").strip(),
        state=TrialState(state),
        kind=TrialKind(kind),
        student_id=find_id(form.get("student_id", "")),
        place=place,
        zone=zone,
        misfire=form.get("misfire") or None,
        **numbers,
    )
