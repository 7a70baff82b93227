"""A revision beside another one, on a true scale: findings in, one drawing with its table out."""

from __future__ import annotations

import math

from journal.analysis.compare import Basis, Comparison
from journal.analysis.descriptive import mean_of
from journal.analysis.verdicts import PracticeWord
from journal.charts.differences import Difference
from journal.charts.strips import Strip, StripTick, draw_dot_strip, strip_table
from journal.domain.challenges import OutcomeKind
from journal.domain.group_records import GroupRecord
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.domain.trials import TrialState
from journal.findings.group_findings import RevisionFinding
from journal.findings.trial_records import label_revision
from journal.pictures.drawings import Drawing
from journal.pictures.group_pictures import caption_of, rows_of

#: More dots than this in a strip only make a block of ink: the newest ones are drawn.
_MOST_DOTS = 400


def draw_beside(
    record: GroupRecord,
    finding: RevisionFinding,
    comparison: Comparison | None,
    *,
    width_px: float,
    ids: str,
) -> Drawing | None:
    """Draw the trials of a revision under those it is compared with; alone without a comparison."""
    found = record.find_revision(finding.revision_id)
    if found is None:
        return None
    state, revision = found
    old = "" if comparison is None else comparison.old
    pair = [other for other in state.revisions if label_revision(state, other) == old]
    strips = [_strip(record, state, other, newest=other is revision) for other in (*pair, revision)]
    challenge = record.context.challenge
    ticks: tuple[StripTick, ...] = ()
    if challenge.outcome.kind is OutcomeKind.ZONES:
        ticks = tuple(StripTick(value=row.value, name=row.name) for row in rows_of(record).rows)
    return Drawing(
        svg=draw_dot_strip(
            strips,
            ticks=ticks,
            unit=challenge.outcome.unit,
            width_px=width_px,
            show_mean=True,
            difference=_difference(comparison, challenge.outcome.unit),
            difference_name=_difference_name(comparison),
            ids=ids,
            title=f"{finding.label} beside {old}" if pair else f"Trials of {finding.label}",
        ),
        table=strip_table(strips, show_mean=True),
    )


def _difference(comparison: Comparison | None, unit: str) -> Difference | None:
    if comparison is None or comparison.difference is None:
        return None
    low, high = comparison.interval or (None, None)
    return Difference(value=comparison.difference, low=low, high=high, unit=unit)


def _difference_name(comparison: Comparison | None) -> str:
    # The dots are all trials; a swap test's difference rests on those that were done in turn.
    if comparison is None:
        return "Difference"
    if comparison.practice is PracticeWord.BALANCED:
        return "Difference in turn"
    # With unequal turns this is not the distance of the means above it.
    return "Within students" if comparison.basis is Basis.STUDENTS else "Difference"


def _strip(record: GroupRecord, state: PartState, revision: Revision, *, newest: bool) -> Strip:
    trials = record.trials_of(revision.id)
    values = [
        trial.value for trial in trials if trial.value is not None and math.isfinite(trial.value)
    ]
    note = caption_of(state, revision)
    if len(values) > _MOST_DOTS:
        note = f"newest {_MOST_DOTS} of {len(values)}"
    return Strip(
        name=label_revision(state, revision),
        note=note,
        values=tuple(values[-_MOST_DOTS:]),
        misfires=sum(trial.state is TrialState.MISFIRE for trial in trials),
        newest=newest,
        mean=mean_of(values),
    )
