"""Handling: what changes when the same student uses the same revision in another way.

In: trial records and the direction. Out: for each pair of handlings the difference within student
and revision, with its exact p; and which changes of revision came along with a change of handling.
A change of recorded handling is use, and is said as such.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from journal.analysis.permutation import permute
from journal.analysis.records import TrialRecord, by_revision
from journal.analysis.strata import Stratum
from journal.domain.outcomes import Direction, DirectionKind


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingContrast:
    """One handling beside another, each student with each revision compared with themselves."""

    first: str
    second: str
    first_count: int
    second_count: int
    #: Second minus first in the outcome's unit, where near counts as the distance from the value.
    difference: float
    #: True where the second came out better, False where worse, None where equal.
    second_is_better: bool | None
    p_value: float
    #: The smallest p these trials could have reached.
    smallest_p: float


def contrast_handlings(
    records: Sequence[TrialRecord], direction: Direction
) -> tuple[HandlingContrast, ...]:
    """Compare each two handlings that some student used with one and the same revision."""
    cells: dict[tuple[str, str], dict[str, list[float]]] = {}
    for record in records:
        value = record.measured
        if value is None or not record.student:
            continue
        place = cells.setdefault((record.revision, record.student), {})
        place.setdefault(record.handling, []).append(_read(value, direction))
    names = list(dict.fromkeys(name for cell in cells.values() for name in cell))
    contrasts = []
    for first, second in combinations(names, 2):
        strata = [
            Stratum(old=tuple(cell[first]), new=tuple(cell[second]))
            for cell in cells.values()
            if first in cell and second in cell
        ]
        test = permute(strata)
        if test is None:
            continue
        gain = test.difference if direction.kind is DirectionKind.MORE else -test.difference
        contrasts.append(
            HandlingContrast(
                first=first,
                second=second,
                first_count=sum(len(stratum.old) for stratum in strata),
                second_count=sum(len(stratum.new) for stratum in strata),
                difference=test.difference,
                second_is_better=None if gain == 0 else gain > 0,
                p_value=test.p_value,
                smallest_p=test.smallest_p,
            )
        )
    return tuple(contrasts)


def changed_with_handling(records: Sequence[TrialRecord]) -> tuple[tuple[str, str], ...]:
    """Return neighbouring revisions that share no handling: device and use changed together."""
    used = {
        revision: {record.handling for record in members}
        for revision, members in by_revision(records).items()
    }
    labels = list(used)
    return tuple((old, new) for old, new in pairwise(labels) if not used[old] & used[new])


def _read(value: float, direction: Direction) -> float:
    return value if direction.near is None else abs(value - direction.near)
