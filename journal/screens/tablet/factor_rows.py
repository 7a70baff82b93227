"""What can change on a part, as the rows of a form: from the value before to what was entered."""

from __future__ import annotations

from dataclasses import dataclass

from journal.domain.challenges import Factor
from journal.domain.factor_values import OTHER, current_value, show_value
from journal.domain.group_contexts import GroupContext
from journal.domain.part_states import PartState
from journal.domain.revision_rules import RevisionForm, factors_for
from journal.domain.revisions import Revision


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorRow:
    """What can change, from and to."""

    key: str
    name: str
    #: The value before, with its unit; "" for a first build.
    before: str
    #: What stands in the field.
    value: str
    unit: str
    choices: tuple[str, ...]
    is_ticked: bool


def list_factors(
    context: GroupContext, state: PartState, parent: Revision | None, form: RevisionForm
) -> tuple[FactorRow, ...]:
    """Return the factors of the band in order, and anything else as the last."""
    rows = [
        _factor_row(factor, state, parent, form)
        for factor in factors_for(state.kind, context.school_class.band)
    ]
    rows.append(
        FactorRow(
            key=OTHER,
            name="Other",
            before="",
            value=form.values.get(OTHER, ""),
            unit="",
            choices=(),
            is_ticked=OTHER in form.ticked,
        )
    )
    return tuple(rows)


def _factor_row(
    factor: Factor, state: PartState, parent: Revision | None, form: RevisionForm
) -> FactorRow:
    is_first = parent is None
    before = current_value(factor.key, parent, state.revisions, state.kind)
    return FactorRow(
        key=factor.key,
        name=factor.name,
        before="" if is_first else show_value(before, factor.unit) or "not known",
        value=form.values.get(factor.key, before),
        unit=factor.unit,
        # What it is already is no change.
        choices=tuple(choice for choice in factor.choices if is_first or choice != before),
        # A first build is told whole.
        is_ticked=factor.key in form.ticked or (is_first and not form.values and bool(before)),
    )
