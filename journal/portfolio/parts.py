"""The parts beside the main one: states and events come in, short sections go out."""

from __future__ import annotations

from collections.abc import Collection

from journal.content.messages import word_message
from journal.content.shown_times import show_day
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.numbers import show_money
from journal.domain.part_states import PartState
from journal.domain.parts import PartEvent, PartEventKind
from journal.domain.revision_rules import cost_hundredths, describe_change
from journal.domain.revisions import Revision
from journal.findings.group_findings import GroupFindings
from journal.findings.trial_records import label_revision
from journal.portfolio.pages import PartSection, SmallRevision
from journal.services.revisions import FIRST_BUILD

#: A part beside the main one is told in short.
_MOST_SENTENCES = 4
_EVENT_WORDS = {
    PartEventKind.LOST: "was lost",
    PartEventKind.BROKEN: "broke",
    PartEventKind.MENDED: "was mended",
}


def list_parts(
    record: GroupRecord, found: GroupFindings, *, without: Collection[PartState]
) -> tuple[PartSection, ...]:
    """Return a section for each part that was built and has no spreads of its own."""
    left_out = {state.part.id for state in without}
    return tuple(
        PartSection(
            name=state.name,
            revisions=tuple(_small(record, state, revision, found) for revision in state.revisions),
            events=describe_events(record, state),
        )
        for state in record.parts
        if state.revisions and state.part.id not in left_out
    )


def describe_events(record: GroupRecord, state: PartState) -> tuple[str, ...]:
    """Say what happened to a part, in order; another group stays without a name."""
    sentences = []
    for event in state.notable_events:
        line = f"{state.name} {_event_words(record, event)} on {show_day(event.at)}."
        if line not in sentences:
            sentences.append(line)
    return tuple(sentences)


def name_people(record: GroupRecord, ids: Collection[object], otherwise: str) -> str:
    """Return nicknames in order of joining, or what stands where nobody was named."""
    named = [name for student_id, name in record.nicknames.items() if student_id in ids]
    return ", ".join(named) or otherwise


def _small(
    record: GroupRecord, state: PartState, revision: Revision, found: GroupFindings
) -> SmallRevision:
    finding = next(
        (
            revision_finding
            for revision_finding in found.revisions
            if revision_finding.revision_id == revision.id
        ),
        None,
    )
    trials = record.trials_of(revision.id)
    said = [text for text in (revision.reason, revision.prediction) if text and not _is_first(text)]
    return SmallRevision(
        label=label_revision(state, revision),
        changes=tuple(describe_change(change, state.kind) for change in revision.changes),
        said=tuple(said),
        facts=_facts(record, state, revision),
        numbers=finding.sentences[:_MOST_SENTENCES] if finding and trials else (),
    )


def _facts(record: GroupRecord, state: PartState, revision: Revision) -> str:
    facts = []
    if set(revision.maker_ids) - {state.part.owner_id}:
        facts.append(f"Made by {name_people(record, revision.maker_ids, 'the group')}.")
    if revision.materials:
        cost = show_money(cost_hundredths(revision.materials, record.context.challenge))
        facts.append(f"Materials {cost} {record.context.challenge.money_name}.")
    if revision.is_set_aside:
        facts.append("Set aside.")
    return " ".join(facts)


def _is_first(reason: str) -> bool:
    return reason.casefold() == FIRST_BUILD.casefold()


def _event_words(record: GroupRecord, event: PartEvent) -> str:
    if event.kind is not PartEventKind.BORROWED:
        return _EVENT_WORDS[event.kind]
    if event.borrower_group_id in {record.group.id, None}:
        return "came back"
    return word_message(Message("parts.was_lent_to_another_group"), record.language)
