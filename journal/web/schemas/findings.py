"""Findings as JSON: the same object that page and paper are made from."""

from __future__ import annotations

from marshmallow import Schema, fields


class SummarySchema(Schema):
    """The numbers of one revision; null where they cannot be said."""

    n = fields.Integer()
    mean = fields.Float()
    median = fields.Float()
    sd = fields.Float()
    mad = fields.Float()
    range = fields.Float()
    lower_quartile = fields.Float()
    upper_quartile = fields.Float()
    misfires = fields.Integer()
    misfire_rate = fields.Float()
    misfire_interval = fields.List(fields.Float())


class ComparisonSchema(Schema):
    """A revision beside its parent."""

    old = fields.String()
    new = fields.String()
    old_n = fields.Integer()
    new_n = fields.Integer()
    difference = fields.Float()
    interval = fields.List(fields.Float())
    p_value = fields.Float()
    cliff_delta = fields.Float()
    verdict = fields.Function(lambda one: one.verdict.value)
    practice = fields.Function(lambda one: one.practice.value)
    comparable = fields.Boolean()


class RevisionFindingSchema(Schema):
    """One revision."""

    revision_id = fields.UUID()
    part_id = fields.UUID()
    number = fields.Integer()
    label = fields.String()
    summary = fields.Nested(SummarySchema)
    sentences = fields.List(fields.String())
    beside = fields.List(fields.String())
    comparison = fields.Nested(ComparisonSchema, allow_none=True)


class CriterionStateSchema(Schema):
    """Where the group stands with a criterion."""

    text = fields.String()
    is_met = fields.Boolean(allow_none=True)
    sentence = fields.String()


class GroupFindingsSchema(Schema):
    """What the trials of a group say."""

    revisions = fields.List(fields.Nested(RevisionFindingSchema))
    criteria = fields.List(fields.Nested(CriterionStateSchema))
    sentences = fields.List(fields.String())
    stalled = fields.Function(lambda one: one.stall.stalled)
    stall_sentence = fields.String()
