"""Read the lists of a challenge: limits, cautions, causes, ways of use, materials and counting."""

from __future__ import annotations

from journal.domain.challenges import (
    Constraint,
    CountingRule,
    CountingWay,
    HandlingChoice,
    Material,
    MisfireCause,
    SafetyLine,
)
from journal.domain.documents import Table
from journal.domain.messages import Message


def read_constraint(row: Table) -> Constraint:
    """Read one limit; whatever is wrong is noted."""
    constraint = Constraint(
        key=row.key(Message("rule_documents.short_name_for_the_limit")),
        text=row.text("text", Message("rule_documents.limit_in_one_short_sentence")),
        fixed=row.flag(
            "fixed", Message("rule_documents.true_where_it_cannot_be_removed"), default=False
        ),
    )
    row.finish()
    return constraint


def read_safety(row: Table) -> SafetyLine:
    """Read one caution; whatever is wrong is noted."""
    line = SafetyLine(
        key=row.key(Message("rule_documents.short_name_for_the_caution")),
        text=row.text("text", Message("rule_documents.caution_in_one_short_sentence")),
        fixed=row.flag(
            "fixed", Message("rule_documents.true_where_it_cannot_be_removed"), default=False
        ),
    )
    row.finish()
    return line


def read_misfire(row: Table) -> MisfireCause:
    """Read one cause of a misfire; whatever is wrong is noted."""
    cause = MisfireCause(
        key=row.key(Message("rule_documents.short_name_for_the_cause")),
        name=row.text("name", Message("rule_documents.cause_in_a_few_words")),
    )
    row.finish()
    return cause


def read_handling(row: Table) -> HandlingChoice:
    """Read one way in which use can differ; whatever is wrong is noted."""
    handling = HandlingChoice(
        key=row.key(Message("rule_documents.short_name_for_the_choice")),
        name=row.text("name", Message("rule_documents.what_is_chosen")),
        choices=row.texts("choices", Message("rule_documents.the_choices")),
    )
    row.finish()
    return handling


def read_material(row: Table) -> Material:
    """Read one material; whatever is wrong is noted."""
    material = Material(
        key=row.key(Message("rule_documents.short_name_for_the_material")),
        name=row.text("name", Message("rule_documents.what_the_material_is_called")),
        unit=row.text("unit", Message("rule_documents.piece_mm_g")),
        price_hundredths=read_money(row, "price"),
        allowance=row.find_number(
            "allowance", Message("rule_documents.how_much_a_group_may_use"), above=0
        ),
        latex=row.flag("latex", Message("rule_documents.true_where_it_holds_latex"), default=False),
    )
    row.finish()
    return material


def read_money(table: Table, key: str) -> int:
    """Read an amount of money such as 0.30 as hundredths."""
    value = table.number(key, Message("rule_documents.amount_such_as_0"), lowest=0)
    hundredths = round(value * 100)
    # 0.30 * 100 is 30.000000000000004 in binary: only a real third decimal is refused.
    if abs(value * 100 - hundredths) > 1e-6:  # noqa: PLR2004
        table.note(key, Message("rule_documents.has_more_than_two_decimals"))
    return hundredths


def read_counting(table: Table) -> CountingRule:
    """Read the attempts that count; whatever is wrong is noted."""
    rule = CountingRule(
        attempts=table.whole(
            "attempts", Message("rule_documents.how_many_attempts_of_each_member_count"), lowest=1
        ),
        way=table.choice("way", CountingWay),
    )
    table.finish()
    return rule
