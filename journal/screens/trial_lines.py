"""Trials as lines of a table: a GroupRecord in, words and figures out."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.content.shown_times import show_moment
from journal.content.trial_words import result_words
from journal.domain.group_records import GroupRecord
from journal.domain.trials import Trial, TrialState
from journal.findings.trial_records import name_devices


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
            device=name_devices(record, trial),
            handling=", ".join(trial.handling.values()),
            result=result_words(record.context.challenge, trial),
            note=_note(trial),
        )
        for trial in record.trials
    )


def _note(trial: Trial) -> str:
    state = "" if trial.state is TrialState.MEASURED else trial.state.value
    return ", ".join(part for part in (state, "lane closed" if trial.lane_closed else "") if part)


def _who(record: GroupRecord, trial: Trial) -> str:
    if trial.student_id is None:
        return ""
    return record.group.name_of(trial.student_id)
