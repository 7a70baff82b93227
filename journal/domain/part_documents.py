"""Read the parts of a challenge: tables of a document in, PartKinds with their Factors out."""

from __future__ import annotations

from journal.domain.challenges import Factor, PartKind
from journal.domain.classes import GradeBand
from journal.domain.documents import Table
from journal.domain.messages import Message
from journal.domain.numbers import show_number


def read_part(row: Table) -> PartKind:
    """Read a part and what can be changed in it; whatever is wrong is noted."""
    part = PartKind(
        key=row.key(Message("part_documents.short_name_for_the_part")),
        name=row.text("name", Message("part_documents.what_the_part_is_called")),
        own=row.flag("own", Message("part_documents.true_for_one_a_student")),
        icon=row.text(
            "icon", Message("part_documents.name_of_the_drawing_that_stands_for_it"), "part"
        ),
        factors=tuple(
            _read_factor(factor)
            for factor in row.tables("factors", Message("part_documents.what_can_be_changed_in_it"))
        ),
        destructive=row.flag(
            "destructive", Message("part_documents.true_where_testing_destroys_it"), default=False
        ),
    )
    row.finish()
    return part


def _read_factor(row: Table) -> Factor:
    hint = Message("part_documents.values_to_choose_from")
    choices = row.texts("choices", hint) if row.has("choices") else ()
    lowest = row.find_number("lowest", Message("part_documents.smallest_value_that_can_be_built"))
    highest = row.find_number("highest", Message("part_documents.largest_value_that_can_be_built"))
    unit = row.text("unit", Message("part_documents.mm_g_a_count"), "")
    key = row.key(Message("part_documents.short_name_for_the_factor"))
    name = row.text("name", Message("part_documents.what_the_factor_is_called"))
    if choices and (lowest is not None or highest is not None):
        row.note("lowest", Message("part_documents.and_highest_go_with_a_number"))
    if not row.has("choices") and not unit:
        row.note("unit", Message("part_documents.is_missing"))
    if lowest is not None and highest is not None and lowest >= highest:
        row.note("highest", Message("outcome_documents.must_be_above_lowest", lowest=lowest))
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
        start = row.text("start", Message("part_documents.one_of_the_choices"), "")
        if start and choices and start not in choices:
            row.note(
                "start",
                Message("part_documents.cannot_be", start=repr(start), choices=tuple(choices)),
            )
        return start
    if row.any_value("start") == "":
        return ""
    value = row.number("start", Message("part_documents.first_builds_number"))
    if (lowest is not None and value < lowest) or (highest is not None and value > highest):
        row.note("start", Message("part_documents.cannot_be_it", value=value))
    return show_number(value)


def _read_bands(row: Table) -> tuple[GradeBand, ...]:
    names = row.texts("bands", Message("part_documents.bands_that_are_offered_it"), ())
    known = {band.value for band in GradeBand}
    for name in names:
        if name not in known:
            row.note("bands", Message("part_documents.cannot_hold", name=repr(name)))
    return tuple(GradeBand(name) for name in names if name in known)
