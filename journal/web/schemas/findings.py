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
    shape = fields.Function(lambda summary: summary.shape.value)
    striking = fields.List(fields.Float())
    misfires = fields.Integer()
    misfire_rate = fields.Float()
    misfire_interval = fields.List(fields.Float())


class PairCountsSchema(Schema):
    """Pairs of an old and a new trial of one student, by which of them did better."""

    leads = fields.Integer()
    ties = fields.Integer()
    trails = fields.Integer()


class MisfiresSchema(Schema):
    """Misfires of old and new, compared exactly."""

    old = fields.Integer()
    old_n = fields.Integer()
    new = fields.Integer()
    new_n = fields.Integer()
    p_value = fields.Float()
    adjusted_p = fields.Float()
    verdict = fields.Function(lambda misfires: misfires.word.value)


class ComparisonSchema(Schema):
    """A revision beside its parent, or beside the best one before it."""

    old = fields.String()
    new = fields.String()
    old_n = fields.Integer()
    new_n = fields.Integer()
    difference = fields.Float()
    interval = fields.List(fields.Float())
    #: With each side's own scatter; the p-value only where the plain one is at most .05.
    interval_unequal = fields.List(fields.Float())
    p_value = fields.Float()
    p_unequal = fields.Float()
    #: To be compared with .05: the looks so far and the comparisons shown together are counted.
    adjusted_p = fields.Float()
    hodges_lehmann = fields.Float()
    cliff_delta = fields.Float()
    #: Within students, or within the pairs of a swap test: what `difference` goes over.
    basis = fields.Function(lambda comparison: comparison.basis.value)
    old_compared = fields.Integer()
    new_compared = fields.Integer()
    #: Mean minus mean of the same trials: another number where turns were unequal.
    plain_difference = fields.Float()
    pairs = fields.Nested(PairCountsSchema, allow_none=True)
    misfires = fields.Nested(MisfiresSchema, allow_none=True)
    #: In the outcome's direction; null where it is not clear.
    better = fields.Boolean(allow_none=True)
    nearness_difference = fields.Float()
    verdict = fields.Function(lambda comparison: comparison.verdict.value)
    practice = fields.Function(lambda comparison: comparison.practice.value)
    comparable = fields.Boolean()


class FairnessSchema(Schema):
    """What changed, what else differed, and how far the comparison reaches."""

    changed = fields.List(fields.String(), attribute="fair.changed")
    differed = fields.Function(lambda words: [unlike.what.value for unlike in words.fair.unlike])
    can_tell = fields.Function(lambda words: words.fair.can_tell.value)
    sentences = fields.List(fields.String())


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
    beside_best = fields.List(fields.String())
    best_comparison = fields.Nested(ComparisonSchema, allow_none=True)
    fairness = fields.Nested(FairnessSchema, allow_none=True)


class CriterionStateSchema(Schema):
    """Where the group stands with a criterion."""

    text = fields.String()
    is_met = fields.Boolean(allow_none=True)
    sentence = fields.String()


class BudgetStateSchema(Schema):
    """What all materials cost beside the budget."""

    is_broken = fields.Boolean()
    sentence = fields.String()


class HitFindingSchema(Schema):
    """Where one set of trials hit, in mm from the aim point; null where it cannot be said."""

    label = fields.String()
    sentences = fields.List(fields.String())
    hits = fields.Integer(attribute="spread.hits")
    beyond_panel = fields.Integer(attribute="spread.beyond_panel")
    zones_only = fields.Integer(attribute="spread.scores_only")
    offset_mm = fields.Float(attribute="exact.offset_mm")
    offset_p_value = fields.Float(attribute="exact.offset_p_value")
    scatter_mm = fields.Float(attribute="exact.scatter_mm")
    scatter_interval_mm = fields.List(fields.Float(), attribute="exact.scatter_interval_mm")
    half_radius_mm = fields.Float(attribute="exact.half_radius_mm")
    half_radius_interval_mm = fields.List(fields.Float(), attribute="exact.half_radius_interval_mm")
    wide_radius_mm = fields.Float(attribute="exact.wide_radius_mm")
    wide_radius_interval_mm = fields.List(fields.Float(), attribute="exact.wide_radius_interval_mm")


class GroupHitsSchema(Schema):
    """Where the group hits: by revision, and by student with the newest tested one."""

    newest = fields.String()
    by_revision = fields.List(fields.Nested(HitFindingSchema))
    by_student = fields.List(fields.Nested(HitFindingSchema))


class PartSharesSchema(Schema):
    """Shares of the variance in 0..1; null where they cannot be said."""

    device = fields.Float()
    own_part = fields.Float()
    use = fields.Float()
    use_includes_own_part = fields.Boolean()
    fit = fields.Float()
    consistency = fields.Float()
    trials = fields.Integer()
    reason = fields.Function(lambda words: words.reason and words.reason.value)


class UseFindingSchema(Schema):
    """Device, use, or both."""

    shares = fields.Nested(PartSharesSchema)
    sentences = fields.List(fields.String())
    offers_exchange = fields.Boolean()


class AmountWordsSchema(Schema):
    """An amount beside the outcome."""

    name = fields.String()
    unit = fields.String()
    n = fields.Integer(attribute="found.n")
    distinct = fields.Integer(attribute="found.distinct")
    slope = fields.Float(attribute="found.slope")
    tau = fields.Float(attribute="found.tau")
    p_value = fields.Float(attribute="found.p_value")
    cannot_say = fields.Function(
        lambda words: words.found.cannot_say and words.found.cannot_say.value
    )
    sentences = fields.List(fields.String())


class PracticeFindingSchema(Schema):
    """The trend within students, in the revision with most trials."""

    revision = fields.String(attribute="practice.revision")
    n = fields.Integer(attribute="practice.n")
    tau = fields.Float(attribute="practice.tau")
    p_value = fields.Float(attribute="practice.p_value")
    slope = fields.Float(attribute="practice.slope")
    lag_one = fields.Float(attribute="autocorrelation.lag_one")
    sentence = fields.String()


class HandlingContrastSchema(Schema):
    """Two ways of handling beside each other, by the same students with the same device."""

    name = fields.String()
    students = fields.Integer()
    comparison = fields.Nested(ComparisonSchema)


class HandlingWordsSchema(Schema):
    """What the ways of handling did; `apart` are pairs that nobody used with all else alike."""

    contrasts = fields.List(fields.Nested(HandlingContrastSchema), attribute="found.contrasts")
    apart = fields.Function(
        lambda words: [[pair.name, pair.first, pair.second] for pair in words.found.apart]
    )
    sentence = fields.String()


class GroupFindingsSchema(Schema):
    """What the trials of a group say."""

    revisions = fields.List(fields.Nested(RevisionFindingSchema))
    criteria = fields.List(fields.Nested(CriterionStateSchema))
    budget = fields.Nested(BudgetStateSchema, allow_none=True)
    sentences = fields.List(fields.String())
    stalled = fields.Function(lambda findings: findings.stall.stalled)
    stall_sentence = fields.String()
    hits = fields.Nested(GroupHitsSchema)
    use = fields.Nested(UseFindingSchema)
    handling = fields.Nested(HandlingWordsSchema)
    amounts = fields.List(fields.Nested(AmountWordsSchema))
    practice = fields.Nested(PracticeFindingSchema)
    #: What could not be worked out, in words; empty as a rule.
    cannot_say = fields.List(fields.String())
