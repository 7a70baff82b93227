"""How a group stands against its criteria and its budget, line by line."""

from __future__ import annotations

from journal.domain.group_records import GroupRecord
from journal.findings.budgets import name_limit
from journal.findings.group_findings import GroupFindings


def tell_standing(record: GroupRecord, findings: GroupFindings) -> list[tuple[str, str]]:
    """Return each criterion, and the budget, with where the group stands; "" where that is open."""
    told = [(state.text, state.sentence) for state in findings.criteria]
    if findings.budget is not None:
        told.append((name_limit(record.context.challenge), findings.budget.sentence))
    return told
