"""Cells: trials sorted by revision, student and own part, in numbers instead of labels.

In: (revision, student, own part, value) of each trial. Out: cells with count, mean and squares,
and which effects these cells can tell apart at all.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import fsum

#: A pivot smaller than this, of effects scaled to 1, means one follows from the others.
_DEPENDENT = 1e-9


class Effect(StrEnum):
    """What the outcome can vary with; all taken as random draws."""

    REVISION = "revision"
    STUDENT = "student"
    OWN_PART = "own_part"
    INTERACTION = "interaction"
    REPEAT = "repeat"


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One trial: who used what, and the outcome."""

    revision: str
    student: str
    own_part: str
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """The trials of one student with one revision and one own part."""

    revision: int
    student: int
    own_part: int
    count: int
    mean: float
    #: Sum of squares about the mean.
    squares: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """All cells, and how many levels each label has."""

    cells: tuple[Cell, ...]
    revisions: int
    students: int
    own_parts: int

    @property
    def count(self) -> int:
        """Return the number of trials."""
        return sum(cell.count for cell in self.cells)


def sort_into_cells(observations: Iterable[Observation], *, with_own_part: bool) -> Cells:
    """Sort trials into cells by revision, student and, `with_own_part`, own part.

    `observations` are the measured trials of one group; without the own part all trials share one.
    """
    grouped: dict[tuple[str, str, str], list[float]] = {}
    for seen in observations:
        key = (seen.revision, seen.student, seen.own_part if with_own_part else "")
        grouped.setdefault(key, []).append(seen.value)
    revisions = _number(key[0] for key in grouped)
    students = _number(key[1] for key in grouped)
    own_parts = _number(key[2] for key in grouped)
    cells = []
    for (revision, student, own_part), values in grouped.items():
        mean = fsum(values) / len(values)
        cells.append(
            Cell(
                revision=revisions[revision],
                student=students[student],
                own_part=own_parts[own_part],
                count=len(values),
                mean=mean,
                squares=fsum((value - mean) ** 2 for value in values),
            )
        )
    return Cells(
        cells=tuple(cells),
        revisions=len(revisions),
        students=len(students),
        own_parts=len(own_parts),
    )


def are_separable(cells: Cells, effects: Sequence[Effect]) -> bool:
    """Tell whether the data's design lets these effects be separated.

    They are when the matrices that say which trials share a level of each effect, taken about
    the mean, do not depend on each other linearly: their products' table has full rank.
    """
    size = len(effects)
    table = [[_share(cells, a, b) for b in effects] for a in effects]
    if any(table[i][i] <= _DEPENDENT * cells.count for i in range(size)):
        return False
    scale = [table[i][i] ** 0.5 for i in range(size)]
    rows = [[table[i][j] / (scale[i] * scale[j]) for j in range(size)] for i in range(size)]
    for i in range(size):
        if rows[i][i] <= _DEPENDENT:
            return False
        for k in range(i + 1, size):
            factor = rows[k][i] / rows[i][i]
            rows[k] = [low - factor * top for low, top in zip(rows[k], rows[i], strict=True)]
    return True


def _share(cells: Cells, first: Effect, second: Effect) -> float:
    """Return the product of two effects' matrices, taken about the mean, summed over trials."""
    if Effect.REPEAT in (first, second):
        other = second if first is Effect.REPEAT else first
        if other is Effect.REPEAT:
            return cells.count - 1.0
        sizes = _sizes(cells, other)
        return cells.count - sum(n * n for n in sizes.values()) / cells.count
    sizes_first, sizes_second = _sizes(cells, first), _sizes(cells, second)
    both: Counter[tuple[Hashable, Hashable]] = Counter()
    for cell in cells.cells:
        both[_level(cell, first), _level(cell, second)] += cell.count
    total = cells.count
    squares = sum(n * n for n in both.values())
    mixed = sum(sizes_first[a] * n * sizes_second[b] for (a, b), n in both.items())
    ends = sum(n * n for n in sizes_first.values()) * sum(n * n for n in sizes_second.values())
    return squares - 2.0 * mixed / total + ends / (total * total)


def _sizes(cells: Cells, effect: Effect) -> Mapping[Hashable, int]:
    sizes: Counter[Hashable] = Counter()
    for cell in cells.cells:
        sizes[_level(cell, effect)] += cell.count
    return sizes


def _level(cell: Cell, effect: Effect) -> Hashable:
    if effect is Effect.REVISION:
        return cell.revision
    if effect is Effect.STUDENT:
        return cell.student
    if effect is Effect.OWN_PART:
        return cell.own_part
    return (cell.revision, cell.student)


def _number(labels: Iterable[str]) -> dict[str, int]:
    return {label: place for place, label in enumerate(dict.fromkeys(labels))}
