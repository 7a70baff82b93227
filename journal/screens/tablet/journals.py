"""What a group's home shows: criteria, path, every part with its revisions, dots, the Finding."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.domain.group_records import GroupRecord
from journal.domain.lengths import show_length
from journal.domain.part_states import PartCondition, PartState
from journal.domain.parts import PartEvent, PartEventKind
from journal.domain.revision_rules import describe_change
from journal.domain.revisions import Revision
from journal.findings.group_findings import GroupFindings, RevisionFinding, find_for_group
from journal.pictures.chains import ChainLink, link_chain
from journal.pictures.drawings import Drawing, draw_walk_with_table
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.links import Link, Target, link_to
from journal.screens.swap_offers import SwapLinks, link_swaps
from journal.screens.tablet.journal_findings import JournalFinding, show_finding
from journal.screens.tablet.stages import (
    CriteriaStrip,
    StageLink,
    count_unbuilt,
    criteria_strip,
    describe_waiting,
    stage_links,
)
from journal.services.ladders import LadderOffer, offer
from journal.services.parts import parts_of_context
from journal.services.revisions import FIRST_BUILD

CONDITION_WORDS = {
    PartCondition.USABLE: "",
    PartCondition.LOST: "lost",
    PartCondition.BROKEN: "broken",
    PartCondition.NOT_BUILT: "not built yet",
}
_EVENT_WORDS = {
    PartEventKind.LOST: "was lost",
    PartEventKind.BROKEN: "broke",
    PartEventKind.MENDED: "is whole again",
    PartEventKind.BORROWED: "was lent",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionLine:
    """One revision in the family list."""

    revision_id: UUID
    number: int
    #: Where it comes from, such as "from 2"; "" for a first build.
    parent: str
    what: str
    why: str
    makers: str
    state: str
    is_current: bool
    is_set_aside: bool
    can_be_edited: bool
    #: From what was seen to what came of it: heads with the group's own words and sketches.
    chain: tuple[ChainLink, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLines:
    """A part with its family list and what happened to it."""

    name: str
    icon: str
    condition: str
    revisions: tuple[RevisionLine, ...]
    events: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalPage:
    """A group's home."""

    frame: TabletFrame
    strip: CriteriaStrip
    links: tuple[StageLink, ...]
    path: Drawing
    finding: JournalFinding
    parts: tuple[PartLines, ...]
    #: The distance of the session that runs, in words; "" where there is none.
    distance: str
    first_builds: int
    #: Why no trial can be logged now; "" where one can.
    waiting: str
    offer: LadderOffer | None
    swaps: SwapLinks
    #: Address and title of what the group did in other challenges.
    others: tuple[tuple[Link, str], ...]


def prepare_journal(work: Work, group_id: UUID) -> JournalPage:
    """Return the group's home."""
    context = get_group_context(work, group_id)
    record = gather_group(work, context)
    findings = find_for_group(record)
    return JournalPage(
        frame=frame_group(context, f"Our journal, {context.challenge.title}"),
        strip=criteria_strip(context),
        links=stage_links(context, record.steps),
        path=draw_walk_with_table(record),
        finding=show_finding(record, findings),
        parts=tuple(describe_part(record, state, findings) for state in record.parts),
        distance=show_length(record.distance_mm) if record.distance_mm else "",
        first_builds=count_unbuilt(parts_of_context(work, context)),
        waiting=describe_waiting(context),
        offer=offer(work, context, findings.stall.reason.value if findings.stall.stalled else None),
        swaps=link_swaps(record, findings),
        others=tuple(
            (
                link_to(Target.EARLIER_JOURNAL, group_id=group_id, challenge_id=challenge.id),
                challenge.title,
            )
            for challenge in context.others
        ),
    )


def describe_part(record: GroupRecord, state: PartState, findings: GroupFindings) -> PartLines:
    """Return a part's family list in words."""
    found = {finding.revision_id: finding for finding in findings.of_part(state.part.id)}
    return PartLines(
        name=state.name,
        icon=state.kind.icon,
        condition=CONDITION_WORDS[state.condition],
        revisions=tuple(
            _line(record, state, revision, found.get(revision.id)) for revision in state.revisions
        ),
        events=tuple(_describe_event(state, event) for event in state.notable_events),
    )


def _line(
    record: GroupRecord, state: PartState, revision: Revision, finding: RevisionFinding | None
) -> RevisionLine:
    parent = state.find_revision(revision.parent_id) if revision.parent_id else None
    makers = [record.group.name_of(id_) for id_ in revision.maker_ids]
    changes = ", ".join(describe_change(change, state.kind) for change in revision.changes)
    trials = len(record.trials_of(revision.id))
    states = [f"{trials} trial" if trials == 1 else f"{trials} trials"] if trials else []
    states += ["set aside"] if revision.is_set_aside else []
    what = FIRST_BUILD if parent is None else changes or "Built again"
    return RevisionLine(
        revision_id=revision.id,
        number=revision.number,
        parent=f"from {parent.number}" if parent else "",
        what=what,
        why="" if revision.reason.lower() == what.lower() else revision.reason,
        makers=", ".join(makers),
        state=", ".join(states),
        is_current=revision is state.current,
        is_set_aside=revision.is_set_aside,
        can_be_edited=not state.is_locked(revision.id),
        chain=link_chain(record, revision, finding),
    )


def _describe_event(state: PartState, event: PartEvent) -> str:
    words = _EVENT_WORDS[event.kind]
    if event.kind is PartEventKind.BORROWED and event.borrower_group_id == state.part.group_id:
        words = "came back"
    return f"{state.name} {words}."
