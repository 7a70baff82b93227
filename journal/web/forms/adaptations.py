"""The form that adapts a challenge for one group."""

from __future__ import annotations

from werkzeug.datastructures import MultiDict

from journal.domain.adaptations import AdaptationEntry, AdaptationKind
from journal.domain.messages import Message
from journal.web.forms.fields import read_choice


def read_adaptation(form: MultiDict[str, str]) -> AdaptationEntry:
    """Return what the teacher adapts."""
    kind = form.get("kind", "")
    return AdaptationEntry(
        kind=read_choice(
            AdaptationKind, kind, "kind", Message("adaptations.choose_what_you_adapt")
        ),
        distance=form.get("distance", ""),
        trials=form.get("trials", ""),
        note=form.get("note", ""),
        ticked=tuple(form.getlist("checks")),
    )
