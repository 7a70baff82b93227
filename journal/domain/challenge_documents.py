"""Read a challenge: a document (as a TOML reader leaves it) in, a Challenge out, or every mistake.

A class's own copy is a changed document, read again, so that a change can break no rule.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import replace

from journal.domain.challenges import (
    BandWording,
    Challenge,
    Outcome,
    OutcomeKind,
)
from journal.domain.classes import GradeBand
from journal.domain.documents import Reading, Table
from journal.domain.goal_documents import read_goal
from journal.domain.outcome_documents import read_criterion, read_outcome
from journal.domain.panel_documents import read_panel
from journal.domain.panels import Panel
from journal.domain.part_documents import read_part
from journal.domain.rule_documents import (
    read_constraint,
    read_counting,
    read_handling,
    read_material,
    read_misfire,
    read_money,
    read_safety,
)

#: Constraints that no challenge which launches something can be without.
LAUNCHING_CONSTRAINTS = ("no_sharp_ends", "nobody_is_aimed_at")


def read_challenge(document: Mapping[str, object], source: str) -> Challenge:
    """Read a challenge from its document; `source` is the document's name in messages.

    Raises Invalid with one Problem a mistake, each naming the source and the path of the key.
    """
    reading = Reading(source)
    table = Table(reading, deepcopy(dict(document)))
    launches = table.flag("launches", "true where something flies, else false")
    outcome = read_outcome(table.table("outcome", "kind, name, unit and direction"))
    panel = _read_panel_of(table, outcome)
    challenge = Challenge(
        key=table.key("a short name such as beyond_the_ditch"),
        title=table.text("title", "the challenge's name on the screen"),
        launches=launches,
        tester_question=table.text("tester_question", "such as: Who launches?"),
        place_question=table.text("place_question", "such as: Where did the dart hit?"),
        wording=_read_wording(table.table("wording", "a table for each band")),
        criteria=tuple(map(read_criterion, table.tables("criteria", "at least one criterion"))),
        constraints=tuple(map(read_constraint, table.tables("constraints", "at least one limit"))),
        parts=tuple(map(read_part, table.tables("parts", "at least one part"))),
        handling=tuple(
            map(read_handling, table.tables("handling", "the ways of using it", needed=False))
        ),
        materials=tuple(
            map(read_material, table.tables("materials", "what it is built from", needed=False))
        ),
        money_name=table.text("money_name", "what prices are counted in", "tokens"),
        budget_hundredths=read_money(table, "budget") if table.has("budget") else None,
        outcome=outcome,
        panel=panel,
        counting=read_counting(table.table("counting", "attempts and way")),
        misfires=tuple(map(read_misfire, table.tables("misfires", "at least one cause"))),
        safety=tuple(map(read_safety, table.tables("safety", "at least one caution"))),
        caution=table.text("caution", "the line on every screen that leads to a trial"),
        distance_mm=table.find_whole("distance_mm", "the distance in mm, above 0", lowest=1),
        goal=read_goal(table.table("goal", "kind"), panel) if table.has("goal") else None,
        document=dict(table.values),
    )
    table.finish()
    if launches:
        _check_launching(challenge, reading)
    reading.finish()
    return challenge


def with_changes(
    challenge: Challenge,
    *,
    title: str | None = None,
    distance_mm: int | None = None,
    thresholds: Mapping[str, float] | None = None,
    factors: Mapping[str, Mapping[str, Mapping[str, object]]] | None = None,
    goal: Mapping[str, object] | None = None,
) -> Challenge:
    """Return a class's copy of a challenge with some things changed.

    `thresholds` goes by criterion; `factors` by part, then factor, then `start`, `lowest`,
    `highest` or `choices`; `goal` is the whole [goal] table. A problem's field is the path of the
    key, such as `criteria.near_blaze.threshold` or `parts.dart.factors.fin_area.start`. Raises
    Invalid.
    """
    document = deepcopy(dict(challenge.document))
    reading = Reading("")
    if title is not None:
        document["title"] = title
    if distance_mm is not None:
        document["distance_mm"] = distance_mm
    if goal is not None:
        document["goal"] = deepcopy(dict(goal))
    for key, threshold in (thresholds or {}).items():
        _change_row(document, f"criteria.{key}", {"threshold": threshold}, reading)
    for part, changes in (factors or {}).items():
        for factor, values in changes.items():
            _change_row(document, f"parts.{part}.factors.{factor}", values, reading)
    reading.finish()
    changed = read_challenge(document, "")
    return replace(changed, id=challenge.id, class_id=challenge.class_id)


def _change_row(
    document: dict[str, object], path: str, values: Mapping[str, object], reading: Reading
) -> None:
    """Change values in the row that a path such as `parts.dart.factors.length` leads to."""
    row: dict[str, object] | None = document
    names = path.split(".")
    for group, key in zip(names[::2], names[1::2], strict=True):
        rows = row.get(group) if row is not None else None
        listed = rows if isinstance(rows, list) else []
        row = next((found for found in listed if found.get("key") == key), None)
    if row is None:
        reading.note(path, "is not in this challenge. Choose one that is.")
        return
    allowed = {"threshold"} if names[0] == "criteria" else {"start", "lowest", "highest", "choices"}
    for key, value in values.items():
        if key not in allowed:
            known = ", ".join(sorted(allowed))
            reading.note(f"{path}.{key}", f"cannot be changed. Change {known}.")
        elif value is None:
            row.pop(key, None)
        else:
            row[key] = deepcopy(value)


def _read_panel_of(table: Table, outcome: Outcome) -> Panel | None:
    if any(problem.field == "outcome.kind" for problem in table.reading.problems):
        # Whether a panel is wanted depends on a kind that is not known: one mistake, one message.
        table.has("panel")
        return None
    if outcome.kind is OutcomeKind.ZONES:
        return read_panel(table.table("panel", "its size and zones"))
    if table.has("panel"):
        table.note("panel", "goes with outcome.kind zones only. Take it out or choose zones.")
    return None


def _read_wording(table: Table) -> dict[GradeBand, BandWording]:
    wording = {}
    for band in GradeBand:
        row = table.table(band.value, "the story and the problem in this band's words")
        wording[band] = BandWording(
            story=row.text("story", "why the thing is needed"),
            problem=row.text("problem", "what is to be built and what it has to do"),
            distance_mm=row.find_whole("distance_mm", "the distance in mm, above 0", lowest=1),
        )
        row.finish()
    table.finish()
    return wording


def _check_launching(challenge: Challenge, reading: Reading) -> None:
    fixed = {constraint.key for constraint in challenge.constraints if constraint.fixed}
    for key in LAUNCHING_CONSTRAINTS:
        if key not in fixed:
            what = "is missing. Add it with fixed = true: nothing is launched without it."
            reading.note(f"constraints.{key}", what)
