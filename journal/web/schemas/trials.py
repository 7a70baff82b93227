"""Trials as JSON: a body comes in and becomes a TrialEntry, a Trial becomes a body."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any, ClassVar

from marshmallow import RAISE, Schema, fields, post_load, validate

from journal.domain.parked_trials import ParkReason, ParkState
from journal.domain.trials import Place, TrialEntry, TrialKind, TrialState
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


def _key() -> fields.String:
    return fields.String(load_default=None, allow_none=True, validate=_PLAIN_KEY)


def _number() -> SentNumber:
    return SentNumber(
        load_default=None,
        allow_none=True,
        allow_nan=False,
        validate=validate.Range(-FARTHEST, FARTHEST),
    )


class TrialEntrySchema(Schema):
    """What a tablet sends for one trial."""

    class Meta:
        """Refuse a field that nobody knows: a misspelt one would be lost in silence."""

        unknown = RAISE

    revision_ids = fields.List(
        fields.UUID(), required=True, validate=validate.Length(1, MOST_REVISIONS)
    )
    student_id = fields.UUID(required=True)
    scribe_id = fields.UUID(load_default=None, allow_none=True)
    kind = fields.Enum(TrialKind, by_value=True, required=True)
    logged_at = fields.AwareDateTime(
        required=True, format="iso", validate=validate.Range(FIRST_MOMENT, LAST_MOMENT)
    )
    #: What the tablet's clock says as it sends; without it `logged_at` is taken as it stands.
    sent_at = fields.AwareDateTime(
        load_default=None,
        allow_none=True,
        format="iso",
        validate=validate.Range(FIRST_MOMENT, LAST_MOMENT),
    )
    handling = fields.Dict(
        keys=fields.String(validate=_PLAIN_KEY),
        values=fields.String(validate=_PLAIN_KEY),
        load_default=dict,
        validate=validate.Length(max=MOST_CHOICES),
    )
    place = fields.Enum(Place, by_value=True, load_default=None, allow_none=True)
    x_mm = _number()
    y_mm = _number()
    zone = _key()
    value = _number()
    amount = _number()
    misfire = _key()

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
    """A trial as kept."""

    class Meta:
        """Keep the order in which a person reads it."""

        ordered: ClassVar[bool] = True

    id = fields.UUID()
    group_id = fields.UUID()
    session_id = fields.UUID()
    revision_ids = fields.List(fields.UUID())
    student_id = fields.UUID(allow_none=True)
    scribe_id = fields.UUID(allow_none=True)
    kind = fields.Enum(TrialKind, by_value=True)
    state = fields.Enum(TrialState, by_value=True)
    handling = fields.Dict(keys=fields.String(), values=fields.String())
    place = fields.Enum(Place, by_value=True, allow_none=True)
    x_mm = fields.Float(allow_none=True)
    y_mm = fields.Float(allow_none=True)
    zone = fields.String(allow_none=True)
    value = fields.Float(allow_none=True)
    amount = fields.Float(allow_none=True)
    misfire = fields.String(allow_none=True)
    distance_mm = fields.Integer(allow_none=True)
    logged_at = fields.AwareDateTime(format="iso")
    received_at = fields.AwareDateTime(format="iso")
    clock_slow_s = fields.Integer()
