"""Whether two revisions were tested alike: what forbids a comparison, and what only needs saying.

Comes in: records of both. Goes out: keys of differences, worded elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from journal.analysis.records import TrialRecord


class Difference(StrEnum):
    """What was not the same for old and new."""

    #: Forbids a comparison.
    DISTANCE = "distance"
    PANEL = "panel"
    NOBODY_TRIED_BOTH = "nobody_tried_both"
    #: Needs saying.
    TESTERS = "testers"
    SESSION = "session"
    HANDLING = "handling"
    OWN_PART = "own_part"
    KIND = "kind"

    @property
    def forbids(self) -> bool:
        """Tell whether old and new cannot be compared with this difference between them."""
        return self in {Difference.DISTANCE, Difference.PANEL, Difference.NOBODY_TRIED_BOTH}


@dataclass(frozen=True, slots=True, kw_only=True)
class Unlike:
    """One difference, with what was there before and after, each sorted."""

    what: Difference
    old: tuple[str, ...]
    new: tuple[str, ...]


def differences_between(
    old: Sequence[TrialRecord], new: Sequence[TrialRecord]
) -> tuple[Unlike, ...]:
    """Return what differed; what is not known on a side says nothing."""
    old, new = _that_count(old), _that_count(new)
    found = [
        Unlike(what=what, old=before, new=after)
        for what, read in _CONDITIONS
        if (before := _known(old, read)) != (after := _known(new, read)) and before and after
    ]
    testers = {record.student for record in old} & {record.student for record in new}
    if old and new and not testers:
        found.append(
            Unlike(
                what=Difference.NOBODY_TRIED_BOTH,
                old=_known(old, _CONDITIONS_BY_NAME[Difference.TESTERS]),
                new=_known(new, _CONDITIONS_BY_NAME[Difference.TESTERS]),
            )
        )
    return tuple(sorted(found, key=lambda unlike: not unlike.what.forbids))


def _that_count(records: Sequence[TrialRecord]) -> Sequence[TrialRecord]:
    """Return the measured trials; where there are none, all of them."""
    return [record for record in records if record.measured is not None] or records


def _known(records: Sequence[TrialRecord], read: Callable[[TrialRecord], str]) -> tuple[str, ...]:
    return tuple(sorted({read(record) for record in records} - {""}))


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


_CONDITIONS: tuple[tuple[Difference, Callable[[TrialRecord], str]], ...] = (
    (Difference.DISTANCE, lambda record: _number(record.distance_mm)),
    (Difference.PANEL, lambda record: record.panel),
    (Difference.TESTERS, lambda record: record.student),
    (Difference.SESSION, lambda record: record.session),
    (Difference.HANDLING, lambda record: record.handling),
    (Difference.OWN_PART, lambda record: record.own_part),
    (Difference.KIND, lambda record: record.kind.value),
)
_CONDITIONS_BY_NAME = dict(_CONDITIONS)
