"""Contrasts between ways of handling, in words: trial records in, HandlingWords out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from journal.analysis.comparability import Difference
from journal.analysis.compare import Comparison
from journal.analysis.handling import HandlingContrast, HandlingFinding, contrast_handlings
from journal.analysis.looks import LIVE_STEPS, adjust
from journal.analysis.records import TrialRecord
from journal.analysis.verdicts import LEVEL, PracticeWord, Verdict
from journal.content.teacher_words import show_p_value, word_for_teacher
from journal.domain.challenges import Challenge, Outcome
from journal.domain.outcomes import Direction
from journal.domain.trials import Trial
from journal.findings.comparisons import choose_verdict, way_apart
from journal.findings.p_values import describe_p_values
from journal.findings.voices import Voice

#: Pairs of ways that are named in one sentence; of more their number is said.
MOST_PAIRS = 4
_UNLIKE = {Difference.SESSION: "handling_sessions", Difference.KIND: "kind_differs"}
_PLACES = {Verdict.MORE: 0, Verdict.LESS: 0, Verdict.NO_CLEAR_DIFFERENCE: 1, Verdict.SAME: 1}
#: The sentences of verdicts that are sure, by the key that they have for revisions.
_CLEAR_KEYS = {
    "did_better": "better",
    "did_worse": "worse",
    "came_higher": "other",
    "came_lower": "other",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingLine:
    """One way beside another, for the teacher."""

    sentence: str
    #: How sure it is, and what else could explain it.
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingWords:
    """What the ways of handling have to do with the outcome."""

    found: HandlingFinding
    #: For the teacher: clear ones first.
    lines: tuple[HandlingLine, ...]
    #: For the teacher: what the lines rest on, and which ways cannot be compared.
    notes: tuple[str, ...]
    #: The clear contrast that the group reads of, in its band's words; None and "" without one.
    spoken: HandlingContrast | None
    sentence: str

    def describe_mixed_use(self, trials: Sequence[Trial]) -> tuple[str, ...]:
        """Return the sentence where some of these trials were done one way and some the other."""
        if self.spoken is None:
            return ()
        pair = self.spoken.comparison
        ways = {trial.handling.get(self.spoken.name) for trial in trials}
        return (self.sentence,) if {pair.old, pair.new} <= ways else ()


def find_handling(
    records: tuple[TrialRecord, ...],
    challenge: Challenge,
    voice: Voice,
    steps: tuple[int, ...] | None = LIVE_STEPS,
) -> HandlingWords:
    """Find what the ways of handling did, each child with each device beside themselves.

    `steps` are the numbers of trials a side at which it is judged; None judges all of them.
    """
    found = _contrast(records, challenge.outcome.direction, steps)
    names = {choice.key: choice.name for choice in challenge.handling}
    tested = [contrast for contrast in found.contrasts if contrast.comparison.verdict.tests]
    least = adjust(
        [handling_contrast.comparison.smallest_p or 0.0 for handling_contrast in tested],
        [handling_contrast.comparison.course for handling_contrast in tested],
    )
    clear = [
        handling_contrast
        for handling_contrast in tested
        if handling_contrast.comparison.verdict.clear
    ]
    # One whose ways were used in turn says more than one that practice can explain.
    spoken = min(clear, key=_open_to_practice, default=None)
    lines = [
        (
            _PLACES.get(contrast.comparison.verdict, 2),
            _line(contrast, names, smallest, len(tested), challenge.outcome, voice.language),
        )
        for contrast, smallest in zip(tested, least, strict=True)
    ]
    return HandlingWords(
        found=found,
        lines=tuple(line for _, line in sorted(lines, key=lambda placed: placed[0])),
        notes=_notes(found, names, voice.language),
        spoken=spoken,
        sentence=_describe(spoken, voice),
    )


@lru_cache(maxsize=256)
def _contrast(
    records: tuple[TrialRecord, ...], direction: Direction, steps: tuple[int, ...] | None
) -> HandlingFinding:
    """Contrast once for the same trials, however often a screen asks."""
    return contrast_handlings(records, direction, steps)


def _line(
    contrast: HandlingContrast,
    names: Mapping[str, str],
    smallest: float,
    together: int,
    outcome: Outcome,
    language: str,
) -> HandlingLine:
    comparison, near = contrast.comparison, outcome.direction.near
    key = choose_verdict(comparison, outcome.direction)
    way, difference = way_apart(comparison, outcome.direction)
    sentence = word_for_teacher(
        f"handling_{_CLEAR_KEYS.get(key, key)}",
        language,
        name=names.get(contrast.name, contrast.name),
        old=comparison.old,
        new=comparison.new,
        n_old=comparison.old_n,
        n_new=comparison.new_n,
        count=contrast.students,
        difference=difference,
        unit=outcome.unit,
        way=word_for_teacher(f"way_{way}", language, near=near),
        near=near,
    )
    return HandlingLine(
        sentence=sentence, figures=_figures(comparison, smallest, together, outcome.unit, language)
    )


def _figures(
    comparison: Comparison, smallest: float, together: int, unit: str, language: str
) -> tuple[str, ...]:
    figures = []
    if comparison.verdict.clear and comparison.interval is not None:
        higher = comparison.verdict is Verdict.MORE
        low, high = comparison.interval if higher else (-end for end in comparison.interval[::-1])
        key = f"handling_interval_{'higher' if higher else 'lower'}"
        figures.append(word_for_teacher(key, language, low=low, high=high, unit=unit))
    figures += describe_p_values(comparison, together, unit, language)
    if smallest > LEVEL and comparison.course is not None:
        figures.append(
            word_for_teacher("smallest_p", language, p_value=show_p_value(smallest), count=together)
        )
    if comparison.verdict.clear and comparison.practice is PracticeWord.NOT_RULED_OUT:
        figures.append(word_for_teacher("handling_practice", language))
    figures += [
        word_for_teacher(_UNLIKE[unlike.what], language)
        for unlike in comparison.unlike
        if unlike.what in _UNLIKE
    ]
    return tuple(figures)


def _notes(found: HandlingFinding, names: Mapping[str, str], language: str) -> tuple[str, ...]:
    notes = []
    tested = sum(contrast.comparison.verdict.tests for contrast in found.contrasts)
    if tested:
        notes.append(word_for_teacher("handling_is_use", language, count=tested))
    early = [
        (contrast.name, contrast.comparison.old, contrast.comparison.new)
        for contrast in found.contrasts
        if contrast.comparison.verdict is Verdict.TOO_EARLY
    ]
    if early:
        pairs = _pairs(early, names, language)
        notes.append(word_for_teacher("handling_too_early", language, pairs=pairs))
    if found.apart:
        apart = [
            (handling_apart.name, handling_apart.first, handling_apart.second)
            for handling_apart in found.apart
        ]
        pairs = _pairs(apart, names, language)
        notes.append(word_for_teacher("handling_apart", language, pairs=pairs))
    if found.recorded and not found.contrasts and not found.apart:
        notes.append(word_for_teacher("handling_one_way", language))
    return tuple(notes)


def _pairs(pairs: Sequence[tuple[str, str, str]], names: Mapping[str, str], language: str) -> str:
    clauses = [
        word_for_teacher(
            "handling_pair", language, name=names.get(name, name), first=first, last=last
        )
        for name, first, last in pairs[:MOST_PAIRS]
    ]
    if len(pairs) > MOST_PAIRS:
        more = len(pairs) - MOST_PAIRS
        clauses.append(word_for_teacher("handling_more_pairs", language, count=more))
    return "; ".join(clauses)


def _open_to_practice(contrast: HandlingContrast) -> bool:
    return contrast.comparison.practice is PracticeWord.NOT_RULED_OUT


def _describe(spoken: HandlingContrast | None, voice: Voice) -> str:
    """Say that one way did better than another; which one is left to the group's own look."""
    if spoken is None:
        return ""
    key = "handling_apart" if spoken.comparison.better is None else "handling_clear"
    return voice.say(f"{key}_practice" if _open_to_practice(spoken) else key)
