"""Findings as a group's own tablet may read them: the same JSON, without closed figures.

A page shows a group only what its class's measures open, so the API does the same. Every figure
of `GroupFindingsSchema` stands here under the measure that opens it, or is the teacher's; what is
closed is left out, while null still means that it cannot be said.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from journal.content.bands import MEASURE_NAMES, Measures
from journal.findings.group_findings import GroupFindings
from journal.web.schemas.findings import GroupFindingsSchema

_COMPARISONS = (
    "revisions.comparison",
    "revisions.best_comparison",
    "handling.contrasts.comparison",
)
_OF_COMPARISON = {
    "show_counts": ("old_n", "new_n", "old_compared", "new_compared", "pairs", "misfires"),
    "show_mean": ("difference", "plain_difference", "nearness_difference"),
    "show_p_value": (
        *("interval", "interval_unequal", "p_value", "p_unequal", "adjusted_p"),
        *("hodges_lehmann", "cliff_delta"),
    ),
}
_ELSEWHERE = {
    "show_counts": (
        *("revisions.summary.n", "revisions.summary.misfires", "revisions.summary.misfire_rate"),
        *("hits.by_revision.hits", "hits.by_revision.beyond_panel", "hits.by_revision.zones_only"),
        "handling.contrasts.students",
    ),
    "show_dot_plot": ("revisions.summary.shape", "revisions.summary.striking"),
    "show_range": ("revisions.summary.range",),
    "show_mean": ("revisions.summary.mean",),
    "show_median": ("revisions.summary.median",),
    "show_quartiles": ("revisions.summary.lower_quartile", "revisions.summary.upper_quartile"),
    "show_deviation": (
        *("revisions.summary.mad", "revisions.summary.sd"),
        *("hits.by_revision.offset_mm", "hits.by_revision.scatter_mm"),
        *("hits.by_revision.scatter_interval_mm", "hits.by_revision.half_radius_mm"),
        *("hits.by_revision.half_radius_interval_mm", "hits.by_revision.wide_radius_mm"),
        "hits.by_revision.wide_radius_interval_mm",
    ),
    "show_scatter_plot": ("amounts",),
    "show_p_value": (
        *("revisions.summary.misfire_interval", "hits.by_revision.offset_p_value"),
        *("amounts.tau", "amounts.p_value"),
    ),
}
#: Paths of the schema by the measure that opens them.
OPENED_BY: Mapping[str, frozenset[str]] = {
    measure: frozenset(_ELSEWHERE.get(measure, ()))
    | {f"{head}.{name}" for head in _COMPARISONS for name in _OF_COMPARISON.get(measure, ())}
    for measure in MEASURE_NAMES
}
#: What no page of a group shows: who hits where, device and use, practice.
TEACHERS = ("hits.by_student", "hits.newest", "use", "practice")


def open_findings_of(found: GroupFindings, measures: Measures) -> dict[str, Any]:
    """Return the findings as far as the measures are open."""
    is_open = asdict(measures)
    closed = {path for name, paths in OPENED_BY.items() if not is_open[name] for path in paths}
    dumped: dict[str, Any] = GroupFindingsSchema(exclude=[*TEACHERS, *closed]).dump(found)
    if not measures.show_decimals:
        dumped = _whole(dumped)
    return dumped


def _whole(dumped: Any) -> Any:  # noqa: ANN401 (any JSON)
    """Return the same JSON with whole figures, as on the page of a band without decimals."""
    if isinstance(dumped, dict):
        return {name: _whole(value) for name, value in dumped.items()}
    if isinstance(dumped, list):
        return [_whole(value) for value in dumped]
    return round(dumped) if isinstance(dumped, float) else dumped
