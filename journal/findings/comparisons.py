"""A comparison of two revisions in words: the difference, its size, and what stays open.

Better and worse always go by the outcome's direction. What is said to differ is the difference that
was tested, within students or pairs, and it is called that; where the numbers beside it are of
other trials, or of unequal turns, that is said too.
"""

from __future__ import annotations

from dataclasses import dataclass

from journal.analysis.comparability import Difference, Unlike
from journal.analysis.compare import Basis, Comparison
from journal.analysis.dominance import PairCounts
from journal.analysis.misfires import MisfireWord
from journal.analysis.verdicts import PracticeWord, Verdict
from journal.content.rounding import split_up
from journal.content.texts import key_of
from journal.domain.challenges import Outcome
from journal.domain.lengths import show_length
from journal.domain.numbers import read_number
from journal.domain.outcomes import Direction, DirectionKind
from journal.domain.revisions import Revision
from journal.findings.voices import Voice, non_empty

_UNLIKE_SENTENCES = {
    Difference.DISTANCE: "distance_changed",
    Difference.PANEL: "panel_changed",
    Difference.NOBODY_TRIED_BOTH: "no_common_tester",
    Difference.TESTERS: "testers_differ",
    Difference.SESSION: "session_changed",
    Difference.HANDLING: "handling_differs",
}
_TEN = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTrials:
    """How many trials with a value the page shows of the two that are compared."""

    old: int
    new: int
    #: Whether a student's trials differ, so that the two are not the same so far.
    differ: bool = False


def leads_so_far(comparison: Comparison, direction: Direction) -> bool | None:
    """Tell whether the new one is ahead in the outcome's direction; None where they are level."""
    if direction.kind is DirectionKind.NEAR:
        apart = comparison.nearness_difference
        return None if not apart else apart < 0
    apart = comparison.difference
    return None if not apart else (apart > 0) == (direction.kind is DirectionKind.MORE)


def choose_verdict(comparison: Comparison, direction: Direction) -> str:
    """Return the key of the sentence that says which one did better, and whether that is sure."""
    verdict = comparison.verdict
    if verdict in {Verdict.NOT_COMPARABLE, Verdict.TOO_EARLY, Verdict.SAME}:
        return key_of(verdict)
    if verdict is Verdict.HINT:
        leads = leads_so_far(comparison, direction)
        return "hint_level" if leads is None else "hint_better" if leads else "hint_worse"
    if comparison.better is not None:
        return "did_better" if comparison.better else "did_worse"
    if verdict.clear:
        return "came_higher" if verdict is Verdict.MORE else "came_lower"
    return key_of(verdict)


def describe_comparison(
    comparison: Comparison | None, outcome: Outcome, voice: Voice, shown: ShownTrials | None = None
) -> tuple[str, ...]:
    """Say the verdict, how far apart, on which trials that rests, and what was not alike."""
    if comparison is None:
        return ()
    return non_empty(
        *open_comparison(comparison, outcome, voice, shown),
        *(describe_unlike(unlike, voice) for unlike in comparison.unlike),
    )


def open_comparison(
    comparison: Comparison, outcome: Outcome, voice: Voice, shown: ShownTrials | None = None
) -> tuple[str, ...]:
    """Say what must stand together: the verdict, how far apart, and what explains its numbers."""
    key = choose_verdict(comparison, outcome.direction)
    if comparison.verdict is Verdict.SAME and shown is not None and shown.differ:
        key = "the_same_at_first"
    certain = key.startswith(("did_", "came_"))
    if certain and comparison.practice is PracticeWord.NOT_RULED_OUT:
        key = f"{key}_practice"
    old_n, new_n = count_compared(comparison)
    verdict = voice.say(
        key,
        old=comparison.old,
        new=comparison.new,
        n_old=old_n,
        n_new=new_n,
        near=outcome.direction.near,
    )
    return non_empty(
        verdict,
        describe_misfires(comparison, voice),
        describe_difference(comparison, outcome, voice),
        *_describe_basis(comparison, outcome, voice, shown),
    )


def describe_misfires(comparison: Comparison, voice: Voice) -> str:
    """Say that the new one misfires more or less often; "" where that is not clear."""
    misfires = comparison.misfires
    if misfires is None or misfires.word is MisfireWord.NO_CLEAR_DIFFERENCE:
        return ""
    return voice.say(
        "misfires_more" if misfires.word is MisfireWord.MORE else "misfires_fewer",
        old=comparison.old,
        new=comparison.new,
        misfires_old=misfires.old,
        n_old=misfires.old_n,
        misfires_new=misfires.new,
        n_new=misfires.new_n,
    )


def count_compared(comparison: Comparison) -> tuple[int, int]:
    """Return how many old and new trials the figures rest on."""
    if not comparison.old_compared:
        return comparison.old_n, comparison.new_n
    return comparison.old_compared, comparison.new_compared


def describe_difference(comparison: Comparison, outcome: Outcome, voice: Voice) -> str:
    """Say the difference that was tested as what it is; "" where means are not open."""
    if not comparison.verdict.tests or not voice.measures.show_mean:
        return ""
    old_n, new_n = count_compared(comparison)
    slots: dict[str, object] = {"new": comparison.new, "n_old": old_n, "n_new": new_n}
    if comparison.verdict is Verdict.SAME:
        return voice.say("compared_n", **slots)
    way, apart = way_apart(comparison, outcome.direction)
    key = f"difference_{way}"
    if comparison.basis is Basis.TOGETHER:
        key = f"{key}_together"
    else:
        slots["basis"] = voice.say_in_sentence(f"basis_{comparison.basis.value}")
    near = outcome.direction.near
    return voice.say(key, **slots, difference=apart, unit=outcome.unit, near=near)


def way_apart(comparison: Comparison, direction: Direction) -> tuple[str, float]:
    """Return the word for the way the new one lies from the old one, and how far."""
    # Where the height is clear and the nearness is not, the verdict speaks of the height.
    by_height = comparison.verdict.clear and comparison.better is None
    if direction.kind is DirectionKind.NEAR and not by_height:
        nearness = comparison.nearness_difference
        if not nearness:
            return "level", 0.0
        return "nearer" if nearness < 0 else "farther", abs(nearness)
    difference = comparison.difference
    if not difference:
        return "level", 0.0
    return "higher" if difference > 0 else "lower", abs(difference)


def _describe_basis(
    comparison: Comparison, outcome: Outcome, voice: Voice, shown: ShownTrials | None
) -> tuple[str, ...]:
    """Say on which trials it rests, where those are not the ones shown beside it."""
    if not comparison.old_compared or comparison.basis is Basis.PAIRS:
        return ()
    old_n, new_n = count_compared(comparison)
    slots = {"old": comparison.old, "new": comparison.new, "n_old": old_n, "n_new": new_n}
    first = _rests_on_first(comparison, shown)
    both = (old_n, new_n) != (comparison.old_n, comparison.new_n)
    return non_empty(
        voice.say(
            "rests_on_first", **slots | {"n_old": comparison.old_n, "n_new": comparison.new_n}
        )
        if first
        else "",
        voice.say("rests_on_both", **slots) if both else "",
        _describe_unequal_turns(comparison, outcome, voice),
    )


def _rests_on_first(comparison: Comparison, shown: ShownTrials | None) -> bool:
    """Tell whether more trials are shown than the verdict rests on."""
    return shown is not None and (comparison.old_n, comparison.new_n) != (shown.old, shown.new)


def _describe_unequal_turns(comparison: Comparison, outcome: Outcome, voice: Voice) -> str:
    """Say how far apart the plain means lie, where turns make that another number."""
    plain, difference = comparison.plain_difference, comparison.difference
    shown = describe_difference(comparison, outcome, voice) and comparison.basis is Basis.STUDENTS
    if not shown or plain is None or difference is None or comparison.verdict is Verdict.SAME:
        return ""
    if voice.show(plain) == voice.show(difference):
        return ""
    key = "unequal_turns" if plain else "unequal_turns_same"
    return voice.say(key, difference=abs(plain), unit=outcome.unit)


def describe_figures(comparison: Comparison | None, voice: Voice) -> tuple[str, ...]:
    """Say in how many pairs the new one leads and, where it is open, how often by chance."""
    if comparison is None or not comparison.verdict.tests or comparison.verdict is Verdict.SAME:
        return ()
    sentences: list[str] = []
    if comparison.pairs is not None and voice.measures.show_counts:
        sentences += describe_pairs(comparison.pairs, voice)
        if goes_against_pairs(comparison):
            sentences.append(voice.say("pairs_against"))
    if comparison.p_value is not None and voice.measures.show_p_value:
        sentences.append(describe_chance(comparison.p_value, voice))
    return non_empty(*sentences)


def describe_pairs(pairs: PairCounts, voice: Voice) -> tuple[str, ...]:
    """Say in how many of ten pairs the new one leads, and in how many neither does."""
    if pairs.leads == pairs.count:
        return non_empty(voice.say("pairs_all"))
    if pairs.ties == pairs.count:
        return non_empty(voice.say("pairs_all_tie"))
    leads, ties, _ = split_up((pairs.leads, pairs.ties, pairs.trails), _TEN)
    if not pairs.leads:
        sentence = voice.say("pairs_none")
    elif leads in {0, _TEN}:
        sentence = voice.say("pairs_nearly_all" if leads else "pairs_hardly_any")
    else:
        sentence = voice.say("pairs", leads=leads)
    if not ties:
        return non_empty(sentence)
    tie = "pairs_nearly_all_tie" if ties == _TEN else "pairs_tie"
    return non_empty(sentence, voice.say(tie, ties=ties))


def goes_against_pairs(comparison: Comparison) -> bool:
    """Tell whether most pairs that differ point the other way than the verdict."""
    pairs, better = comparison.pairs, comparison.better
    if pairs is None or better is None:
        return False
    return pairs.trails > pairs.leads if better else pairs.leads > pairs.trails


def describe_chance(p_value: float, voice: Voice) -> str:
    """Say how often chance alone brings such a gap."""
    times = round(1000 * p_value)
    if p_value == 1:
        return voice.say("by_chance_always")
    if times in {0, 1000}:
        return voice.say("by_chance_nearly_always" if times else "by_chance_hardly_ever")
    return voice.say("by_chance", n=times)


def describe_several_changes(revision: Revision, voice: Voice) -> tuple[str, ...]:
    """Say that several changes at a time leave open which of them did it."""
    return non_empty(voice.say("several_changes")) if len(revision.changes) > 1 else ()


def describe_unlike(unlike: Unlike, voice: Voice) -> str:
    """Say one thing that was not alike; "" for what only a teacher reads."""
    if unlike.what not in _UNLIKE_SENTENCES:
        return ""
    old, new = ", ".join(unlike.old), ", ".join(unlike.new)
    if unlike.what is Difference.DISTANCE:
        old, new = (
            ", ".join(show_length(read_number(distance)) for distance in side)
            for side in (unlike.old, unlike.new)
        )
    return voice.say(_UNLIKE_SENTENCES[unlike.what], old=old, new=new)
