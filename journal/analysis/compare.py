"""Did the change help? Old and new revision of one group, told apart within students.

Comes in: records. Goes out: `Comparison`, one for each pair of revisions shown: the weighted
difference of means, its interval and exact p-value, how often the new one is ahead, the verdict,
and whether practice alone could explain it.

Notes: blocks (all old trials first, all new ones after) never rule practice out, whatever a trend
test finds: with skill still rising every test calls the new one different. Turns (A B B A) do.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from journal.analysis.comparability import Unlike, differences_between
from journal.analysis.dominance import cliff_delta, hodges_lehmann
from journal.analysis.permutation import Method, PermutationTest, permute
from journal.analysis.records import TrialRecord, by_revision, by_student, measured_values
from journal.analysis.strata import Stratum
from journal.analysis.summary import mean_of
from journal.analysis.turns import cut_at_step, turn_pairs
from journal.analysis.verdicts import LEAST_TRIALS, LEVEL, PracticeWord, Verdict, holm, judge
from journal.domain.outcomes import MORE_IS_BETTER, Direction, DirectionKind

TEN_PAIRS = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """New against old, in the unit of the outcome; None where it cannot be said."""

    old: str
    new: str
    #: Trials with a value, up to the step the verdict rests on.
    old_n: int
    new_n: int
    difference: float | None
    interval: tuple[float, float] | None
    p_value: float | None
    smallest_p: float | None
    #: After Holm over the comparisons shown together.
    adjusted_p: float | None = None
    method: Method | None = None
    interval_method: Method | None = None
    hodges_lehmann: float | None = None
    cliff_delta: float | None = None
    #: Of ten pairs of trials the new one does better in about this many.
    better_of_ten: int | None = None
    verdict: Verdict
    #: Whether the new one is better in the outcome's direction; None where that is not clear.
    better: bool | None = None
    practice: PracticeWord
    comparable: bool
    unlike: tuple[Unlike, ...] = ()
    #: The number of trials a side at which the verdict was formed; None for finished data.
    step: int | None = None
    #: p-value of the distances to the value to come near to, where nearness is better.
    nearness_p: float | None = None
    nearness_difference: float | None = None


def strata_of(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> tuple[Stratum, ...]:
    """Return the values of each student who has both; nobody known is one stratum."""
    olds, news = by_student(old), by_student(new)
    both = [
        Stratum(tuple(measured_values(olds[student])), tuple(measured_values(news[student])))
        for student in olds
        if student in news
    ]
    return tuple(stratum for stratum in both if stratum.old and stratum.new)


def compare(
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    direction: Direction = MORE_IS_BETTER,
    steps: Sequence[int] | None = None,
) -> Comparison:
    """Compare two revisions by themselves; both sides need at least one record.

    With `steps` the data is looked at only up to the last of these numbers of trials that both
    sides have reached; without, on all of it.
    """
    return settle([measure(old, new, direction, steps)], direction)[0]


def compare_revisions(
    records: Sequence[TrialRecord],
    direction: Direction = MORE_IS_BETTER,
    parents: Mapping[str, Sequence[str]] | None = None,
    steps: Sequence[int] | None = None,
) -> tuple[Comparison, ...]:
    """Compare each revision with its parents, and with the best before it where that is another.

    A revision that `parents` does not name is compared with the one that appeared before it.
    """
    revisions = by_revision(records)
    names = list(revisions)
    measured = []
    for place, name in enumerate(names[1:], start=1):
        before = names[:place]
        named = [parent for parent in (parents or {}).get(name, ()) if parent in before]
        partners = named or ([before[-1]] if parents is None or name not in parents else [])
        best = best_of({earlier: revisions[earlier] for earlier in before}, direction)
        if best is not None and best not in partners:
            partners = [*partners, best]
        measured += [
            measure(revisions[partner], revisions[name], direction, steps) for partner in partners
        ]
    return settle(measured, direction)


def best_of(
    revisions: Mapping[str, Sequence[TrialRecord]], direction: Direction
) -> str | None:
    """Return the revision with the best mean, the earlier one where two are level.

    One with fewer than three values is only looked at where there is no other.
    """
    merits = {
        name: (len(values), mean_of([direction.merit(value) for value in values]) or 0.0)
        for name, records in revisions.items()
        if (values := measured_values(records))
    }
    enough = {name: merit for name, (n, merit) in merits.items() if n >= LEAST_TRIALS}
    pool = enough or {name: merit for name, (_, merit) in merits.items()}
    return max(pool, key=pool.__getitem__, default=None)


def measure(
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    direction: Direction,
    steps: Sequence[int] | None,
) -> Comparison:
    """Return the figures of one pair; `verdict` says only what needs no other comparison."""
    step = None
    if steps is not None:
        old, new, step = cut_at_step(old, new, steps)
    old_values, new_values = measured_values(old), measured_values(new)
    unlike = differences_between(old, new)
    strata = strata_of(old, new)
    enough = min(len(old_values), len(new_values))
    comparable = not any(one.what.forbids for one in unlike)
    # Nobody has a value with both: the differences say so, unless a side has no value at all.
    if enough and not strata:
        comparable = False
    figures = Comparison(
        old=old[0].revision,
        new=new[0].revision,
        old_n=len(old_values),
        new_n=len(new_values),
        difference=None,
        interval=None,
        p_value=None,
        smallest_p=None,
        verdict=Verdict.TOO_EARLY if comparable else Verdict.NOT_COMPARABLE,
        practice=(
            PracticeWord.NOT_RULED_OUT if turn_pairs(old, new) is None else PracticeWord.BALANCED
        ),
        comparable=comparable,
        unlike=unlike,
        step=step,
    )
    test = permute(strata) if comparable else None
    if test is None:
        return figures
    figures = _filled(figures, test, old_values, new_values, direction)
    if direction.near is not None:
        near = permute(_distances(strata, direction.near))
        if near is not None:
            figures = replace(
                figures, nearness_p=near.p_value, nearness_difference=near.difference
            )
    if enough < LEAST_TRIALS:
        return figures
    waits = steps is not None and step is None
    return replace(
        figures, verdict=Verdict.HINT if waits else Verdict.NO_CLEAR_DIFFERENCE
    )


def _filled(
    figures: Comparison,
    test: PermutationTest,
    old: Sequence[float],
    new: Sequence[float],
    direction: Direction,
) -> Comparison:
    merits = cliff_delta(
        [direction.merit(value) for value in old], [direction.merit(value) for value in new]
    )
    return replace(
        figures,
        difference=test.difference,
        interval=test.interval,
        p_value=test.p_value,
        smallest_p=test.smallest_p,
        method=test.method,
        interval_method=test.interval_method,
        hodges_lehmann=hodges_lehmann(old, new),
        cliff_delta=cliff_delta(old, new),
        better_of_ten=None if merits is None else round(TEN_PAIRS * (merits + 1) / 2),
    )


def _distances(strata: Sequence[Stratum], near: float) -> tuple[Stratum, ...]:
    return tuple(
        Stratum(
            tuple(abs(value - near) for value in stratum.old),
            tuple(abs(value - near) for value in stratum.new),
        )
        for stratum in strata
    )


def settle(measured: Sequence[Comparison], direction: Direction) -> tuple[Comparison, ...]:
    """Return the comparisons shown together with their verdicts, adjusted for one another.

    Those that are not comparable or too early are not tested and do not count among the others.
    The smallest p-values these data could reach are adjusted in the same way.
    """
    places = [place for place, one in enumerate(measured) if one.verdict.tests]
    adjusted = holm([measured[place].p_value or 0.0 for place in places])
    smallest = holm([measured[place].smallest_p or 0.0 for place in places])
    nearness = holm([measured[place].nearness_p or 1.0 for place in places])
    settled = list(measured)
    for place, p_value, least, near in zip(places, adjusted, smallest, nearness, strict=True):
        one = measured[place]
        verdict = one.verdict
        if verdict is not Verdict.HINT and one.difference is not None:
            verdict = judge(one.difference, p_value, least)
        settled[place] = replace(
            one, adjusted_p=p_value, verdict=verdict, better=_better(one, verdict, near, direction)
        )
    return tuple(settled)


def _better(
    one: Comparison, verdict: Verdict, nearness_p: float, direction: Direction
) -> bool | None:
    """Tell whether new is better in the outcome's direction; None where that is not clear."""
    if direction.kind is DirectionKind.NEAR:
        if verdict is Verdict.HINT or nearness_p > LEVEL or not one.nearness_difference:
            return None
        return one.nearness_difference < 0
    if not verdict.clear:
        return None
    return (verdict is Verdict.MORE) == (direction.kind is DirectionKind.MORE)
