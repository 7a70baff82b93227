"""The assessment page's words: a language in, one Rubric out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from journal.content.texts import find_entry, get_texts


@dataclass(frozen=True, slots=True, kw_only=True)
class RubricRow:
    """A row: what each level looks like, and the two yes/no parts of the youngest."""

    key: str
    title: str
    levels: tuple[str, ...]
    says: str
    does: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rubric:
    """All rows, the names of the levels, and those of the two parts."""

    rows: tuple[RubricRow, ...]
    levels: tuple[str, ...]
    parts: tuple[str, ...]


def get_rubric(language: str) -> Rubric:
    """Return the rubric."""
    entries = find_entry("rubrics", language, "rows")
    rows = entries if isinstance(entries, list) else []
    return Rubric(
        rows=tuple(_row(row) for row in rows),
        levels=get_texts("rubrics", language, "levels"),
        parts=get_texts("rubrics", language, "parts"),
    )


def _row(row: Mapping[str, object]) -> RubricRow:
    levels = row["levels"]
    return RubricRow(
        key=str(row["key"]),
        title=str(row["title"]),
        levels=tuple(str(level) for level in levels) if isinstance(levels, list) else (),
        says=str(row["says"]),
        does=str(row["does"]),
    )
