"""Trials as JSON: a body comes in and becomes a TrialEntry, a Trial becomes a body."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from functools import partial
from typing import Any, ClassVar
from uuid import UUID

from marshmallow import RAISE, Schema, fields, post_load, validate

from journal.domain.parked_trials import ParkReason, ParkState
from journal.domain.trial_fields import FieldType, fields_of
from journal.domain.trials import Place, Trial, TrialEntry, TrialKind, TrialState
from journal.web.schemas.numbers import SentNumber

#: A place on a wall, a load, a flight: nothing in a classroom comes near it, in any unit.
FARTHEST = 1_000_000.0
LONGEST_KEY = 60
MOST_CHOICES = 20
MOST_REVISIONS = 10
#: The clock of a tablet may be wrong, but it counts years like everybody.
FIRST_MOMENT = datetime(2000, 1, 1, tzinfo=UTC)
LAST_MOMENT = datetime(2200, 1, 1, tzinfo=UTC)

# No sign below the space, no half of a pair: neither can be part of a key, both can be sent.
_PLAIN_KEY = (
    validate.Length(1, LONGEST_KEY),
    validate.Regexp(r"^[^\x00-\x1f\ud800-\udfff]+\Z", error="Send plain text."),
)


#: How each type of a trial's fields is read: shape and range.
_SENT: Mapping[Any, Callable[..., fields.Field[Any]]] = {
    UUID: fields.UUID,
    tuple[UUID, ...]: partial(
        fields.List, fields.UUID(), validate=validate.Length(1, MOST_REVISIONS)
    ),
    TrialKind: partial(fields.Enum, TrialKind, by_value=True),
    Place: partial(fields.Enum, Place, by_value=True),
    datetime: partial(
        fields.AwareDateTime,
        format="iso",
        validate=validate.Range(FIRST_MOMENT, LAST_MOMENT),
    ),
    Mapping[str, str]: partial(
        fields.Dict,
        keys=fields.String(validate=_PLAIN_KEY),
        values=fields.String(validate=_PLAIN_KEY),
        validate=validate.Length(max=MOST_CHOICES),
    ),
    float: partial(SentNumber, allow_nan=False, validate=validate.Range(-FARTHEST, FARTHEST)),
    str: partial(fields.String, validate=_PLAIN_KEY),
}
#: How each is shown.
_SHOWN: Mapping[Any, Callable[..., fields.Field[Any]]] = {
    UUID: fields.UUID,
    tuple[UUID, ...]: partial(fields.List, fields.UUID()),
    TrialKind: partial(fields.Enum, TrialKind, by_value=True),
    TrialState: partial(fields.Enum, TrialState, by_value=True),
    Place: partial(fields.Enum, Place, by_value=True),
    datetime: partial(fields.AwareDateTime, format="iso"),
    Mapping[str, str]: partial(fields.Dict, keys=fields.String(), values=fields.String()),
    float: fields.Float,
    int: fields.Integer,
    str: fields.String,
}
#: A tablet knows who, a table written elsewhere may not.
_ALWAYS_SENT = frozenset({"student_id"})
#: Kept with a trial, and no business of whoever logs one.
_NOT_SHOWN = frozenset({"school_id", "panel", "lane_closed"})


def read_as(name: str, field: FieldType) -> fields.Field[Any]:
    """Return how a field of an entry is read."""
    if field.is_needed or name in _ALWAYS_SENT:
        return _SENT[field.of](required=True)
    if field.may_be_none:
        return _SENT[field.of](load_default=None, allow_none=True)
    return _SENT[field.of](load_default=dict)


def show_as(field: FieldType) -> fields.Field[Any]:
    """Return how a field of what is kept is shown."""
    return _SHOWN[field.of](allow_none=True) if field.may_be_none else _SHOWN[field.of]()


class TrialEntrySchema(Schema):
    """What a tablet sends for one trial: the fields of `TrialEntry`."""

    class Meta:
        """Refuse a field that nobody knows: a misspelt one would be lost in silence."""

        unknown = RAISE
        include: ClassVar = {
            name: read_as(name, field) for name, field in fields_of(TrialEntry).items()
        }

    @post_load
    def _make_entry(self, data: dict[str, Any], **_: object) -> TrialEntry:
        return TrialEntry(**data | {"revision_ids": tuple(data["revision_ids"])})


class ParkedTrialSchema(Schema):
    """An entry that came late: kept until the teacher says where it belongs."""

    id = fields.UUID()
    group_id = fields.UUID()
    state = fields.Enum(ParkState, by_value=True)
    why = fields.Enum(ParkReason, by_value=True)
    made_at = fields.AwareDateTime(format="iso")
    received_at = fields.AwareDateTime(format="iso")
    sentence = fields.String()


class TrialSchema(Schema):
    """A trial as kept: the fields of `Trial`."""

    class Meta:
        """Show what concerns whoever logged it."""

        include: ClassVar = {
            name: show_as(field)
            for name, field in fields_of(Trial).items()
            if name not in _NOT_SHOWN
        }
