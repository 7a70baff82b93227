"""What the teacher sees of the tablets at the door."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from uuid import UUID

from journal.domain.actors import Tablet, TabletState
from journal.domain.groups import Group
from journal.services.shown_times import show_time
from journal.services.tablets import list_tablets
from journal.services.work import Work
from journal.store import classes, groups

_STATES = {
    TabletState.WAITING: "waits at the door",
    TabletState.IN: "is in",
    TabletState.OUT: "was sent out",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class TabletLine:
    """One tablet: which group, who tapped in, where it stands."""

    id: UUID
    number: int
    group: str
    student: str
    state: str
    told: str
    since: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TabletsPage:
    """The tablets of a class, and a mark that changes when they do."""

    class_id: UUID
    door: str
    tablets: tuple[TabletLine, ...]
    seen: str


def prepare_tablets(work: Work, class_id: UUID) -> TabletsPage:
    """Gather the tablets whose sign-in lasts, waiting ones first."""
    tablets = list_tablets(work, class_id)
    by_id = {group.id: group for group in groups.groups_of_class(work.session, class_id)}
    lines = tuple(_line(tablet, by_id[tablet.group_id]) for tablet in tablets)
    door = classes.get_class(work.session, class_id).door.value
    return TabletsPage(class_id=class_id, door=door, tablets=lines, seen=_mark(door, lines))


def _line(tablet: Tablet, group: Group) -> TabletLine:
    names = {member.student_id: member.nickname for member in group.members}
    return TabletLine(
        id=tablet.sign_in_id,
        number=group.number,
        group=group.name,
        student=names.get(tablet.student_id, "") if tablet.student_id else "",
        state=tablet.state.value,
        told=_STATES[tablet.state],
        since=show_time(tablet.signed_in_at),
    )


def _mark(door: str, lines: tuple[TabletLine, ...]) -> str:
    told = f"{door} {lines!r}"
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()[:16]
