"""A comparison of two revisions in words: what was seen, what differed, what it leaves open."""

from __future__ import annotations

from journal.analysis.comparability import Difference, Unlike
from journal.analysis.compare import Comparison
from journal.analysis.verdicts import PracticeWord
from journal.domain.lengths import show_length
from journal.domain.numbers import read_number
from journal.domain.revisions import Revision
from journal.services.swap_findings import key_of
from journal.services.voices import Voice, told

_UNLIKE_SENTENCES = {
    Difference.DISTANCE: "distance_changed",
    Difference.PANEL: "panel_changed",
    Difference.NOBODY_TRIED_BOTH: "no_common_tester",
    Difference.TESTERS: "testers_differ",
    Difference.SESSION: "session_changed",
    Difference.HANDLING: "handling_differs",
}


def tell_comparison(comparison: Comparison | None, unit: str, voice: Voice) -> tuple[str, ...]:
    """Say the verdict with what practice can explain, and what was not alike."""
    if comparison is None:
        return ()
    key = key_of(comparison.verdict)
    if comparison.verdict.clear and comparison.practice is PracticeWord.NOT_RULED_OUT:
        key = f"{key}_practice"
    difference = comparison.difference
    verdict = voice.say(
        key,
        old=comparison.old,
        new=comparison.new,
        n_old=comparison.old_n,
        n_new=comparison.new_n,
        difference=None if difference is None else abs(difference),
        unit=unit,
    )
    return told(verdict, *(tell_unlike(one, voice) for one in comparison.unlike))


def tell_figures(comparison: Comparison | None, voice: Voice) -> tuple[str, ...]:
    """Say of how many pairs the new one leads and, where it is open, how often by chance."""
    if comparison is None or not comparison.verdict.tests:
        return ()
    sentences = []
    if comparison.better_of_ten is not None and voice.measures.show_counts:
        sentences.append(voice.say("pairs", pairs=comparison.better_of_ten))
    if comparison.p_value is not None and voice.measures.show_p_value:
        sentences.append(voice.say("by_chance", times=round(1000 * comparison.p_value)))
    return told(*sentences)


def tell_several(revision: Revision, voice: Voice) -> tuple[str, ...]:
    """Say that several changes at a time leave open which of them did it."""
    return told(voice.say("several_changes")) if len(revision.changes) > 1 else ()


def tell_unlike(unlike: Unlike, voice: Voice) -> str:
    """Say one thing that was not alike; "" for what only a teacher is told."""
    if unlike.what not in _UNLIKE_SENTENCES:
        return ""
    old, new = ", ".join(unlike.old), ", ".join(unlike.new)
    if unlike.what is Difference.DISTANCE:
        old, new = (
            ", ".join(show_length(read_number(one)) for one in side)
            for side in (unlike.old, unlike.new)
        )
    return voice.say(_UNLIKE_SENTENCES[unlike.what], old=old, new=new)
