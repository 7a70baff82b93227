"""The table of every trial: a record and its corrections come in, lines go out."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from journal.content.shown_times import show_day, show_moment
from journal.content.trial_words import field_words
from journal.domain.challenges import Challenge, OutcomeKind
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_number
from journal.domain.trials import Correction, Place, Trial, TrialKind, TrialState
from journal.findings.trial_records import label_revision
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
            used=", ".join(_used(record, trial)),
            handling=", ".join(str(one) for one in trial.handling.values()),
            result=_result(record.context.challenge, trial),
            state=_state(trial),
            corrections=_tell_all(record, put_right.get(trial.id, ())),
        )
        for trial in record.trials
    )


def _who(record: GroupRecord, student_id: UUID | None) -> str:
    return "" if student_id is None else record.group.name_of(student_id)


def _used(record: GroupRecord, trial: Trial) -> list[str]:
    """Name what was used, shared parts first; another group's part has no owner's name here."""
    used = []
    for revision_id in trial.revision_ids:
        found = record.find_revision(revision_id)
        if found is None:
            continue
        state, revision = found
        foreign = state.part.group_id != record.group.id
        name = (
            f"a borrowed {state.kind.name.lower()}" if foreign else label_revision(state, revision)
        )
        used.append((state.part.is_own, name))
    return [name for _, name in sorted(used)]


def _result(challenge: Challenge, trial: Trial) -> str:
    if trial.misfire is not None:
        names = {misfire.key: misfire.name for misfire in challenge.misfires}
        return names.get(trial.misfire, trial.misfire)
    if trial.value is None:
        return ""
    value = show_number(trial.value)
    if challenge.outcome.kind is not OutcomeKind.ZONES:
        return f"{value} {challenge.outcome.unit}".strip()
    return f"{_place_name(challenge, trial)}, {value}"


def _place_name(challenge: Challenge, trial: Trial) -> str:
    panel = challenge.panel
    if panel is None or trial.place is None:
        return "Points"
    if trial.place is not Place.PANEL:
        return "Wall" if trial.place is Place.WALL else "Flew past"
    zone = next((one for one in panel.zones if one.key == trial.zone), None)
    return panel.bare_name if zone is None else zone.name


def _state(trial: Trial) -> str:
    told = [_STATES[trial.state]]
    if trial.kind is TrialKind.COUNTED:
        told.append("counted")
    return ", ".join(one for one in told if one) or "practice"


def _tell_all(record: GroupRecord, corrections: Sequence[Correction]) -> tuple[str, ...]:
    """Return a sentence for all that was put right at one time for one reason."""
    language = record.context.school_class.language
    told: dict[tuple[str, str], list[str]] = {}
    for correction in corrections:
        old, new = (_plain(record, correction, value) for value in (correction.old, correction.new))
        field = field_words(correction.field, language, in_sentence=True)
        change = f"{field} was {old}, is {new}"
        told.setdefault((show_day(correction.corrected_at), correction.reason), []).append(change)
    return tuple(
        f"{day}: {'; '.join(changes)}. {reason}" for (day, reason), changes in told.items()
    )


def _plain(record: GroupRecord, correction: Correction, value: str) -> str:
    if not value or value == "None":
        return "empty"
    if correction.field == "student_id":
        names = {str(one): name for one, name in record.nicknames.items()}
        return names.get(value, "another child")
    if correction.field == "state":
        return _STATES.get(TrialState(value), "") or "measured"
    return value
