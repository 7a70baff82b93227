"""Trend and autocorrelation within one revision, in words: records in, a sentence out."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from journal.analysis.autocorrelation import Autocorrelation, find_autocorrelation
from journal.analysis.practice import Practice, practice_over
from journal.analysis.records import TrialRecord, by_revision
from journal.analysis.verdicts import LEVEL
from journal.content.teacher_words import show_p_value, word_for_teacher
from journal.domain.challenges import Outcome
from journal.domain.outcomes import Direction, DirectionKind


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeFinding:
    """The trend within students and the lag-one autocorrelation, in the teacher's words as well."""

    practice: Practice
    #: In the same revision; None where no student's results differ.
    autocorrelation: Autocorrelation | None
    sentence: str


def find_practice(
    records: tuple[TrialRecord, ...], outcome: Outcome, language: str
) -> PracticeFinding:
    """Find whether results rise or fall while the same thing is used again."""
    practice, autocorrelation = _look(records)
    return PracticeFinding(
        practice=practice,
        autocorrelation=autocorrelation,
        sentence=_describe(practice, autocorrelation, outcome, language),
    )


@lru_cache(maxsize=128)
def _look(records: tuple[TrialRecord, ...]) -> tuple[Practice, Autocorrelation | None]:
    practice = practice_over(records)
    return practice, find_autocorrelation(by_revision(records).get(practice.revision, []))


def _describe(
    practice: Practice, autocorrelation: Autocorrelation | None, outcome: Outcome, language: str
) -> str:
    if practice.p_value is None:
        return word_for_teacher("practice_none", language)
    key = "practice_level"
    if practice.p_value <= LEVEL and practice.score:
        key = "practice_rising" if practice.score > 0 else "practice_falling"
        # The middle step can be none at all, where results often stayed the same.
        if (practice.slope or 0) * practice.score <= 0:
            key = f"{key}_at_times"
    trend = _describe_trend(key, practice, outcome.unit, language)
    if key != "practice_level":
        return f"{trend} {word_for_teacher(_cause_of(practice, outcome.direction), language)}"
    # A trend makes neighbours alike by itself; without one it is news.
    if autocorrelation is None or not autocorrelation.is_clear:
        return trend
    alike = word_for_teacher(
        "practice_alike", language, lag_one=autocorrelation.lag_one, n=autocorrelation.n
    )
    return f"{trend} {alike}"


def _cause_of(practice: Practice, direction: Direction) -> str:
    """Return the key of what a trend can come from: by the outcome, better or worse."""
    if direction.kind is DirectionKind.NEAR:
        return "practice_or_tired"
    gets_better = ((practice.score or 0) > 0) == (direction.kind is DirectionKind.MORE)
    return "practice_at_work" if gets_better else "practice_tired"


def _describe_trend(key: str, practice: Practice, unit: str, language: str) -> str:
    return word_for_teacher(
        key,
        language,
        revision=practice.revision,
        slope=None if practice.slope is None else abs(practice.slope),
        unit=unit,
        n=practice.n,
        p_value=show_p_value(practice.p_value),
    )
