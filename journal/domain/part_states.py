"""How the parts of a group stand: parts, revisions and events come in, PartStates go out."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from journal.domain.challenges import Challenge, PartKind
from journal.domain.groups import FORMER_MEMBER
from journal.domain.parts import Part, PartEvent, PartEventKind
from journal.domain.revisions import Revision

_USUAL_WHERE_TESTS_DESTROY = frozenset({PartEventKind.BROKEN, PartEventKind.MENDED})


class PartCondition(StrEnum):
    """Whether a part can be tested now."""

    USABLE = "usable"
    LOST = "lost"
    BROKEN = "broken"
    #: No revision was built yet, or every one is set aside.
    NOT_BUILT = "not_built"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartState:
    """A part with all that happened to it."""

    part: Part
    kind: PartKind
    #: Oldest first.
    revisions: tuple[Revision, ...] = ()
    #: Oldest first.
    events: tuple[PartEvent, ...] = ()
    #: Revisions that are locked by a trial.
    locked_ids: frozenset[UUID] = frozenset()

    @property
    def notable_events(self) -> tuple[PartEvent, ...]:
        """Return what is news: where each test destroys the part, breaking and mending are none."""
        if not self.kind.destructive:
            return self.events
        return tuple(event for event in self.events if event.kind not in _USUAL_WHERE_TESTS_DESTROY)

    @property
    def name(self) -> str:
        """Return what the group calls it, such as "Launcher" or "Bo’s dart"."""
        return name_part(self.kind, self.part)

    @property
    def current(self) -> Revision | None:
        """Return the newest revision that is not set aside: the one a trial uses."""
        usable = [revision for revision in self.revisions if not revision.is_set_aside]
        return usable[-1] if usable else None

    @property
    def usual_parent(self) -> Revision | None:
        """Return what the next revision is made from unless the group says otherwise."""
        return self.current or (self.revisions[-1] if self.revisions else None)

    @property
    def next_number(self) -> int:
        """Return the number that the next revision gets."""
        return max((revision.number for revision in self.revisions), default=0) + 1

    @property
    def condition(self) -> PartCondition:
        """Return whether it can be tested; mending it or building it anew puts it right."""
        if self.current is None:
            return PartCondition.NOT_BUILT
        stopped = self._stopped_by()
        if stopped is None:
            return PartCondition.USABLE
        lost = stopped.kind is PartEventKind.LOST
        return PartCondition.LOST if lost else PartCondition.BROKEN

    @property
    def is_usable(self) -> bool:
        """Tell whether a trial can use it now."""
        return self.condition is PartCondition.USABLE

    @property
    def lent_to(self) -> UUID | None:
        """Return the other group that has it now; it comes back when its own group takes it."""
        borrowed = [event for event in self.events if event.kind is PartEventKind.BORROWED]
        holder = borrowed[-1].borrower_group_id if borrowed else None
        return None if holder == self.part.group_id else holder

    def find_revision(self, revision_id: UUID) -> Revision | None:
        """Return the revision with this id, if it is one of this part."""
        return next((revision for revision in self.revisions if revision.id == revision_id), None)

    def is_locked(self, revision_id: UUID) -> bool:
        """Tell whether the revision has a trial and is therefore not edited any more."""
        return revision_id in self.locked_ids

    def _stopped_by(self) -> PartEvent | None:
        newest = max((revision.made_at for revision in self.revisions), default=None)
        stopped: PartEvent | None = None
        for event in self.events:
            if event.kind.stops_trials:
                stopped = event
            elif event.kind is PartEventKind.MENDED:
                stopped = None
        return None if stopped and _is_after(newest, stopped.at) else stopped


def name_part(kind: PartKind, part: Part) -> str:
    """Return the part's name on screen and paper; a shared one is called by its kind alone."""
    if not part.is_own:
        return kind.name
    owner = part.owner_nickname or FORMER_MEMBER
    return f"{owner}’s {kind.name[:1].lower()}{kind.name[1:]}"


def read_part_states(
    challenge: Challenge,
    parts: Iterable[Part],
    revisions: Iterable[Revision],
    events: Iterable[PartEvent],
    locked_ids: Collection[UUID] = frozenset(),
) -> tuple[PartState, ...]:
    """Return a state for each part: shared ones first, kinds in the challenge's order.

    A part of a kind that the challenge does not have is left out.
    """
    by_part: dict[UUID, list[Revision]] = {}
    for revision in revisions:
        by_part.setdefault(revision.part_id, []).append(revision)
    happened: dict[UUID, list[PartEvent]] = {}
    for event in events:
        happened.setdefault(event.part_id, []).append(event)
    ordered = sorted(challenge.parts, key=lambda kind: kind.own)
    listed = list(parts)
    return tuple(
        PartState(
            part=part,
            kind=kind,
            revisions=tuple(sorted(by_part.get(part.id, []), key=lambda revision: revision.number)),
            events=tuple(sorted(happened.get(part.id, []), key=lambda event: event.at)),
            locked_ids=frozenset(
                revision.id for revision in by_part.get(part.id, []) if revision.id in locked_ids
            ),
        )
        for kind in ordered
        for part in listed
        if part.key == kind.key
    )


def _is_after(moment: datetime | None, other: datetime) -> bool:
    return moment is not None and moment > other
