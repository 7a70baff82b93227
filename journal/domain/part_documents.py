"""Read the parts of a challenge: tables of a document in, PartKinds with their Factors out."""

from __future__ import annotations

from journal.domain.challenges import Factor, PartKind
from journal.domain.classes import GradeBand
from journal.domain.documents import Table
from journal.domain.numbers import show_number


def read_part(row: Table) -> PartKind:
    """Read a part and what can be changed in it; whatever is wrong is noted."""
    part = PartKind(
        key=row.key("a short name for the part"),
        name=row.text("name", "what the part is called"),
        own=row.flag("own", "true for one a student, false for one a group"),
        icon=row.text("icon", "the name of the drawing that stands for it", "part"),
        factors=tuple(
            _read_factor(factor) for factor in row.tables("factors", "what can be changed in it")
        ),
        destructive=row.flag("destructive", "true where testing destroys it", default=False),
    )
    row.finish()
    return part


def _read_factor(row: Table) -> Factor:
    hint = "the values to choose from, or leave it out"
    choices = row.texts("choices", hint) if row.has("choices") else ()
    lowest = row.find_number("lowest", "the smallest value that can be built")
    highest = row.find_number("highest", "the largest value that can be built")
    unit = row.text("unit", "mm, g, a count ...", "")
    key = row.key("a short name for the factor")
    name = row.text("name", "what the factor is called")
    if choices and (lowest is not None or highest is not None):
        row.note("lowest", "and highest go with a number, choices without one. Keep one kind.")
    if not row.has("choices") and not unit:
        row.note("unit", "is missing. Add the number's unit, or the choices to choose from.")
    if lowest is not None and highest is not None and lowest >= highest:
        row.note("highest", f"must be above lowest, which is {show_number(lowest)}.")
    factor = Factor(
        key=key,
        name=name,
        unit=unit,
        choices=choices,
        lowest=lowest,
        highest=highest,
        start=_read_start(row, choices, lowest, highest),
        bands=_read_bands(row),
    )
    row.finish()
    return factor


def _read_start(
    row: Table, choices: tuple[str, ...], lowest: float | None, highest: float | None
) -> str:
    """Return the first build's value as text: one of the choices, or a number within the limits."""
    if not row.has("start"):
        return ""
    if row.has("choices"):
        start = row.text("start", "one of the choices, or leave it out", "")
        if start and choices and start not in choices:
            row.note("start", f"cannot be {start!r}. Choose one of: {', '.join(choices)}.")
        return start
    if row.any_value("start") == "":
        return ""
    value = row.number("start", "the first build's number, or leave it out")
    if (lowest is not None and value < lowest) or (highest is not None and value > highest):
        row.note("start", f"cannot be {show_number(value)}. It must lie from lowest to highest.")
    return show_number(value)


def _read_bands(row: Table) -> tuple[GradeBand, ...]:
    names = row.texts("bands", "the bands that are offered it", ())
    known = {band.value for band in GradeBand}
    for name in names:
        if name not in known:
            row.note("bands", f"cannot hold {name!r}. Choose among 2, 3-5 and 6-8, in quotes.")
    return tuple(GradeBand(name) for name in names if name in known)
