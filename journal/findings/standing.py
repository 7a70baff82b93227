"""How a group stands against its criteria and its budget, line by line."""

from __future__ import annotations

from journal.domain.group_records import GroupRecord
from journal.findings.budgets import name_limit
from journal.findings.group_findings import GroupFindings


def describe_standing(record: GroupRecord, findings: GroupFindings) -> list[tuple[str, str]]:
    """Return each criterion, and the budget, with where the group stands; "" where that is open."""
    standings = [(state.text, state.sentence) for state in findings.criteria]
    if findings.budget is not None:
        standings.append(
            (
                name_limit(record.context.challenge, record.language),
                findings.budget.sentence,
            )
        )
    return standings
