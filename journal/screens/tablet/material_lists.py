"""The materials of a challenge as a list to fill in, with what everything cost so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from uuid import UUID

from journal.domain.group_contexts import GroupContext
from journal.domain.numbers import number_pattern, show_money
from journal.domain.part_states import PartState
from journal.domain.revision_rules import cost_hundredths


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialRow:
    """A material with its price and the amount that stands in the field."""

    key: str
    name: str
    unit: str
    price: str
    #: In hundredths, for adding up on the screen.
    price_hundredths: int
    amount: str
    has_latex: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialList:
    """The materials, what everything cost so far, and the budget."""

    rows: tuple[MaterialRow, ...]
    money_name: str
    #: Of all other revisions of the group.
    spent_hundredths: int
    spent: str
    #: "" where the challenge has no budget.
    budget: str
    budget_hundredths: int
    is_over: bool
    is_open: bool
    #: What a number looks like, for adding up on the screen.
    number_pattern: str = field(default_factory=number_pattern)


def list_materials(
    context: GroupContext,
    states: tuple[PartState, ...],
    amounts: Mapping[str, str],
    *,
    apart_from: tuple[UUID, int],
    is_open: bool = False,
) -> MaterialList:
    """Return the list with what stands in its fields.

    `apart_from` is the part and the number of the revision that is being filled in: it is not yet
    among what was spent.
    """
    challenge = context.challenge
    spent = sum(
        cost_hundredths(revision.materials, challenge)
        for state in states
        for revision in state.revisions
        if (state.part.id, revision.number) != apart_from
    )
    budget = challenge.budget_hundredths
    return MaterialList(
        rows=tuple(
            MaterialRow(
                key=material.key,
                name=material.name,
                unit=material.unit,
                price=show_money(material.price_hundredths),
                price_hundredths=material.price_hundredths,
                amount=amounts.get(material.key, ""),
                has_latex=material.latex,
            )
            for material in challenge.materials
        ),
        money_name=challenge.money_name,
        spent_hundredths=spent,
        spent=show_money(spent),
        budget="" if budget is None else show_money(budget),
        budget_hundredths=budget or 0,
        is_over=budget is not None and spent > budget,
        is_open=is_open or any(amounts.values()),
    )
