"""Trials as lines of a table: a GroupRecord in, words and figures out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from uuid import UUID

from journal.content.shown_times import show_moment
from journal.content.trial_words import misfire_words, outcome_words
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_number
from journal.domain.trials import Trial, TrialState
from journal.findings.trial_records import label_revision


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialLine:
    """One trial to read."""

    id: UUID
    number: int
    session: str
    time: str
    who: str
    kind: str
    #: With what: the labels of the revisions.
    device: str
    handling: str
    result: str
    amount: str
    #: "" for an entry that counts as it is; else "misfire", "void", "struck", "lane closed".
    note: str


def trial_lines(record: GroupRecord) -> tuple[TrialLine, ...]:
    """Return every trial of the group in order, struck and void ones too."""
    sessions = {session.id: str(session.number) for session in record.context.sessions}
    numbers = record.trial_numbers
    return tuple(
        TrialLine(
            id=trial.id,
            number=numbers[trial.id],
            session=sessions.get(trial.session_id, ""),
            time=show_moment(trial.logged_at),
            who=_who(record, trial),
            kind=trial.kind.value,
            device=", ".join(_labels(record, trial)),
            handling=", ".join(trial.handling.values()),
            result=show_result(record, trial),
            amount=_figure(trial.amount),
            note=_note(trial),
        )
        for trial in record.trials
    )


def show_result(record: GroupRecord, trial: Trial) -> str:
    """Say in a few words what came of a trial, such as "Bark, 4 points" or "the band slipped"."""
    challenge = record.context.challenge
    if trial.misfire is not None:
        return misfire_words(challenge, trial)
    return outcome_words(challenge, trial)


def _note(trial: Trial) -> str:
    state = "" if trial.state is TrialState.MEASURED else trial.state.value
    return ", ".join(part for part in (state, "lane closed" if trial.lane_closed else "") if part)


def _figure(value: float | None) -> str:
    """Return a figure to read; "" for none, and for what is no number."""
    return "" if value is None or not math.isfinite(value) else show_number(value)


def _who(record: GroupRecord, trial: Trial) -> str:
    if trial.student_id is None:
        return ""
    return record.group.name_of(trial.student_id)


def _labels(record: GroupRecord, trial: Trial) -> list[str]:
    """Return what was used; a part of another group is called by its kind alone."""
    told = []
    for revision_id in trial.revision_ids:
        found = record.find_revision(revision_id)
        if found is None:
            continue
        state, revision = found
        own_group = state.part.group_id == record.group.id
        told.append(
            label_revision(state, revision)
            if own_group
            else f"a borrowed {state.kind.name.lower()}"
        )
    return sorted(told, key=lambda label: label.startswith("a borrowed"))
