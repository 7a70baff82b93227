"""What the page of parts shows: how each one stands, and what can be told about it."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.domain.part_states import PartCondition, PartState
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.tablet.journals import CONDITION_WORDS
from journal.services.parts import borrowable_parts, borrowed_in_context, parts_of_context
from journal.store import groups


@dataclass(frozen=True, slots=True, kw_only=True)
class PartCard:
    """A part as something to tap."""

    part_id: UUID
    name: str
    icon: str
    #: Number of the revision in use with its state, such as "4, broken".
    note: str
    can_be_reported: bool
    can_be_mended: bool
    #: Lent to another group: it can be taken back.
    is_away: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BorrowChoice:
    """The parts that one other group could lend."""

    group: str
    parts: tuple[PartCard, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsPage:
    """The page of a group's parts."""

    frame: TabletFrame
    own: tuple[PartCard, ...]
    borrowed: tuple[PartCard, ...]
    to_borrow: tuple[BorrowChoice, ...]


def prepare_parts(work: Work, group_id: UUID) -> PartsPage:
    """Return the page of a group's parts."""
    context = get_group_context(work, group_id)
    names = {
        group.id: group.name
        for group in groups.groups_of_class(work.session, context.school_class.id)
    }
    offered = borrowable_parts(work, context)
    owners = list(dict.fromkeys(state.part.group_id for state in offered))
    return PartsPage(
        frame=frame_group(context, "Our parts"),
        own=tuple(_card(state, names) for state in parts_of_context(work, context)),
        borrowed=tuple(_card(state, names) for state in borrowed_in_context(work, context)),
        to_borrow=tuple(
            BorrowChoice(
                group=names[owner],
                parts=tuple(
                    _card(state, names) for state in offered if state.part.group_id == owner
                ),
            )
            for owner in sorted(owners, key=lambda owner_id: names[owner_id])
        ),
    )


def _card(state: PartState, names: dict[UUID, str]) -> PartCard:
    notes = [str(state.current.number)] if state.current else []
    notes += filter(None, [CONDITION_WORDS[state.condition]])
    if state.lent_to is not None:
        notes.append(f"with {names.get(state.lent_to, 'another group')}")
    stopped = state.condition in {PartCondition.LOST, PartCondition.BROKEN}
    return PartCard(
        part_id=state.part.id,
        name=state.name,
        icon=state.kind.icon,
        note=", ".join(notes),
        can_be_reported=state.is_usable,
        can_be_mended=stopped,
        is_away=state.lent_to is not None,
    )
