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


def read_constraint(row: Table) -> Constraint:
    """Read one limit; whatever is wrong is noted."""
    constraint = Constraint(
        key=row.key("a short name for the limit"),
        text=row.text("text", "the limit in one short sentence"),
        fixed=row.flag("fixed", "true where it cannot be removed", default=False),
    )
    row.finish()
    return constraint


def read_safety(row: Table) -> SafetyLine:
    """Read one caution; whatever is wrong is noted."""
    line = SafetyLine(
        key=row.key("a short name for the caution"),
        text=row.text("text", "the caution in one short sentence"),
        fixed=row.flag("fixed", "true where it cannot be removed", default=False),
    )
    row.finish()
    return line


def read_misfire(row: Table) -> MisfireCause:
    """Read one cause of a misfire; whatever is wrong is noted."""
    cause = MisfireCause(
        key=row.key("a short name for the cause"),
        name=row.text("name", "the cause in a few words"),
    )
    row.finish()
    return cause


def read_handling(row: Table) -> HandlingChoice:
    """Read one way in which use can differ; whatever is wrong is noted."""
    handling = HandlingChoice(
        key=row.key("a short name for the choice"),
        name=row.text("name", "what is chosen, such as Pull"),
        choices=row.texts("choices", "the choices, the usual one first"),
    )
    row.finish()
    return handling


def read_material(row: Table) -> Material:
    """Read one material; whatever is wrong is noted."""
    material = Material(
        key=row.key("a short name for the material"),
        name=row.text("name", "what the material is called"),
        unit=row.text("unit", "piece, mm, g ..."),
        price_hundredths=read_money(row, "price"),
        allowance=row.find_number("allowance", "how much a group may use, above 0", above=0),
        latex=row.flag("latex", "true where it holds latex", default=False),
    )
    row.finish()
    return material


def read_money(table: Table, key: str) -> int:
    """Read an amount of money such as 0.30 as hundredths."""
    value = table.number(key, "an amount such as 0.30, not below 0", lowest=0)
    hundredths = round(value * 100)
    # 0.30 * 100 is 30.000000000000004 in binary: only a real third decimal is refused.
    if abs(value * 100 - hundredths) > 1e-6:  # noqa: PLR2004
        table.note(key, "has more than two decimals. Write an amount such as 0.30.")
    return hundredths


def read_counting(table: Table) -> CountingRule:
    """Read the attempts that count; whatever is wrong is noted."""
    rule = CountingRule(
        attempts=table.whole("attempts", "how many attempts of each member count", lowest=1),
        way=table.choice("way", CountingWay),
    )
    table.finish()
    return rule
