"""Converts a group's trials for the analysis: a GroupRecord in, TrialRecords out."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from journal.analysis.records import TrialRecord
from journal.domain.group_records import GroupRecord
from journal.domain.guest_tests import GuestKind, GuestTest, GuestTrial
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.domain.trials import Place, Trial, TrialState


def records_of(record: GroupRecord, state: PartState) -> tuple[TrialRecord, ...]:
    """Return the trials of one part's revisions as the analysis takes them."""
    labels = {revision.id: label_revision(state, revision) for revision in state.revisions}
    sessions = {session.id: str(session.number) for session in record.context.sessions}
    own_labels = {} if state.part.is_own else _own_labels(record)
    return tuple(
        _trial_record(trial, order, labels[revision_id], sessions, own_labels)
        for order, trial in enumerate(record.usable_trials)
        for revision_id in trial.revision_ids
        if revision_id in labels
    )


def guest_records_of(
    record: GroupRecord, state: PartState, until: datetime | None = None
) -> list[tuple[datetime, TrialRecord]]:
    """Return the launches of guest tests as the analysis takes them, each with when it came in.

    Only those with this part or with another group's device, in by `until`; the order is not set.
    """
    labels = {revision.id: label_revision(state, revision) for revision in state.revisions}
    own_labels = _own_labels(record)
    return [
        (trial.received_at, _guest_record(trial, guest_test, labels, own_labels))
        for guest_test in record.guest_tests
        for trial in guest_test.usable_trials
        if (guest_test.revision_id in labels or guest_test.kind is GuestKind.THEIR_DEVICE)
        and (until is None or trial.received_at <= until)
    ]


def _guest_record(
    trial: GuestTrial,
    guest_test: GuestTest,
    labels: dict[UUID, str],
    own_labels: dict[UUID, str],
) -> TrialRecord:
    is_guest = guest_test.kind is GuestKind.GUESTS
    who = f"guest {guest_test.number_of(trial.student_id)} of {guest_test.id}"
    own_part = "" if trial.own_revision_id is None else own_labels.get(trial.own_revision_id, "")
    return TrialRecord(
        order=0,
        revision=labels.get(guest_test.revision_id, ""),
        student=who if is_guest else str(trial.student_id),
        own_part=own_part or (f"part of {who}" if is_guest and own_labels else ""),
        distance_mm=trial.distance_mm,
        x_mm=trial.x_mm if trial.place is Place.PANEL else None,
        y_mm=trial.y_mm if trial.place is Place.PANEL else None,
        value=trial.value,
        place=trial.place,
        amount=trial.amount,
        misfire=trial.misfire,
        guest=is_guest,
        owner="" if is_guest else str(guest_test.asked_group_id),
    )


def label_revision(state: PartState, revision: Revision) -> str:
    """Return the revision's name, such as "Launcher 2"."""
    return f"{state.name} {revision.number}"


def name_devices(record: GroupRecord, trial: Trial) -> str:
    """Name what a trial used, shared parts first; of another group's part only the kind."""
    named: list[tuple[bool, str]] = []
    for revision_id in trial.revision_ids:
        found = record.find_revision(revision_id)
        if found is None:
            continue
        state, revision = found
        borrowed = state.part.group_id != record.group.id
        kind = state.kind.name.lower()
        label = f"a borrowed {kind}" if borrowed else label_revision(state, revision)
        named.append((state.part.is_own, label))
    return ", ".join(label for _, label in sorted(named))


def _trial_record(
    trial: Trial,
    order: int,
    label: str,
    sessions: dict[UUID, str],
    own_labels: dict[UUID, str],
) -> TrialRecord:
    own_parts = [own_labels[id_] for id_ in trial.revision_ids if id_ in own_labels]
    return TrialRecord(
        order=order,
        revision=label,
        student="" if trial.student_id is None else str(trial.student_id),
        own_part=own_parts[0] if own_parts else "",
        handling="; ".join(f"{key}={trial.handling[key]}" for key in sorted(trial.handling)),
        session=sessions.get(trial.session_id, ""),
        panel=trial.panel,
        kind=trial.kind,
        distance_mm=trial.distance_mm,
        x_mm=trial.x_mm if trial.place is Place.PANEL else None,
        y_mm=trial.y_mm if trial.place is Place.PANEL else None,
        value=trial.value,
        place=trial.place,
        amount=trial.amount,
        misfire=trial.misfire if trial.state is TrialState.MISFIRE else None,
    )


def _own_labels(record: GroupRecord) -> dict[UUID, str]:
    """Return the name of each revision of a student's own part, borrowed ones too."""
    return {
        revision.id: label_revision(state, revision)
        for state in (*record.parts, *record.foreign_parts)
        if state.part.is_own
        for revision in state.revisions
    }
