"""The class overview as JSON: who needs a visit, and where each group is; no drawings."""

from __future__ import annotations

from marshmallow import Schema, fields


class NeedSchema(Schema):
    """A group in the list of visits."""

    group_id = fields.UUID()
    number = fields.Integer()
    name = fields.String()
    kind = fields.String()
    reason = fields.String()
    minutes_since_visit = fields.Integer(allow_none=True)


class OverviewRowSchema(Schema):
    """Where one group is."""

    group_id = fields.UUID()
    number = fields.Integer()
    name = fields.String()
    stage = fields.String()
    now = fields.String()
    last_activity = fields.String()
    minutes_since_visit = fields.Integer(allow_none=True)


class OverviewSchema(Schema):
    """The whole overview."""

    class_id = fields.UUID()
    session = fields.String()
    needs = fields.List(fields.Nested(NeedSchema))
    rows = fields.List(fields.Nested(OverviewRowSchema))
    version = fields.String()
