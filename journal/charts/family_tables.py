"""Revisions of parts as words and as a table: each with its parent comes in, text goes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.charts.tables import NOTHING, ChartTable


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyMark:
    """One revision of a part."""

    #: The revision's number.
    label: str
    #: Index of the parent in the same line; None for a first build.
    parent: int | None = None
    #: What changed, in a few words, such as "cork tip".
    caption: str = ""
    newest: bool = False
    set_aside: bool = False
    being_built: bool = False
    #: When it was made: any number that grows with time; drawn as order, not to scale.
    order: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyLine:
    """A part with its revisions, oldest first."""

    name: str
    shared: bool
    marks: tuple[FamilyMark, ...]


def describe_family(lines: Sequence[FamilyLine]) -> str:
    """Say each revision with its parent."""
    sentences = []
    for line in lines:
        marks = [
            f"{mark.label}"
            + (f" from {parent.label}" if (parent := _find_parent(mark, line)) else "")
            + (f", {mark.caption}" if mark.caption else "")
            + (", set aside" if mark.set_aside else "")
            + (", being built" if mark.being_built else "")
            for mark in line.marks
        ]
        sentences.append(f"{line.name}: {'; '.join(marks) or 'no revision yet'}.")
    return " ".join(sentences) or "No revisions yet."


def family_table(lines: Sequence[FamilyLine], *, caption: str = "Revisions") -> ChartTable:
    """Return the revisions as a table."""
    return ChartTable(
        caption=caption,
        header=("Part", "Revision", "Made from", "Change", "State"),
        rows=tuple(
            (
                line.name,
                mark.label,
                parent.label if (parent := _find_parent(mark, line)) else NOTHING,
                mark.caption or NOTHING,
                "being built" if mark.being_built else "set aside" if mark.set_aside else "in use",
            )
            for line in lines
            for mark in line.marks
        ),
    )


def _find_parent(mark: FamilyMark, line: FamilyLine) -> FamilyMark | None:
    if mark.parent is None or not 0 <= mark.parent < len(line.marks):
        return None
    return line.marks[mark.parent]
