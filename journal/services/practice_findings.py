"""Whether practice is at work within one revision's trials: records in, a sentence out."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from journal.analysis.practice import Practice, practice_over
from journal.analysis.records import TrialRecord
from journal.analysis.verdicts import LEVEL
from journal.content.teacher_words import show_p_value, tell_teacher


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeFinding:
    """The trend within students, in figures and in the teacher's words."""

    practice: Practice
    sentence: str


def find_practice(records: tuple[TrialRecord, ...], unit: str, language: str) -> PracticeFinding:
    """Find whether results rise or fall while the same thing is used again."""
    practice = _practice(records)
    return PracticeFinding(practice=practice, sentence=_tell(practice, unit, language))


@lru_cache(maxsize=128)
def _practice(records: tuple[TrialRecord, ...]) -> Practice:
    return practice_over(records)


def _tell(practice: Practice, unit: str, language: str) -> str:
    if practice.p_value is None:
        return tell_teacher("practice_none", language)
    key = "practice_level"
    if practice.p_value <= LEVEL and practice.score:
        key = "practice_rising" if practice.score > 0 else "practice_falling"
    return tell_teacher(
        key,
        language,
        revision=practice.revision,
        slope=None if practice.slope is None else abs(practice.slope),
        unit=unit,
        n=practice.n,
        p_value=show_p_value(practice.p_value),
    )
