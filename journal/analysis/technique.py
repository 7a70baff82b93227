"""Device, use, or both: shares of the variance of a group's outcomes.

In: trial records. Out: which share goes with the device (its revision), the student's own part,
use (who used it), the fit of student and device, and consistency (the same again); None with
reasons where it cannot be said. A student's own part and that student's handling are one and the
same in the data until parts are exchanged: then the own part stays inside use, and it is said.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from journal.analysis.cells import Cells, Effect, Observation, are_separable, sort_into_cells
from journal.analysis.exchanges import PartReason, find_part_reason
from journal.analysis.part_intervals import DRAWS, Interval, find_share_intervals
from journal.analysis.records import TrialRecord
from journal.analysis.variance_parts import Method, VarianceParts, find_variance_parts

#: No finding from fewer trials.
FEWEST_TRIALS = 4


class ShareReason(StrEnum):
    """Why shares cannot be said."""

    TOO_FEW_TRIALS = "too_few_trials"
    NO_STUDENT_KNOWN = "no_student_known"
    #: One student, one revision, or nobody tried what another tried: cannot separate.
    ONE_STUDENT = "one_student"
    ONE_REVISION = "one_revision"
    NO_STUDENT_TRIED_TWO = "no_student_tried_two_revisions"
    NO_REVISION_SHARED = "no_revision_tried_by_two_students"
    CANNOT_SEPARATE = "cannot_separate"
    ALL_EQUAL = "all_values_equal"
    #: Working it out failed.
    NOT_WORKED_OUT = "not_worked_out"


class ShareNote(StrEnum):
    """What has to be said with the shares."""

    #: No student repeated a revision: fit and consistency are one share.
    NO_REPEATS = "no_repeats"
    #: Trials of students not known are left out.
    UNKNOWN_LEFT_OUT = "unknown_students_left_out"
    #: Handling changed as well: what it did is in whichever share went along with it.
    HANDLING_VARIED = "handling_varied"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartShares:
    """Shares of the variance in 0..1 that add up to 1; None where it cannot be said."""

    device: float | None
    own_part: float | None
    use: float | None
    #: True while the own part cannot be separated from its student.
    use_includes_own_part: bool
    fit: float | None
    consistency: float | None
    trials: int
    method: Method | None
    #: Why nothing can be said; None where something can.
    reason: ShareReason | None
    #: Why the own part stands inside use; None where it stands alone.
    own_part_reason: PartReason | None
    notes: tuple[ShareNote, ...]
    #: Shares whose variance came out at or below 0 and is shown as 0.
    held_at_zero: tuple[Effect, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Split:
    """A split that succeeded, with what the intervals need."""

    cells: Cells
    parts: VarianceParts


def part_shares(records: Sequence[TrialRecord]) -> PartShares:
    """Split the variance of a group's outcomes.

    Revision, student, own part, their interaction and repeats are all taken as random draws;
    outcomes enter as measured, whichever way is better. Variances by expected mean squares
    where the table is balanced, else by REML.
    """
    return _shares_of(records, *_split(records))


def no_shares(reason: ShareReason) -> PartShares:
    """Return the shares that stand for a split that cannot be made, with its `reason`."""
    return _shares_of((), None, reason, None)


def share_intervals(
    records: Sequence[TrialRecord], *, seed: int, draws: int = DRAWS
) -> Mapping[str, Interval]:
    """Return 95 % intervals, in 0..1, of the shares by name.

    A parametric bootstrap of `draws` tables, the same for a `seed`. Empty where the shares cannot
    be computed. Takes some hundred splits: call it on demand.
    """
    split = _split(records)[0]
    if split is None:
        return {}
    found = find_share_intervals(split.cells, split.parts, seed=seed, draws=draws)
    return {_NAMES[effect]: interval for effect, interval in found.items()}


_NAMES = {
    Effect.REVISION: "device",
    Effect.OWN_PART: "own_part",
    Effect.STUDENT: "use",
    Effect.INTERACTION: "fit",
    Effect.REPEAT: "consistency",
}


def _split(
    records: Sequence[TrialRecord],
) -> tuple[_Split | None, ShareReason | None, PartReason | None]:
    seen = _observe(records)
    part_reason = find_part_reason(seen)
    plain = sort_into_cells(seen, with_own_part=False)
    reason = _find_reason(records, plain)
    if reason is not None:
        return None, reason, part_reason
    crossed = [Effect.REVISION, Effect.STUDENT]
    if part_reason is None:
        cells = sort_into_cells(seen, with_own_part=True)
        for inner in ([Effect.INTERACTION, Effect.REPEAT], [Effect.REPEAT]):
            effects = [*crossed, Effect.OWN_PART, *inner]
            if are_separable(cells, effects):
                return _finish(cells, effects, None)
        part_reason = PartReason.CANNOT_SEPARATE
    for inner in ([Effect.INTERACTION, Effect.REPEAT], [Effect.REPEAT]):
        effects = [*crossed, *inner]
        if are_separable(plain, effects):
            return _finish(plain, effects, part_reason)
    return None, ShareReason.CANNOT_SEPARATE, part_reason


def _finish(
    cells: Cells, effects: Sequence[Effect], part_reason: PartReason | None
) -> tuple[_Split | None, ShareReason | None, PartReason | None]:
    parts = find_variance_parts(cells, effects)
    if parts is None:
        return None, ShareReason.ALL_EQUAL, part_reason
    return _Split(cells=cells, parts=parts), None, part_reason


def _observe(records: Sequence[TrialRecord]) -> list[Observation]:
    known = [
        (record, value)
        for record in records
        if record.student and (value := record.measured) is not None
    ]
    # Shares do not depend on the unit; in units of the largest value no square overflows.
    unit = max((abs(value) for _, value in known), default=0.0) or 1.0
    return [
        Observation(
            revision=record.revision,
            student=record.student,
            own_part=record.own_part,
            value=value / unit,
        )
        for record, value in known
    ]


def _find_reason(records: Sequence[TrialRecord], cells: Cells) -> ShareReason | None:
    nobody_known = not cells.cells and any(record.measured is not None for record in records)
    holds = {
        ShareReason.NO_STUDENT_KNOWN: nobody_known,
        ShareReason.TOO_FEW_TRIALS: cells.count < FEWEST_TRIALS,
        ShareReason.ONE_STUDENT: cells.students == 1,
        ShareReason.ONE_REVISION: cells.revisions == 1,
        ShareReason.NO_STUDENT_TRIED_TWO: len(cells.cells) == cells.students,
        ShareReason.NO_REVISION_SHARED: len(cells.cells) == cells.revisions,
    }
    return next((reason for reason, here in holds.items() if here), None)


def _shares_of(
    records: Sequence[TrialRecord],
    split: _Split | None,
    reason: ShareReason | None,
    part_reason: PartReason | None,
) -> PartShares:
    used = [record for record in records if record.measured is not None]
    named = [record for record in used if record.student]
    shares: dict[Effect, float] = {}
    notes = []
    if split is not None:
        total = split.parts.total
        shares = {effect: part / total for effect, part in split.parts.variances.items()}
        if Effect.INTERACTION not in shares:
            notes.append(ShareNote.NO_REPEATS)
    if 0 < len(named) < len(used):
        notes.append(ShareNote.UNKNOWN_LEFT_OUT)
    if len({record.handling for record in named}) > 1:
        notes.append(ShareNote.HANDLING_VARIED)
    return PartShares(
        device=shares.get(Effect.REVISION),
        own_part=shares.get(Effect.OWN_PART),
        use=shares.get(Effect.STUDENT),
        use_includes_own_part=Effect.OWN_PART not in shares,
        fit=shares.get(Effect.INTERACTION),
        consistency=shares.get(Effect.REPEAT),
        trials=len(named),
        method=None if split is None else split.parts.method,
        reason=reason,
        own_part_reason=part_reason,
        notes=tuple(notes),
        held_at_zero=() if split is None else split.parts.held_at_zero,
    )
