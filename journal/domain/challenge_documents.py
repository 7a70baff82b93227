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
from journal.domain.messages import Message
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
    launches = table.flag("launches", Message("challenge_documents.true_where_something_flies"))
    outcome = read_outcome(table.table("outcome", Message("challenge_documents.kind_name_unit")))
    panel = _read_panel_of(table, outcome)
    challenge = Challenge(
        key=table.key(Message("challenge_documents.short_name_such_as_beyond_the_ditch")),
        title=table.text("title", Message("challenge_documents.challenges_name_on_the_screen")),
        launches=launches,
        tester_question=table.text("tester_question", Message("challenge_documents.such_as")),
        place_question=table.text("place_question", Message("challenge_documents.such_as_where")),
        wording=_read_wording(
            table.table("wording", Message("challenge_documents.table_for_each_band"))
        ),
        criteria=tuple(
            map(
                read_criterion,
                table.tables("criteria", Message("challenge_documents.at_least_one_criterion")),
            )
        ),
        constraints=tuple(
            map(
                read_constraint,
                table.tables("constraints", Message("challenge_documents.at_least_one_limit")),
            )
        ),
        parts=tuple(
            map(read_part, table.tables("parts", Message("challenge_documents.at_least_one_part")))
        ),
        handling=tuple(
            map(
                read_handling,
                table.tables(
                    "handling", Message("challenge_documents.ways_of_using_it"), needed=False
                ),
            )
        ),
        materials=tuple(
            map(
                read_material,
                table.tables(
                    "materials", Message("challenge_documents.what_it_is_built_from"), needed=False
                ),
            )
        ),
        money_name=table.text(
            "money_name", Message("challenge_documents.what_prices_are_counted_in"), "tokens"
        ),
        budget_hundredths=read_money(table, "budget") if table.has("budget") else None,
        outcome=outcome,
        panel=panel,
        counting=read_counting(
            table.table("counting", Message("challenge_documents.attempts_and_way"))
        ),
        misfires=tuple(
            map(
                read_misfire,
                table.tables("misfires", Message("challenge_documents.at_least_one_cause")),
            )
        ),
        safety=tuple(
            map(
                read_safety,
                table.tables("safety", Message("challenge_documents.at_least_one_caution")),
            )
        ),
        caution=table.text(
            "caution", Message("challenge_documents.line_on_every_screen_that_leads")
        ),
        distance_mm=table.find_whole(
            "distance_mm", Message("challenge_documents.distance_in_mm"), lowest=1
        ),
        goal=read_goal(table.table("goal", Message("challenge_documents.kind")), panel)
        if table.has("goal")
        else None,
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
        reading.note(path, Message("challenge_documents.not_in_this_challenge"))
        return
    allowed = {"threshold"} if names[0] == "criteria" else {"start", "lowest", "highest", "choices"}
    for key, value in values.items():
        if key not in allowed:
            known = tuple(sorted(allowed))
            reading.note(
                f"{path}.{key}", Message("challenge_documents.cannot_be_changed", known=known)
            )
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
        return read_panel(table.table("panel", Message("challenge_documents.its_size_and_zones")))
    if table.has("panel"):
        table.note("panel", Message("challenge_documents.goes_with_outcome"))
    return None


def _read_wording(table: Table) -> dict[GradeBand, BandWording]:
    wording = {}
    for band in GradeBand:
        row = table.table(
            band.value, Message("challenge_documents.story_and_the_problem_in_this_bands_words")
        )
        wording[band] = BandWording(
            story=row.text("story", Message("challenge_documents.why_the_thing_is_needed")),
            problem=row.text("problem", Message("challenge_documents.what_is_to_be_built")),
            distance_mm=row.find_whole(
                "distance_mm", Message("challenge_documents.distance_in_mm"), lowest=1
            ),
        )
        row.finish()
    table.finish()
    return wording


def _check_launching(challenge: Challenge, reading: Reading) -> None:
    fixed = {constraint.key for constraint in challenge.constraints if constraint.fixed}
    for key in LAUNCHING_CONSTRAINTS:
        if key not in fixed:
            what = Message("challenge_documents.is_missing")
            reading.note(f"constraints.{key}", what)
