"""The form that adapts a challenge for one group."""

from __future__ import annotations

from werkzeug.datastructures import MultiDict

from journal.domain.adaptations import AdaptationEntry, AdaptationKind
from journal.web.forms.fields import read_choice


def read_adaptation(form: MultiDict[str, str]) -> AdaptationEntry:
    """Return what the teacher adapts."""
    kind = form.get("kind", "")
    return AdaptationEntry(
        kind=read_choice(AdaptationKind, kind, "kind", "Choose what you adapt."),
        distance=form.get("distance", ""),
        trials=form.get("trials", ""),
        note=form.get("note", ""),
        ticked=tuple(form.getlist("checks")),
    )
