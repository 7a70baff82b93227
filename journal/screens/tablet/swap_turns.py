"""The turn of a swap test on the page for logging: who is next, each child's device chosen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from uuid import UUID

from journal.domain.group_contexts import GroupContext
from journal.domain.part_states import PartState
from journal.domain.swap_tests import SwapKind, SwapTest
from journal.findings.trial_records import label_revision
from journal.screens.links import Link, Target, link_to
from journal.screens.tablet.trial_testers import OwnChoice, Tester


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnView:
    """Whose turn it is, as the page shows it."""

    link: Link
    #: Such as "Next: Pim with Launcher 2"; what the child who is next taps is chosen already.
    words: str
    progress: str
    student_id: str
    #: Field and value of each child's choice, for a page that is brought up to date.
    choices: tuple[tuple[str, str], ...]


def view_turn(
    context: GroupContext, swap_test: SwapTest | None, states: Sequence[PartState]
) -> TurnView | None:
    """Return the turn that is next; None where no swap test runs."""
    turn = None if swap_test is None or swap_test.is_over else swap_test.next_turn
    if swap_test is None or turn is None:
        return None
    label = _label(states, turn.revision_id)
    return TurnView(
        link=link_to(Target.SWAP_TEST, group_id=context.group.id, swap_test_id=swap_test.id),
        words=f"{context.group.name_of(turn.student_id)} with {label}",
        progress=f"{swap_test.done} of {len(swap_test.turns)} done",
        student_id=str(turn.student_id),
        choices=tuple(
            (_field(states, own.student_id, own.revision_id), str(own.revision_id))
            for student_id in swap_test.student_ids
            if (own := swap_test.next_turn_of(student_id)) is not None
        ),
    )


def choose_turns(
    testers: Sequence[Tester], swap_test: SwapTest | None, states: Sequence[PartState]
) -> tuple[Tester, ...]:
    """Return the testers with the device of each one's next turn chosen.

    Two revisions of a shared part then stand under each name, like a part of one's own.
    """
    if swap_test is None or swap_test.is_over:
        return tuple(testers)
    shown = []
    for tester in testers:
        turn = next(
            (swap_test.next_turn_of(id_) for id_ in swap_test.student_ids
             if str(id_) == tester.student_id), None
        )  # fmt: skip
        chosen = None if turn is None else turn.revision_id
        own = tester.own
        if swap_test.kind is SwapKind.REVISIONS:
            own = _with_both(tester, swap_test, states, chosen)
        elif chosen is not None:
            own = tuple(_with_chosen(choice, states, chosen) for choice in own)
        shown.append(replace(tester, own=own))
    return tuple(shown)


def swapped_shared_part(swap_test: SwapTest | None, states: Sequence[PartState]) -> UUID | None:
    """Return the shared part of which two revisions are swapped: each name chooses its own."""
    if swap_test is None or swap_test.is_over or swap_test.new_revision_id is None:
        return None
    state = _find_part(states, swap_test.new_revision_id)
    return None if state is None or state.part.is_own else state.part.id


def _with_both(
    tester: Tester, swap_test: SwapTest, states: Sequence[PartState], chosen: UUID | None
) -> tuple[OwnChoice, ...]:
    both = (swap_test.old_revision_id, swap_test.new_revision_id)
    state = _find_part(states, both[1]) if both[1] else None
    if state is None or state.current is None:
        return tester.own
    if state.part.is_own:
        if str(state.part.owner_id) != tester.student_id or chosen is None:
            return tester.own
        return tuple(_with_chosen(own_choice, states, chosen) for own_choice in tester.own)
    choice = OwnChoice(
        field=f"own-{tester.student_id}-{state.kind.key}",
        kind_name=state.kind.name.lower(),
        icon=state.kind.icon,
        options=tuple((str(id_), _label(states, id_)) for id_ in both if id_ is not None),
        chosen=str(chosen or state.current.id),
    )
    return (choice, *tester.own)


def _with_chosen(choice: OwnChoice, states: Sequence[PartState], chosen: UUID) -> OwnChoice:
    state = _find_part(states, chosen)
    if state is None or not choice.field.endswith(f"-{state.kind.key}"):
        return choice
    options = choice.options
    if str(chosen) not in {value for value, _ in options}:
        options = (*options, (str(chosen), _label(states, chosen)))
    return replace(choice, options=options, chosen=str(chosen))


def _field(states: Sequence[PartState], student_id: UUID, revision_id: UUID) -> str:
    state = _find_part(states, revision_id)
    return "" if state is None else f"own-{student_id}-{state.kind.key}"


def _find_part(states: Sequence[PartState], revision_id: UUID) -> PartState | None:
    return next((state for state in states if state.find_revision(revision_id) is not None), None)


def _label(states: Sequence[PartState], revision_id: UUID) -> str:
    state = _find_part(states, revision_id)
    revision = None if state is None else state.find_revision(revision_id)
    return "" if state is None or revision is None else label_revision(state, revision)
