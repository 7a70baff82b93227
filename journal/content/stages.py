"""The words of the six stages: a stage and a band in, title, question and labels out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from journal.content.texts import get_text
from journal.domain.classes import GradeBand
from journal.domain.stages import NoteKind, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class StageWords:
    """What a stage page says in one band's words."""

    title: str
    #: The one question that is the page's heading.
    question: str
    #: The label of each field of the page, in the order of the fields.
    labels: Mapping[NoteKind, str]


def get_stage_words(stage: Stage, band: GradeBand, language: str) -> StageWords:
    """Return the words of a stage page."""
    return StageWords(
        title=get_text("stages", language, stage.value, band.value, "title"),
        question=get_text("stages", language, stage.value, band.value, "question"),
        labels={
            kind: get_text("stages", language, stage.value, band.value, _label_key(kind))
            for kind in NoteKind
            if kind.stage is stage
        },
    )


def _label_key(kind: NoteKind) -> str:
    # "question" is the page's heading, so the field of that name has a key of its own.
    return "question_note" if kind is NoteKind.QUESTION else kind.value
