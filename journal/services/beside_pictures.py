"""A revision beside its parent, on a true scale: findings in, one drawing out."""

from __future__ import annotations

from journal.charts.differences import Difference
from journal.charts.strips import Strip, StripTick, draw_dot_strip
from journal.domain.challenges import OutcomeKind
from journal.domain.trials import TrialState
from journal.services.findings import RevisionFinding
from journal.services.pictures import caption_of, rows_of
from journal.services.records import GroupRecord


def draw_beside(
    record: GroupRecord,
    finding: RevisionFinding,
    *,
    width_px: float,
    show_mean: bool,
    show_difference: bool,
    ids: str,
) -> str:
    """Draw the trials of a revision under those of its parent, where it has one."""
    challenge = record.bench.challenge
    found = record.find_revision(finding.revision_id)
    if found is None:
        return ""
    state, revision = found
    pair = [one for one in state.revisions if one.id in {revision.parent_id, revision.id}]
    ticks: tuple[StripTick, ...] = ()
    if challenge.outcome.kind is OutcomeKind.ZONES:
        ticks = tuple(StripTick(value=row.value, name=row.name) for row in rows_of(record).rows)
    comparison = finding.comparison
    difference = None
    if show_difference and comparison is not None and comparison.difference is not None:
        low, high = comparison.interval or (None, None)
        difference = Difference(
            value=comparison.difference, low=low, high=high, unit=challenge.outcome.unit
        )
    return draw_dot_strip(
        [
            Strip(
                name=f"{state.name} {one.number}",
                note=caption_of(state, one),
                values=tuple(
                    trial.value for trial in record.trials_of(one.id) if trial.value is not None
                ),
                misfires=sum(
                    trial.state is TrialState.MISFIRE for trial in record.trials_of(one.id)
                ),
                newest=one.id == revision.id,
            )
            for one in pair
        ],
        ticks=ticks,
        unit=challenge.outcome.unit,
        width_px=width_px,
        show_mean=show_mean,
        difference=difference,
        ids=ids,
        title=f"{finding.label} beside the one it was made from",
    )
