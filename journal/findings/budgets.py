"""Whether a group's materials stay within the budget: kept or broken, in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from journal.content.finding_words import find_sentence
from journal.content.messages import word_message
from journal.domain.challenges import Challenge
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.numbers import show_money
from journal.domain.revision_rules import cost_hundredths
from journal.domain.revisions import Revision


@dataclass(frozen=True, slots=True, kw_only=True)
class BudgetState:
    """What everything cost so far, beside what is allowed."""

    is_broken: bool
    #: In the band's words, with both amounts.
    sentence: str


def find_budget(record: GroupRecord, band: GradeBand) -> BudgetState | None:
    """Hold all materials of a group against the budget; None without one, or without materials."""
    challenge = record.context.challenge
    limit = challenge.budget_hundredths
    spent = cost_of(challenge, (revision for state in record.parts for revision in state.revisions))
    if limit is None or not spent:
        return None
    sentence = find_sentence(
        "budget_broken" if spent > limit else "budget_kept",
        band,
        record.language,
        spent=show_money(spent),
        limit=show_money(limit),
        money=challenge.money_name,
    )
    return BudgetState(is_broken=spent > limit, sentence=sentence or "")


def cost_of(challenge: Challenge, revisions: Iterable[Revision]) -> int:
    """Return what the materials of some revisions cost, in hundredths."""
    return sum(cost_hundredths(revision.materials, challenge) for revision in revisions)


def name_limit(challenge: Challenge, language: str) -> str:
    """Return the words of the limit that the budget is, as the challenge has it."""
    named = (
        constraint.text for constraint in challenge.constraints if constraint.key == "within_budget"
    )
    return next(named, "") or word_message(Message("budgets.materials_within_the_budget"), language)
