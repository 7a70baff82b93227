"""What a group writes at a stage."""

from __future__ import annotations

from collections.abc import Mapping

from werkzeug.exceptions import NotFound

from journal.domain.stages import NoteEntry, NoteKind, Stage
from journal.web.forms.fields import find_id


def read_stage(name: str) -> Stage:
    """Return the stage that an address names."""
    try:
        return Stage(name)
    except ValueError:
        raise NotFound from None


def read_notes(form: Mapping[str, str], stage: Stage) -> list[NoteEntry]:
    """Return the notes of a stage, those left empty too."""
    return [
        NoteEntry(
            kind=kind,
            starter=form.get(f"{kind.value}_starter", ""),
            words=form.get(kind.value, ""),
            student_id=find_id(form.get("who", "")),
            scribe=form.get("scribe", ""),
        )
        for kind in NoteKind
        if kind.stage is stage
    ]
