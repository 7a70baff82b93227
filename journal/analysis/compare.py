"""Did the change help? Old and new revision of one group, compared within students.

Comes in: records of both. Goes out: `Comparison`: the weighted difference of means, its interval
and exact p-value, how often the new one is ahead, and whether practice alone could explain it.
The verdict is settled in `comparisons`, where it is known what else is shown.

Notes: blocks (all old trials first, all new ones after) never rule practice out, whatever a trend
test finds: with skill still rising every test calls the new one different. Turns (A B B A) do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from journal.analysis.comparability import Unlike, differences_between
from journal.analysis.descriptive import mean_of
from journal.analysis.dominance import PairCounts, cliff_delta, count_pairs, hodges_lehmann
from journal.analysis.looks import Course, find_looks
from journal.analysis.misfires import MisfireComparison, compare_misfires
from journal.analysis.permutation.permute import Method, PermutationTest, permute
from journal.analysis.permutation.strata import Stratum, all_same
from journal.analysis.permutation.studentised import studentised_share
from journal.analysis.records import TrialRecord, by_student, measured_values
from journal.analysis.turns import turn_pairs
from journal.analysis.unequal_spread import unequal_interval
from journal.analysis.verdicts import LEAST_TRIALS, LEVEL, PracticeWord, Verdict
from journal.domain.outcomes import Direction


class Basis(StrEnum):
    """Within what the new values are set against the old ones."""

    #: Within each of several students who tried both.
    STUDENTS = "students"
    #: Within pairs of neighbouring trials of one student.
    PAIRS = "pairs"
    #: One student, or nobody named: a plain difference of two means.
    TOGETHER = "together"


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """New against old, in the unit of the outcome; None where it cannot be said."""

    old: str
    new: str
    #: Trials with a value, up to the step the verdict rests on.
    old_n: int
    new_n: int
    difference: float | None
    #: The differences that the same test as `p_value` does not rule out.
    interval: tuple[float, float] | None
    p_value: float | None
    smallest_p: float | None
    #: The same two where each side may scatter in its own way (Welch). The p-value only where
    #: `p_value` is at most .05, since a verdict asks both.
    interval_unequal: tuple[float, float] | None = None
    p_unequal: float | None = None
    #: To be compared with .05, after Holm over the comparisons shown together and after all looks.
    adjusted_p: float | None = None
    method: Method | None = None
    interval_method: Method | None = None
    hodges_lehmann: float | None = None
    cliff_delta: float | None = None
    verdict: Verdict
    #: Whether the new one is better in the outcome's direction; None where that is not clear.
    better: bool | None = None
    practice: PracticeWord
    comparable: bool
    unlike: tuple[Unlike, ...] = ()
    #: The size of the comparison (`looks`) at which the verdict was formed; None for finished
    #: data. And what information each look had so far.
    step: int | None = None
    course: Course = ()
    #: p-value of the distances to the value to come near to, where nearness is better.
    nearness_p: float | None = None
    nearness_difference: float | None = None
    basis: Basis = Basis.TOGETHER
    #: Trials that the figures rest on: those of students who tried both.
    old_compared: int = 0
    new_compared: int = 0
    #: Mean of the new values compared minus that of the old ones; it differs from `difference`
    #: where students had unequal turns.
    plain_difference: float | None = None
    #: Within students; None where nothing is compared.
    pairs: PairCounts | None = None
    #: No two of the values compared differ.
    same: bool = False
    #: How often each misfires; None where that is not comparable.
    misfires: MisfireComparison | None = None

    @property
    def spread_explains(self) -> bool:
        """Tell whether unequal scatter alone may make the difference that the plain test finds."""
        return self.p_unequal is not None and self.p_unequal > LEVEL


def strata_of(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> tuple[Stratum, ...]:
    """Return the values of each student who has both; nobody known is one stratum."""
    olds, news = by_student(old), by_student(new)
    both = [
        Stratum(tuple(measured_values(olds[student])), tuple(measured_values(news[student])))
        for student in olds
        if student in news
    ]
    return tuple(stratum for stratum in both if stratum.old and stratum.new)


def measure(
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    direction: Direction,
    steps: Sequence[int] | None,
) -> Comparison:
    """Return the figures of one pair; `verdict` says only what needs no other comparison."""
    step: int | None = None
    course: Course = ()
    misfires = compare_misfires(old, new, steps)
    if steps is not None:
        old, new, step, course = cut_at_look(old, new, steps)
    old_values, new_values = measured_values(old), measured_values(new)
    unlike = differences_between(old, new)
    strata = strata_of(old, new)
    enough = min(len(old_values), len(new_values))
    comparable = not any(difference.what.forbids for difference in unlike)
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
        course=course,
        misfires=misfires if comparable else None,
    )
    test = permute(strata) if comparable else None
    if test is None:
        return figures
    figures = _with_strata(figures, strata, direction)
    enough = min(figures.old_compared, figures.new_compared)
    figures = _filled(figures, test, old_values, new_values)
    figures = replace(
        figures,
        interval_unequal=unequal_interval(strata),
        p_unequal=studentised_share(strata) if test.p_value <= LEVEL else None,
    )
    if direction.near is not None:
        figures = _with_nearness(figures, _distances(strata, direction.near))
    if enough < LEAST_TRIALS:
        return figures
    waits = course is None
    return replace(figures, verdict=Verdict.HINT if waits else Verdict.NO_CLEAR_DIFFERENCE)


def cut_at_look(
    old: Sequence[TrialRecord], new: Sequence[TrialRecord], steps: Sequence[int]
) -> tuple[Sequence[TrialRecord], Sequence[TrialRecord], int | None, Course]:
    """Return the records up to the last look, its step, and the information at each look so far.

    Everything and None where the first look is still to come.
    """
    looks = find_looks(old, new, steps)
    if not looks:
        return old, new, None, None
    last = looks[-1]
    return (
        [record for record in old if record.order <= last.order],
        [record for record in new if record.order <= last.order],
        last.step,
        tuple(look.fraction for look in looks),
    )


def cannot_compare(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> Comparison:
    """Return the result that stands for a comparison that raised an error."""
    return Comparison(
        old=old[0].revision,
        new=new[0].revision,
        old_n=len(measured_values(old)),
        new_n=len(measured_values(new)),
        difference=None,
        interval=None,
        p_value=None,
        smallest_p=None,
        verdict=Verdict.CANNOT_SAY,
        practice=PracticeWord.NOT_RULED_OUT,
        comparable=False,
    )


def _filled(
    figures: Comparison,
    test: PermutationTest,
    old: Sequence[float],
    new: Sequence[float],
) -> Comparison:
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
    )


def _with_strata(
    figures: Comparison, strata: Sequence[Stratum], direction: Direction
) -> Comparison:
    """Say what is compared with what: all figures but the extras go over these values."""
    old = [value for stratum in strata for value in stratum.old]
    new = [value for stratum in strata for value in stratum.new]
    means = mean_of(old), mean_of(new)
    return replace(
        figures,
        basis=Basis.TOGETHER if len(strata) == 1 else Basis.STUDENTS,
        old_compared=len(old),
        new_compared=len(new),
        plain_difference=None if None in means else (means[1] or 0.0) - (means[0] or 0.0),
        pairs=count_pairs(strata, direction),
        same=all_same(strata),
    )


def _with_nearness(figures: Comparison, distances: Sequence[Stratum]) -> Comparison:
    near = permute(distances)
    if near is None:
        return figures
    p_value = near.p_value
    if p_value <= LEVEL:
        # Where one side scatters more, its distances do as well.
        p_value = max(p_value, studentised_share(distances) or 0.0)
    return replace(figures, nearness_p=p_value, nearness_difference=near.difference)


def _distances(strata: Sequence[Stratum], near: float) -> tuple[Stratum, ...]:
    return tuple(
        Stratum(
            tuple(abs(value - near) for value in stratum.old),
            tuple(abs(value - near) for value in stratum.new),
        )
        for stratum in strata
    )
