"""The questions of the ladder: a rung and a band in, one Question out, its slots to be filled.

Each rung has several wordings, for the kind of challenge and for what the trials point to. A
question may name a factor that the group itself changed; never a value, a direction or a remedy.
A factor keeps the name that the challenge gives it, whatever the language of the question.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

from journal.content.ladder_documents import Wording, Wordings, read_ladder
from journal.content.languages import QUESTION_LANGUAGES
from journal.content.texts import FALLBACK_LANGUAGE, get_text, slots_of
from journal.domain.classes import GradeBand
from journal.domain.diagnoses import Reading
from journal.domain.ladders import Rung

_SLOT = re.compile(r"\{(factor|old|new)\}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question as it is put: what is read, what can be tapped, what is spoken."""

    text: str
    starters: tuple[str, ...]
    aloud: str
    #: The wording for a group that changed nothing yet.
    plain: str
    #: Of text and starters, so that a voice reads them rightly.
    language: str


def get_question(
    rung: Rung,
    band: GradeBand,
    language: str,
    *,
    launches: bool | None = None,
    points_to: Reading = Reading.CANNOT_TELL,
) -> Question:
    """Return the first question of a rung in a band's words, with its slots still open."""
    return questions_for(rung, band, language, launches=launches, points_to=points_to)[0]


def questions_for(
    rung: Rung,
    band: GradeBand,
    language: str,
    *,
    launches: bool | None = None,
    points_to: Reading = Reading.CANNOT_TELL,
) -> tuple[Question, ...]:
    """Return every wording that fits, what the trials point to first; slots are still open."""
    language = ladder_language(language)
    found = _read(language)[rung, band]
    fitting = [
        wording
        for wording in found.wordings
        if wording.launches in {None, launches} and wording.points_to in {None, points_to}
    ]
    fitting.sort(key=lambda wording: wording.points_to is None)
    return tuple(_question(wording, found.starters, language) for wording in fitting)


def all_questions(rung: Rung, band: GradeBand, language: str) -> tuple[Question, ...]:
    """Return every wording of a rung and band, whomever it fits."""
    language = ladder_language(language)
    found = _read(language)[rung, band]
    return tuple(_question(wording, found.starters, language) for wording in found.wordings)


def ladder_language(language: str) -> str:
    """Return the language in which questions are put: English where there is no such ladder."""
    return language if language in dict(QUESTION_LANGUAGES) else FALLBACK_LANGUAGE


def join_factors(names: Iterable[str], language: str) -> str:
    """Return the names of factors that were changed together, as they stand in a question."""
    between = get_text("ladders", ladder_language(language), "between_factors")
    return between.join(map(_inside, names))


def pick_fresh(questions: Collection[Question], put: Collection[str]) -> Question:
    """Return the first question that was not put yet; where all were, the one put longest ago.

    `put` are the texts already put, oldest first, of questions whose slots are filled.
    """
    seen = list(put)
    last = {text: place for place, text in enumerate(seen)}
    return min(questions, key=lambda question: last.get(question.text, -1))


def fill_question(
    question: Question, factor: str | None = None, old: str | None = None, new: str | None = None
) -> Question:
    """Return the question with the group's own factor and revisions in it.

    Where a slot has nothing to hold, because the group changed nothing, the plain wording is put.
    """
    given = {"factor": _inside(factor), "old": (old or "").strip(), "new": (new or "").strip()}
    text = question.text
    aloud = question.aloud
    if any(not given[slot] for slot in slots_of(text)):
        text = aloud = question.plain
    return replace(question, text=_fill(text, given), aloud=_fill(aloud, given))


@cache
def _read(language: str) -> dict[tuple[Rung, GradeBand], Wordings]:
    name = f"ladders/{language}.toml"
    text = (files("journal.content") / name).read_text(encoding="utf-8")
    return read_ladder(text, name, language)


def _question(wording: Wording, starters: tuple[str, ...], language: str) -> Question:
    return Question(
        text=wording.text,
        starters=starters,
        aloud=wording.text,
        plain=wording.plain or wording.text,
        language=language,
    )


def _fill(text: str, given: dict[str, str]) -> str:
    """Put values into slots in one pass: a brace in a child's own label is not a slot."""
    return _SLOT.sub(lambda slot: given[slot[1]], text)


def _inside(name: str | None) -> str:
    """Return a factor's name as it stands inside a sentence: "the rail length"."""
    name = (name or "").strip()
    return name[:1].lower() + name[1:]
