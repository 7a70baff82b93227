"""Rules of revisions: a form or an entry comes in, a settled RevisionEntry or Invalid goes out."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from uuid import UUID

from journal.domain.challenges import Challenge, Factor, Material, PartKind
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, Problem, Refused
from journal.domain.factor_values import (
    MOST_LETTERS,
    OTHER,
    NoValue,
    current_value,
    name_value,
    read_value,
    show_value,
)
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_number
from journal.domain.part_states import PartState
from journal.domain.revisions import Change, MaterialAmount, Revision, RevisionEntry
from journal.domain.sentences import clean_words, find_problem, join_sentence

#: More of one material than this is a slip of the finger.
MOST_OF_A_MATERIAL = 10_000.0
_MOST_SCRIBE_LETTERS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionForm:
    """The form for a revision as it was sent: every value is still a text."""

    part_id: UUID
    parent_id: UUID | None = None
    #: Factors said to have changed.
    ticked: tuple[str, ...] = ()
    #: The new value of each factor, by its key.
    values: Mapping[str, str] = field(default_factory=dict)
    #: Amounts by material.
    amounts: Mapping[str, str] = field(default_factory=dict)
    reason_starter: str = ""
    reason: str = ""
    prediction_starter: str = ""
    prediction: str = ""
    maker_ids: tuple[UUID, ...] = ()
    decider_ids: tuple[UUID, ...] = ()
    scribe: str = ""


def factors_for(kind: PartKind, band: GradeBand) -> tuple[Factor, ...]:
    """Return the factors of a part that a band is offered."""
    return tuple(factor for factor in kind.factors if not factor.bands or band in factor.bands)


def read_revision_form(form: RevisionForm, challenge: Challenge) -> RevisionEntry:
    """Return the entry that a form holds; values of factors are settled later.

    Raises Invalid for amounts that are no numbers.
    """
    problems: list[Problem] = []
    materials = []
    for material in challenge.materials:
        amount = _read_amount(material, form.amounts.get(material.key, ""), problems)
        if amount:
            materials.append(MaterialAmount(material=material.key, amount=amount))
    if problems:
        raise Invalid(problems[0].what, problems)
    return RevisionEntry(
        part_id=form.part_id,
        parent_id=form.parent_id,
        changes=tuple(
            Change(factor=key, from_value="", to_value=form.values.get(key, ""))
            for key in dict.fromkeys(form.ticked)
        ),
        materials=tuple(materials),
        reason=join_sentence(form.reason_starter, form.reason),
        prediction=join_sentence(form.prediction_starter, form.prediction),
        maker_ids=form.maker_ids,
        decider_ids=form.decider_ids,
        scribe=form.scribe,
    )


def settle_entry(
    entry: RevisionEntry,
    state: PartState,
    challenge: Challenge,
    member_ids: Collection[UUID],
    *,
    edited: UUID | None = None,
) -> RevisionEntry:
    """Return the entry with values in the factors' own units and what each one was before.

    `edited` is the revision whose content is put right, so that it is not its own parent. Raises
    Invalid with one Problem a field.
    """
    problems: list[Problem] = []
    parent = _find_parent(entry, state, edited, problems)
    changes = [
        settled
        for change in entry.changes
        if (settled := _settle_change(change, state, parent, problems)) is not None
    ]
    reason, prediction = clean_words(entry.reason), clean_words(entry.prediction)
    if not entry.changes and not reason:
        what = Message("revision_rules.tap_what_changes")
        problems.append(Problem("reason", what))
    for name, text in (("reason", reason), ("prediction", prediction)):
        problems += filter(None, [find_problem(name, text)])
    problems += _strangers("makers", entry.maker_ids, member_ids)
    problems += _strangers("deciders", entry.decider_ids, member_ids)
    problems += _check_materials(entry.materials, challenge)
    if problems:
        raise Invalid(problems[0].what, problems)
    return replace(
        entry,
        parent_id=parent.id if parent else None,
        changes=tuple(changes),
        reason=reason,
        prediction=prediction,
        scribe=clean_words(entry.scribe)[:_MOST_SCRIBE_LETTERS],
    )


def require_unlocked(state: PartState, revision: Revision) -> None:
    """Raise Refused where the revision has a trial: what was tested stays as it was."""
    if state.is_locked(revision.id):
        message = Message("revision_rules.it_has_trials")
        raise Refused(message)


def cost_hundredths(materials: Iterable[MaterialAmount], challenge: Challenge) -> int:
    """Return what materials cost, in hundredths of the challenge's money."""
    prices = {material.key: material.price_hundredths for material in challenge.materials}
    return round(
        math.fsum(material.amount * prices.get(material.material, 0) for material in materials)
    )


def name_change(change: Change, kind: PartKind) -> str:
    """Return the name of what was changed, such as "Rail length"."""
    factor = kind.find_factor(change.factor)
    return factor.name if factor else "Other"


def describe_change(change: Change, kind: PartKind) -> str:
    """Return a change in a few words: "Rail length 300 mm, was 200 mm"."""
    value = describe_new_value(change, kind)
    was = show_value(change.from_value, unit_of_change(change, kind))
    return f"{value}, was {was}" if was else value


def describe_new_value(change: Change, kind: PartKind, *, in_sentence: bool = False) -> str:
    """Return what is new in a few words: "Rail length 300 mm", or "2 bands".

    In a sentence it begins small. A change of another kind is told in its own words.
    """
    if change.factor == OTHER:
        return change.to_value
    name = name_change(change, kind)
    if in_sentence:
        name = name[:1].lower() + name[1:]
    return name_value(name, change.to_value, unit_of_change(change, kind))


def unit_of_change(change: Change, kind: PartKind) -> str:
    """Return the unit of a change; one that was kept without it has that of its factor."""
    factor = kind.find_factor(change.factor)
    return change.unit or (factor.unit if factor else "")


def _find_parent(
    entry: RevisionEntry, state: PartState, edited: UUID | None, problems: list[Problem]
) -> Revision | None:
    if entry.parent_id is None:
        return None
    parent = state.find_revision(entry.parent_id)
    own = next((revision for revision in state.revisions if revision.id == edited), None)
    if parent is None or (own is not None and parent.number >= own.number):
        what = Message("revision_rules.it_is_made_from_an_earlier_revision_of", name=state.name)
        problems.append(Problem("parent", what))
    return parent


def _settle_change(
    change: Change, state: PartState, parent: Revision | None, problems: list[Problem]
) -> Change | None:
    field_name = f"to_{change.factor}"
    reason = clean_words(change.reason)
    if change.factor == OTHER:
        words = clean_words(change.to_value)
        problem = find_problem(field_name, words, MOST_LETTERS)
        if not words:
            problem = Problem(field_name, Message("revision_rules.say_in_a_few_words_what_is_new"))
        if problem:
            problems.append(problem)
            return None
        return Change(factor=OTHER, from_value="", to_value=words, reason=reason)
    factor = state.kind.find_factor(change.factor)
    if factor is None:
        what = Message("revision_rules.has_nothing_called", name=state.name, factor=change.factor)
        problems.append(Problem("changes", what))
        return None
    try:
        value = read_value(factor, change.to_value)
    except NoValue as error:
        problems.append(Problem(field_name, error.message))
        return None
    before = current_value(factor.key, parent, state.revisions, state.kind) if parent else ""
    if value == before:
        shown = show_value(value, factor.unit)
        what = Message("revision_rules.it_was_before", shown=shown, name=factor.name)
        problems.append(Problem(field_name, what))
        return None
    return Change(
        factor=factor.key, from_value=before, to_value=value, unit=factor.unit, reason=reason
    )


def _strangers(
    name: str, chosen: Iterable[UUID], member_ids: Collection[UUID]
) -> tuple[Problem, ...]:
    if all(id_ in member_ids for id_ in chosen):
        return ()
    return (Problem(name, Message("revision_rules.tap_only_children_of_this_group")),)


def _read_amount(material: Material, text: str, problems: list[Problem]) -> float:
    words = clean_words(text)
    if not words:
        return 0.0
    field_name = f"material_{material.key}"
    try:
        amount = read_number(words)
    except NoNumber as error:
        problems.append(Problem(field_name, error.message))
        return 0.0
    if what := _amount_problem(amount, material):
        problems.append(Problem(field_name, what))
    return amount


def _amount_problem(amount: float, material: Material) -> Message | None:
    if not math.isfinite(amount) or amount > MOST_OF_A_MATERIAL:
        return Message("revision_rules.write_how_much_as_a_number", unit=material.unit)
    if amount < 0:
        return Message("revision_rules.it_cannot_be_less_than_0")
    return None


def _check_materials(
    materials: Iterable[MaterialAmount], challenge: Challenge
) -> tuple[Problem, ...]:
    known = {material.key: material for material in challenge.materials}
    problems = []
    for used in materials:
        material = known.get(used.material)
        if material is None:
            problems.append(
                Problem(
                    "materials", Message("revision_rules.not_in_the_list", material=used.material)
                )
            )
        elif what := _amount_problem(used.amount, material):
            problems.append(Problem(f"material_{used.material}", what))
    return tuple(problems)
