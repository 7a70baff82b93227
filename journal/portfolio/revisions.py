"""One revision as a spread of the portfolio: what and why, then what happened."""

from __future__ import annotations

from collections.abc import Sequence

from journal.content.shown_times import show_day
from journal.domain.factor_values import current_value, name_value, show_value
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_money, show_number
from journal.domain.part_states import PartState
from journal.domain.revision_rules import (
    cost_hundredths,
    describe_new_value,
    factors_for,
    name_change,
    unit_of_change,
)
from journal.domain.revisions import Change, MaterialAmount, Revision
from journal.domain.stages import Note
from journal.findings.budgets import cost_of
from journal.findings.group_findings import GroupFindings
from journal.findings.trial_records import label_revision
from journal.pictures.chains import link_causes
from journal.portfolio.notes import found_after, plan_before
from journal.portfolio.outcomes import describe_outcome
from journal.portfolio.pages import (
    Bill,
    ChangeLine,
    MaterialLine,
    RevisionSpread,
)
from journal.portfolio.parts import name_people
from journal.services.revisions import FIRST_BUILD

#: More changes than this do not fit a title.
_MOST_IN_TITLE = 2


def parts_in_full(record: GroupRecord) -> tuple[PartState, ...]:
    """Return the parts whose revisions get spreads: the main one, or all where each has its own."""
    main = record.main_part
    if main is None:
        return ()
    if main.part.is_own:
        return tuple(state for state in record.parts if state.revisions)
    return (main,) if main.revisions else ()


def make_spread(
    record: GroupRecord,
    state: PartState,
    revision: Revision,
    found: GroupFindings,
    notes: Sequence[Note],
) -> RevisionSpread:
    """Return one revision, ready to print."""
    parent = state.find_revision(revision.parent_id) if revision.parent_id else None
    earlier = [other for other in state.revisions if other.number < revision.number]
    changes = tuple(_change_line(state, change) for change in revision.changes)
    reason = "" if revision.reason.casefold() == FIRST_BUILD.casefold() else revision.reason
    return RevisionSpread(
        number=revision.number,
        label=label_revision(state, revision),
        title=_title(state, revision, reason),
        origin=_origin(record, state, revision, parent),
        parent_label="" if parent is None else label_revision(state, parent),
        changes=changes,
        stayed=_stayed(record, state, revision) if parent is not None and changes else "",
        reason=reason,
        prediction=revision.prediction,
        plan=plan_before(record, revision, earlier[-1].made_at if earlier else None, notes),
        found=found_after(record, revision, notes),
        people=_people(record, revision),
        bill=_bill(record, revision),
        happened=describe_outcome(record, state, revision, parent, found),
        cause=link_causes(record, revision),
    )


def _title(state: PartState, revision: Revision, reason: str) -> str:
    if revision.parent_id is None:
        return FIRST_BUILD
    if not revision.changes:
        return "Built again" if reason else "Built anew"
    if len(revision.changes) > _MOST_IN_TITLE:
        return f"{len(revision.changes)} changes"
    changes = ", ".join(_change_words(state, change) for change in revision.changes)
    return changes[:1].upper() + changes[1:]


def _change_words(state: PartState, change: Change) -> str:
    return describe_new_value(change, state.kind, in_sentence=True)


def _change_line(state: PartState, change: Change) -> ChangeLine:
    unit = unit_of_change(change, state.kind)
    return ChangeLine(
        factor=name_change(change, state.kind),
        before=show_value(change.from_value, unit),
        now=show_value(change.to_value, unit),
        why=change.reason,
    )


def _origin(
    record: GroupRecord, state: PartState, revision: Revision, parent: Revision | None
) -> str:
    numbers = {session.id: session.number for session in record.context.sessions}
    sentences = [] if parent is None else [f"Made from {label_revision(state, parent)}"]
    sentences.append(show_day(revision.made_at))
    if revision.session_id in numbers:
        sentences.append(f"session {numbers[revision.session_id]}")
    if revision.is_set_aside:
        sentences.append("set aside later")
    return ", ".join(sentences)


def _stayed(record: GroupRecord, state: PartState, revision: Revision) -> str:
    """Say which factors are as they were: half of a fair test."""
    changed = {change.factor for change in revision.changes}
    kept = []
    for factor in factors_for(state.kind, record.context.school_class.band):
        value = current_value(factor.key, revision, state.revisions, state.kind)
        if factor.key not in changed and value:
            kept.append(name_value(factor.name.lower(), value, factor.unit))
    return f"As before: {', '.join(kept)}." if kept else ""


def _people(record: GroupRecord, revision: Revision) -> tuple[tuple[str, str], ...]:
    people = [
        ("Who made it", name_people(record, revision.maker_ids, "The group")),
        ("Who decided", name_people(record, revision.decider_ids, "The whole group")),
    ]
    if revision.scribe:
        people.append(("Written by", revision.scribe))
    return tuple(people)


def _bill(record: GroupRecord, revision: Revision) -> Bill | None:
    if not revision.materials:
        return None
    challenge = record.context.challenge
    limit = challenge.budget_hundredths
    every = [other for state in record.parts for other in state.revisions]
    spent = cost_of(challenge, (other for other in every if other.made_at <= revision.made_at))
    total = cost_of(challenge, [revision])
    return Bill(
        lines=tuple(_material_line(record, material) for material in revision.materials),
        total=show_money(total),
        so_far="" if limit is None or spent == total else show_money(spent),
        limit="" if limit is None else show_money(limit),
        over="" if limit is None or spent <= limit else "Over the budget",
    )


def _material_line(record: GroupRecord, used: MaterialAmount) -> MaterialLine:
    challenge = record.context.challenge
    material = next((known for known in challenge.materials if known.key == used.material), None)
    name = used.material if material is None else material.name
    unit = "" if material is None or material.unit == "piece" else f" {material.unit}"
    return MaterialLine(
        name=f"{name}, {show_number(used.amount)}{unit}",
        cost=show_money(cost_hundredths([used], challenge)),
        latex=material is not None and material.latex,
    )
