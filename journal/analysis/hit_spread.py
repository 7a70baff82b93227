"""Spread of a set of trials, with every one of them accounted for.

In: trial records and, where there is one, the panel. Out: spreads of the exact hits, fitted
spreads that also use hits beyond the panel and scores without a position, counts of each kind.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from journal.analysis.fitted_spread import FittedSpread, fit_spread
from journal.analysis.records import TrialRecord
from journal.analysis.spread import (
    FEWEST_HITS,
    ClusterWords,
    Hit,
    Spread,
    describe_cluster,
    spread_of,
)
from journal.domain.panels import Panel
from journal.domain.trials import Place


class SpreadReason(StrEnum):
    """Why a spread cannot be said, or what has to be said with it."""

    NO_HITS = "no_hits"
    #: Fewer than four hits: no words for them yet.
    TOO_FEW_HITS = "too_few_hits"
    #: Hits beyond the panel have no position: the exact hits alone look too good.
    BEYOND_PANEL = "beyond_panel"
    #: Scores without a position show how far off a hit was, not in which direction.
    DIRECTION_UNKNOWN = "direction_unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class HitSpread:
    """The spread of one set of trials, and what became of each of them."""

    label: str
    hits: int
    #: On the wall beyond the panel, without a position: at least that far out.
    beyond_panel: int
    #: On the panel, known by points alone.
    scores_only: int
    #: Did not reach the wall: no position to speak of.
    nowhere: int
    misfires: int
    #: Of the exact hits alone.
    spread: Spread | None
    #: Of everything that reached the wall; only where something beside exact hits did.
    fitted: FittedSpread | None
    words: ClusterWords
    reasons: tuple[SpreadReason, ...]


def spread_of_trials(
    records: Iterable[TrialRecord], panel: Panel | None = None, label: str = ""
) -> HitSpread:
    """Return the spread of one set of trials, with every one of them accounted for.

    Hits without a position enter through the zones of `panel`; without a panel (None) only exact
    positions are used; `label` names the set.
    """
    hits: list[Hit] = []
    scores: Counter[float] = Counter()
    beyond_panel = nowhere = misfires = 0
    for record in records:
        if record.misfire is not None:
            misfires += 1
        elif record.place is Place.NOWHERE:
            nowhere += 1
        elif record.hit is not None:
            hits.append(record.hit)
        elif record.place is Place.WALL:
            beyond_panel += 1
        elif record.place is Place.PANEL and record.measured is not None:
            scores[record.measured] += 1
    spread = spread_of(hits)
    fitted = None
    if panel is not None and (scores or beyond_panel):
        fitted = fit_spread(hits, scores, beyond_panel, panel)
    half_side_mm = None if panel is None else min(panel.width_mm, panel.height_mm) / 2
    empty = ClusterWords(tightness=None, sides=())
    return HitSpread(
        label=label,
        hits=len(hits),
        beyond_panel=beyond_panel,
        scores_only=scores.total(),
        nowhere=nowhere,
        misfires=misfires,
        spread=spread,
        fitted=fitted,
        words=empty if spread is None else describe_cluster(spread, half_side_mm),
        reasons=_find_reasons(len(hits), beyond_panel, fitted),
    )


def _find_reasons(
    hits: int, beyond_panel: int, fitted: FittedSpread | None
) -> tuple[SpreadReason, ...]:
    reasons = []
    if hits == 0:
        reasons.append(SpreadReason.NO_HITS)
    elif hits < FEWEST_HITS:
        reasons.append(SpreadReason.TOO_FEW_HITS)
    if beyond_panel:
        reasons.append(SpreadReason.BEYOND_PANEL)
    if fitted is not None and fitted.offset_x_mm is None:
        reasons.append(SpreadReason.DIRECTION_UNKNOWN)
    return tuple(reasons)
