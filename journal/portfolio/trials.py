"""The table of every trial: a record and its corrections come in, lines go out."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from journal.content.shown_times import show_day, show_moment
from journal.content.trial_words import field_words, result_words
from journal.domain.group_records import GroupRecord
from journal.domain.trials import Correction, Trial, TrialKind, TrialState
from journal.findings.trial_records import name_devices
from journal.portfolio.pages import TrialLine

_STATES = {
    TrialState.MEASURED: "",
    TrialState.MISFIRE: "misfire",
    TrialState.VOID: "void",
    TrialState.STRUCK: "taken back",
}


def list_trials(record: GroupRecord, corrections: Sequence[Correction]) -> tuple[TrialLine, ...]:
    """Return every trial in order, struck and void ones too, with what was put right."""
    put_right: dict[UUID, list[Correction]] = {}
    for correction in corrections:
        put_right.setdefault(correction.trial_id, []).append(correction)
    sessions = {session.id: session.number for session in record.context.sessions}
    numbers = record.trial_numbers
    return tuple(
        TrialLine(
            number=numbers[trial.id],
            session=sessions.get(trial.session_id, 0),
            when=show_moment(trial.logged_at),
            who=_who(record, trial.student_id),
            used=name_devices(record, trial),
            handling=", ".join(str(choice) for choice in trial.handling.values()),
            result=result_words(record.context.challenge, trial),
            state=_state(trial),
            corrections=_tell_all(record, put_right.get(trial.id, ())),
        )
        for trial in record.trials
    )


def _who(record: GroupRecord, student_id: UUID | None) -> str:
    return "" if student_id is None else record.group.name_of(student_id)


def _state(trial: Trial) -> str:
    words = [_STATES[trial.state]]
    if trial.kind is TrialKind.COUNTED:
        words.append("counted")
    return ", ".join(word for word in words if word) or "practice"


def _tell_all(record: GroupRecord, corrections: Sequence[Correction]) -> tuple[str, ...]:
    """Return a sentence for all that was put right at one time for one reason."""
    language = record.language
    changes_by_reason: dict[tuple[str, str], list[str]] = {}
    for correction in corrections:
        old, new = (_plain(record, correction, value) for value in (correction.old, correction.new))
        field = field_words(correction.field, language, in_sentence=True)
        change = f"{field} was {old}, is {new}"
        changes_by_reason.setdefault(
            (show_day(correction.corrected_at), correction.reason), []
        ).append(change)
    return tuple(
        f"{day}: {'; '.join(changes)}. {reason}"
        for (day, reason), changes in changes_by_reason.items()
    )


def _plain(record: GroupRecord, correction: Correction, value: str) -> str:
    if not value or value == "None":
        return "empty"
    if correction.field == "student_id":
        names = {str(student_id): name for student_id, name in record.nicknames.items()}
        return names.get(value, "another child")
    if correction.field == "state":
        return _STATES.get(TrialState(value), "") or "measured"
    return value
