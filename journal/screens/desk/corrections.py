"""The teacher's page that puts a trial right: one CorrectionPage of ready values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.content.clock_words import describe_clock
from journal.content.messages import word_message
from journal.content.shown_times import show_time
from journal.content.trial_words import describe_entry_state, field_words
from journal.domain.messages import Message
from journal.domain.numbers import show_number
from journal.domain.trial_corrections import CORRECTED_NUMBERS
from journal.domain.trials import Correction, Place, Trial, TrialState
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.corrections import get_trial_place
from journal.store import trials

Pair = tuple[str, str]
STATE_WORDS = {
    TrialState.MEASURED: Message("corrections.it_was_measured"),
    TrialState.MISFIRE: Message("corrections.it_was_a_misfire"),
    TrialState.VOID: Message("corrections.set_it_aside"),
}
_TAKEN_BACK = Message("corrections.taken_back")
NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectionLine:
    """What was put right once."""

    at: str
    field: str
    old: str
    new: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectionPage:
    """Everything the page shows."""

    frame: DeskFrame
    trial_id: UUID
    #: What the trial is now, such as "Bark, 4 points, practice".
    words: str
    #: The form's values by field: as sent, else as they are.
    values: Mapping[str, str]
    members: tuple[Pair, ...]
    states: tuple[Pair, ...]
    places: tuple[Pair, ...]
    misfires: tuple[Pair, ...]
    #: Unit of the measure, name and unit of the amount; each empty where there is none.
    units: Mapping[str, str]
    history: tuple[CorrectionLine, ...]
    errors: Mapping[str, Sequence[str]] | None


def prepare_correction(
    work: Work,
    trial_id: UUID,
    sent: Mapping[str, str] | None = None,
    errors: Mapping[str, Sequence[str]] | None = None,
) -> CorrectionPage:
    """Return the form with the trial as it is, or as it was sent and refused, and its history."""
    place = get_trial_place(work, trial_id)
    trial, challenge = place.trial, place.challenge
    language = place.school_class.language
    panel, outcome = challenge.panel, challenge.outcome
    places: tuple[Pair, ...] = ()
    if panel is not None:
        zones = tuple((f"zone:{zone.key}", zone.name) for zone in panel.zones)
        places = (*zones, ("bare", panel.bare_name), ("wall", "Wall"), ("nowhere", "Nowhere"))
    names = {str(member.student_id): member.nickname for member in place.group.members}
    states = [state for state in STATE_WORDS if challenge.misfires or state != "misfire"]
    if trial.state is TrialState.STRUCK:
        states = [*states, TrialState.STRUCK]
    return CorrectionPage(
        frame=frame_class(
            place.school_class,
            word_message(Message("corrections.put_a_trial_right"), language),
            _describe_time(place.group.name, trial, place.school_class.language),
            title=word_message(
                Message("corrections.put_a_trial_of_right", group=place.group.name), language
            ),
            tested=[challenge],
        ),
        trial_id=trial.id,
        words=describe_entry_state(challenge, trial),
        values=_values(trial) | dict(sent or {}),
        members=(*names.items(), *((("", "Nobody named"),) if trial.student_id is None else ())),
        states=tuple(
            (state.value, word_message(STATE_WORDS.get(state, _TAKEN_BACK), language))
            for state in states
        ),
        places=places,
        misfires=tuple((cause.key, cause.name) for cause in challenge.misfires),
        units={
            "value": "" if panel is not None else outcome.unit,
            "amount": outcome.amount_unit,
            "amount_name": outcome.amount_name,
        },
        history=tuple(
            _line(correction, names, place.school_class.language)
            for correction in trials.corrections_of_trials(work.session, [trial.id])
        ),
        errors=errors,
    )


def _describe_time(group_name: str, trial: Trial, language: str) -> str:
    times = (
        group_name,
        show_time(trial.logged_at),
        word_message(Message("corrections.while_the_lane_was_closed"), language)
        if trial.lane_closed
        else "",
        describe_clock(trial.clock_slow_s, language),
    )
    return ", ".join(part for part in times if part)


def _values(trial: Trial) -> dict[str, str]:
    at = ""
    if trial.place is Place.PANEL:
        at = f"zone:{trial.zone}" if trial.zone else "bare"
    elif trial.place is not None:
        at = trial.place.value
    numbers = {name: getattr(trial, name) for name in CORRECTED_NUMBERS}
    return {
        "student_id": "" if trial.student_id is None else str(trial.student_id),
        "kind": trial.kind.value,
        "state": trial.state.value,
        "at": at,
        "misfire": trial.misfire or "",
        "reason": "",
        **{name: "" if number is None else show_number(number) for name, number in numbers.items()},
    }


def _line(correction: Correction, names: Mapping[str, str], language: str) -> CorrectionLine:
    def shown(text: str) -> str:
        return names.get(text, text) or NOTHING

    return CorrectionLine(
        at=show_time(correction.corrected_at),
        field=field_words(correction.field, language),
        old=shown(correction.old),
        new=shown(correction.new),
        reason=correction.reason,
    )
