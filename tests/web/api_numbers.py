"""Figures and sentences of findings by API, held against the trials they come from."""

from __future__ import annotations

import statistics
from collections.abc import Iterator, Mapping
from typing import Any

from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from tests.web.told_numbers import Facts, facts_of, find_contradictions


def find_api_contradictions(
    body: Mapping[str, Any], record: GroupRecord, band: GradeBand
) -> list[str]:
    """Return what a group's findings by API say against its trials, figures and sentences alike."""
    facts = facts_of(record)
    # Words of an enumeration are no sentences.
    text = " | ".join(value for value in _strings(body) if value.endswith("."))
    wrong = find_contradictions(text, record, band, finished=False)
    for revision in body["revisions"]:
        own = facts.get(revision["label"])
        if own is not None:
            wrong += _api_summary(revision["summary"], own)
        for comparison in (revision["comparison"], revision["best_comparison"]):
            if comparison is not None and {comparison["old"], comparison["new"]} <= set(facts):
                wrong += _api_comparison(comparison, facts)
    return wrong


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _strings(inner)


def _api_summary(summary: Mapping[str, Any], own: Facts) -> Iterator[str]:
    shown = {
        "n": len(own.values),
        "misfires": own.misfires,
        "mean": statistics.fmean(own.values) if own.values else None,
        "median": statistics.median(own.values) if own.values else None,
        "range": max(own.values) - min(own.values) if own.values else None,
        "misfire_rate": own.misfires / own.logged if own.logged else None,
    }
    for name, expected in shown.items():
        found = summary.get(name)
        # A tablet gets null for what its class's measures close.
        if found is not None and (expected is None or abs(found - expected) > 1e-9):
            yield f"{own.label}: {name} {found}, logged {expected}"


def _api_comparison(comparison: Mapping[str, Any], facts: dict[str, Facts]) -> Iterator[str]:
    old, new = facts[comparison["old"]], facts[comparison["new"]]
    named = f"{new.label} beside {old.label}"
    for side, own in (("old", old), ("new", new)):
        n, compared = comparison.get(f"{side}_n"), comparison.get(f"{side}_compared")
        if n is not None and comparison.get("basis") != "pairs" and n > len(own.values):
            yield f"{named}: {side}_n {n} of {len(own.values)}"
        if n is not None and compared is not None and compared > n:
            yield f"{named}: {side}_compared {compared} of {n}"
    difference, plain = comparison.get("difference"), comparison.get("plain_difference")
    # Where not everybody tried both, fewer are compared, and their numbers say so.
    whole = all(
        len(own.values) == comparison.get(f"{side}_n") == comparison.get(f"{side}_compared")
        for side, own in (("old", old), ("new", new))
    )
    if comparison.get("basis") == "together" and whole and None not in (difference, plain):
        means = statistics.fmean(new.values) - statistics.fmean(old.values)
        if abs(difference - means) > 1e-9 or abs(plain - means) > 1e-9:
            yield f"{named}: difference {difference}, plain {plain}, means {means}"
    verdict, better = comparison.get("verdict"), comparison.get("better")
    if better is not None and verdict not in {"more", "less"}:
        yield f"{named}: better {better}, verdict {verdict}"
    if verdict in {"more", "less"} and difference and (difference > 0) is not (verdict == "more"):
        yield f"{named}: {verdict}, difference {difference}"
    pairs = comparison.get("pairs")
    if pairs is not None and not comparison.get("comparable") and better is not None:
        yield f"{named}: better, and not comparable"
