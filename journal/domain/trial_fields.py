"""The fields of a trial, taken from `TrialContent` and its kin by name and type.

Comes in: an entry or a trial. Goes out: its fields, or the plain values in which it is kept and
compared; and an entry from these. API, tables, import and corrections take their fields from here,
so that a new one is written down once.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields
from datetime import datetime
from functools import cache
from types import NoneType
from typing import Any, get_args, get_type_hints
from uuid import UUID

from journal.domain.trials import Place, TrialContent, TrialEntry, TrialKind


@dataclass(frozen=True, slots=True)
class FieldType:
    """What a field holds."""

    #: The type of its value, where it has one.
    of: Any
    may_be_none: bool
    #: Whether there is no usual value for it.
    is_needed: bool


@cache
def fields_of(kind: type) -> Mapping[str, FieldType]:
    """Return the fields of a dataclass by name."""
    hints = get_type_hints(kind)
    return {
        field.name: FieldType(
            _without_none(hints[field.name]),
            may_be_none=NoneType in get_args(hints[field.name]),
            is_needed=field.default is MISSING and field.default_factory is MISSING,
        )
        for field in fields(kind)
    }


def values_of(content: object, kind: type) -> dict[str, Any]:
    """Return by name what `content` holds in the fields that `kind` describes."""
    return {name: getattr(content, name) for name in fields_of(kind)}


def describe_content(content: TrialContent) -> dict[str, Any]:
    """Return what is said of a trial as plain values: compared by hash, and shown to people.

    The hash of what was sent is kept with each trial: other values for the same content would turn
    a tablet's replay into a conflict.
    """
    described = {}
    for name, to_plain in _TO_PLAIN.items():
        value = getattr(content, name)
        described[name] = to_plain(value) if to_plain and value is not None else value
    return described


def read_content(plain: Mapping[str, Any]) -> TrialEntry:
    """Return the entry that was described."""
    content: dict[str, Any] = {
        name: from_plain(plain[name]) if from_plain and plain[name] is not None else plain[name]
        for name, from_plain in _FROM_PLAIN.items()
    }
    return TrialEntry(**content)


def _without_none(kind: Any) -> Any:  # noqa: ANN401 - a type as an annotation gives it
    given = [each for each in get_args(kind) if each is not NoneType]
    return given[0] if NoneType in get_args(kind) else kind


_Convert = Callable[[Any], object] | None
# How a value of each type becomes a plain one, and back; None where it is plain as it is.
_PLAIN: Mapping[Any, tuple[_Convert, _Convert]] = {
    UUID: (str, UUID),
    tuple[UUID, ...]: (lambda ids: sorted(map(str, ids)), lambda ids: tuple(map(UUID, ids))),
    datetime: (datetime.isoformat, datetime.fromisoformat),
    Mapping[str, str]: (dict, dict),
    TrialKind: (str, TrialKind),
    Place: (str, Place),
    float: (None, None),
    str: (None, None),
}
_TO_PLAIN = {name: _PLAIN[field.of][0] for name, field in fields_of(TrialContent).items()}
_FROM_PLAIN = {name: _PLAIN[field.of][1] for name, field in fields_of(TrialContent).items()}
