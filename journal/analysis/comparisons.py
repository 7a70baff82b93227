"""The comparisons of a group that are shown together, and their verdicts.

Comes in: records. Goes out: `Comparison`s: each revision with its parents (or the one before it),
and with the best before it where that is another; verdicts adjusted for one another by Holm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from journal.analysis.compare import Comparison, cannot_compare, measure
from journal.analysis.descriptive import mean_of
from journal.analysis.failures import work_out
from journal.analysis.looks import adjust
from journal.analysis.misfires import settle_misfires
from journal.analysis.records import TrialRecord, by_revision, measured_values
from journal.analysis.verdicts import LEAST_TRIALS, LEVEL, Verdict, judge
from journal.domain.outcomes import MORE_IS_BETTER, Direction, DirectionKind


def compare(
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    direction: Direction = MORE_IS_BETTER,
    steps: Sequence[int] | None = None,
) -> Comparison:
    """Compare two revisions by themselves; both sides need at least one record.

    With `steps` the data is looked at each time the comparison has reached a further one of these
    numbers of trials, and every look is paid for; without, once, on all of it.
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
            _measure(revisions[partner], revisions[name], direction, steps) for partner in partners
        ]
    return settle(measured, direction)


def _measure(
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    direction: Direction,
    steps: Sequence[int] | None,
) -> Comparison:
    """Measure one pair; one that fails does not take the others with it."""
    return work_out(
        "a comparison", lambda: measure(old, new, direction, steps), cannot_compare(old, new)
    )


def best_of(revisions: Mapping[str, Sequence[TrialRecord]], direction: Direction) -> str | None:
    """Return the revision with the best mean, the earlier one where two are level.

    `revisions` holds the records of each, in order of appearance. One with fewer than three values
    is only looked at where there is no other. None where no revision has a value.
    """
    merits = {
        name: (len(values), mean_of([direction.merit(value) for value in values]) or 0.0)
        for name, records in revisions.items()
        if (values := measured_values(records))
    }
    enough = {name: merit for name, (n, merit) in merits.items() if n >= LEAST_TRIALS}
    pool = enough or {name: merit for name, (_, merit) in merits.items()}
    return max(pool, key=pool.__getitem__, default=None)


def settle(measured: Sequence[Comparison], direction: Direction) -> tuple[Comparison, ...]:
    """Return the comparisons in `measured`, which are shown together, with their final verdicts.

    The p-values are adjusted for one another and for the looks (see `looks.adjust`); so are the
    smallest p-values these data could reach. Comparisons that are not comparable or too early are
    not tested and do not count among the others.
    """
    places = [place for place, comparison in enumerate(measured) if comparison.verdict.tests]
    courses = [measured[place].course for place in places]
    adjusted = adjust([measured[place].p_value or 0.0 for place in places], courses)
    smallest = adjust([measured[place].smallest_p or 0.0 for place in places], courses)
    nearness = adjust([measured[place].nearness_p or 1.0 for place in places], courses)
    strictest = adjust([_strictest_p(measured[place]) for place in places], courses)
    settled = list(measured)
    for place, p_value, least, near, both in zip(
        places, adjusted, smallest, nearness, strictest, strict=True
    ):
        comparison = measured[place]
        verdict = Verdict.SAME if comparison.same else comparison.verdict
        if verdict is Verdict.NO_CLEAR_DIFFERENCE and comparison.difference is not None:
            verdict = judge(comparison.difference, both, least)
        settled[place] = replace(
            comparison,
            adjusted_p=p_value,
            verdict=verdict,
            better=_better(comparison, verdict, near, direction),
        )
    with_misfires = [
        (place, comparison.misfires)
        for place, comparison in enumerate(settled)
        if comparison.misfires is not None
    ]
    found = settle_misfires([misfires for _, misfires in with_misfires])
    for (place, _), misfires in zip(with_misfires, found, strict=True):
        settled[place] = replace(settled[place], misfires=misfires)
    return tuple(settled)


def _strictest_p(comparison: Comparison) -> float:
    """Return the larger p-value of the plain and the studentised test: a verdict asks both."""
    return max(comparison.p_value or 0.0, comparison.p_unequal or 0.0)


def _better(
    comparison: Comparison, verdict: Verdict, nearness_p: float, direction: Direction
) -> bool | None:
    """Tell whether new is better in the outcome's direction; None where that is not clear."""
    if direction.kind is DirectionKind.NEAR:
        open_yet = verdict in {Verdict.HINT, Verdict.SAME} or nearness_p > LEVEL
        if open_yet or not comparison.nearness_difference:
            return None
        return comparison.nearness_difference < 0
    if not verdict.clear:
        return None
    return (verdict is Verdict.MORE) == (direction.kind is DirectionKind.MORE)
