"""Rules for taking a trial: an entry and what it refers to come in, a Trial or an error goes out.

First what the state of things forbids (Refused), then everything wrong with the entry at once
(Invalid).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.entry_times import EntryTime
from journal.domain.errors import Invalid, Problem, Refused
from journal.domain.groups import Group
from journal.domain.messages import Message
from journal.domain.parked_trials import ParkReason
from journal.domain.part_states import PartCondition, PartState
from journal.domain.parts import PartEventKind
from journal.domain.sessions import Session
from journal.domain.stages import Stage
from journal.domain.trial_fields import values_of
from journal.domain.trial_outcomes import check_amount, judge_outcome
from journal.domain.trials import Ending, Trial, TrialContent, TrialEntry, TrialKind

NO_SESSION = Message("trial_rules.your_teacher_has_not_started_a_session_yet")


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialGround:
    """Everything a trial stands on."""

    group: Group
    school_class: SchoolClass
    #: The session that the entry belongs to, and the challenge it works on.
    session: Session | None
    challenge: Challenge | None
    stage: Stage | None = None
    #: The parts whose revisions the entry names, each with what tells how it stands now: not every
    #: revision and event.
    parts: tuple[PartState, ...] = ()
    #: Counted attempts that the student has had.
    attempts_had: int = 0
    #: The swap test that the group is in.
    swap_test_id: UUID | None = None
    #: Why this very entry was parked, where it still waits or was discarded.
    parked_why: ParkReason | None = None
    #: When the lane of the session was opened first.
    first_opened_at: datetime | None = None
    #: Whether the lane was open when the entry was made.
    lane_was_open: bool = True

    @property
    def waits_for_gate(self) -> bool:
        """Tell whether launching, or loading, waits for the teacher's checklist."""
        if self.session is None or self.challenge is None:
            return False
        return self.challenge.has_gate and self.session.gate is None


def find_park_reason(ground: TrialGround, made_at: datetime) -> ParkReason | None:
    """Return why an entry that was made then has no place; None where it has one."""
    session = ground.session
    if session is None or not session.ran_at(made_at) or ground.challenge is None:
        return ParkReason.NO_SESSION
    opened_at = ground.first_opened_at
    if ground.challenge.has_gate and (opened_at is None or made_at < opened_at):
        return ParkReason.BEFORE_GATE
    return None


def require_session(ground: TrialGround) -> tuple[Challenge, Session]:
    """Return challenge and session; raise Refused where no session runs."""
    if ground.session is None or ground.challenge is None:
        raise Refused(NO_SESSION)
    return ground.challenge, ground.session


def make_trial(
    trial_id: UUID,
    entry: TrialEntry,
    ground: TrialGround,
    *,
    time: EntryTime,
    received_at: datetime,
    must_be_whole: bool,
    parts_as_they_were: bool = False,
) -> Trial:
    """Return the trial that the entry becomes; raise Refused or Invalid.

    `must_be_whole` asks for the student and for one revision of every part of the challenge; a
    table written elsewhere may lack them. `parts_as_they_were` does not ask whether they could be
    used today.
    """
    challenge, session = require_session(ground)
    if not parts_as_they_were:
        _require_usable_parts(entry, ground)
    problems = [
        *_check_people(entry, ground.group, time.made_at, must_be_whole=must_be_whole),
        *_check_parts(entry, ground, challenge, must_be_whole=must_be_whole),
        *check_handling(challenge, entry.handling),
        *check_amount(challenge.outcome, entry.amount),
    ]
    try:
        outcome = judge_outcome(challenge, entry)
    except Invalid as error:
        problems += error.problems
    if problems:
        raise Invalid.of(problems)
    _require_attempt_left(entry, ground, challenge)
    content = values_of(entry, TrialContent) | values_of(outcome, Ending)
    content["handling"] = fill_handling(challenge, entry.handling)
    content["logged_at"] = time.made_at
    return Trial(
        id=trial_id,
        school_id=ground.group.school_id,
        group_id=ground.group.id,
        session_id=session.id,
        state=outcome.state,
        distance_mm=session.distance_mm,
        panel=session.panel,
        received_at=received_at,
        clock_slow_s=time.clock_slow_s,
        lane_closed=challenge.has_gate and not ground.lane_was_open,
        **content,
    )


def broken_by(trial: Trial, ground: TrialGround) -> tuple[PartState, ...]:
    """Return the parts that a measured trial destroyed."""
    if trial.value is None:
        return ()
    return tuple(state for state in ground.parts if state.kind.destructive)


def belonged_to(group: Group, student_id: UUID, at: datetime) -> bool:
    """Tell whether a student is in the group, or was when an entry that comes late was made."""
    return any(
        member.student_id == student_id
        and (member.left_at is None or member.joined_at <= at < member.left_at)
        for member in group.members
    )


def check_handling(challenge: Challenge, handling: object) -> list[Problem]:
    """Return what is wrong with the choices of how it was used."""
    known = {choice.key: choice.choices for choice in challenge.handling}
    if not isinstance(handling, dict):
        return [Problem("handling", Message("trial_rules.how_it_was_used_is_a_choice"))]
    problems = []
    for key, chosen in handling.items():
        if key not in known:
            problems.append(
                Problem("handling", Message("trial_rules.no_such_choice_of_how_it_was_used"))
            )
        elif chosen not in known[key]:
            what = Message("trial_rules.choose_one_of", known=tuple(known[key]))
            problems.append(Problem(f"handling.{key}", what))
    return problems


def fill_handling(challenge: Challenge, handling: object) -> dict[str, str]:
    """Return every choice of the challenge; one that was not made is the usual one."""
    chosen = handling if isinstance(handling, dict) else {}
    return {
        choice.key: str(chosen.get(choice.key, choice.choices[0])) for choice in challenge.handling
    }


def _require_usable_parts(entry: TrialEntry, ground: TrialGround) -> None:
    for state in ground.parts:
        # Nothing is told of another group's part, its owner's name least of all.
        if not _is_at_hand(state, ground.group.id):
            continue
        for revision in state.revisions:
            if revision.id in entry.revision_ids and revision.is_set_aside:
                message = Message(
                    "trial_rules.was_set_aside", name=state.name, number=revision.number
                )
                raise Refused(message)
        if state.condition is PartCondition.LOST:
            message = Message("trial_rules.is_lost", name=state.name)
            raise Refused(message)
        if state.condition is PartCondition.BROKEN:
            message = Message("trial_rules.is_broken", name=state.name)
            raise Refused(message)


def _require_attempt_left(entry: TrialEntry, ground: TrialGround, challenge: Challenge) -> None:
    if entry.kind is TrialKind.COUNTED and ground.attempts_had >= challenge.counting.attempts:
        message = Message(
            "trial_rules.all_counted_attempts_are_done", attempts=challenge.counting.attempts
        )
        raise Refused(message)


def _check_people(
    entry: TrialEntry, group: Group, made_at: datetime, *, must_be_whole: bool
) -> list[Problem]:
    problems = []
    if entry.student_id is None:
        if must_be_whole or entry.kind is TrialKind.COUNTED:
            problems.append(Problem("student_id", Message("trial_rules.say_who_did_it")))
    elif not belonged_to(group, entry.student_id, made_at):
        problems.append(
            Problem("student_id", Message("trial_rules.that_name_is_not_in_this_group"))
        )
    if entry.scribe_id is not None and not belonged_to(group, entry.scribe_id, made_at):
        what = Message("trial_rules.whoever_writes_must_be_in_this_group")
        problems.append(Problem("scribe_id", what))
    return problems


def _check_parts(
    entry: TrialEntry, ground: TrialGround, challenge: Challenge, *, must_be_whole: bool
) -> list[Problem]:
    problems = []
    named = [
        state
        for state in ground.parts
        for revision in state.revisions
        if revision.id in entry.revision_ids
    ]
    if len(named) != len(entry.revision_ids) or not named:
        what = Message("trial_rules.what_was_used_is_not_known_here")
        problems.append(Problem("revision_ids", what))
    problems += [
        Problem("revision_ids", Message("trial_rules.is_another_groups", kind=kind))
        for kind in dict.fromkeys(
            state.kind.name.lower() for state in named if not _is_at_hand(state, ground.group.id)
        )
    ]
    for kind in challenge.parts:
        count = sum(state.kind.key == kind.key for state in named)
        name = f"{kind.name[:1].lower()}{kind.name[1:]}"
        if count > 1:
            problems.append(
                Problem("revision_ids", Message("trial_rules.use_one_at_a_time", name=name))
            )
        elif count == 0 and must_be_whole:
            problems.append(
                Problem("revision_ids", Message("trial_rules.say_which_was_used", name=name))
            )
    return problems


def _is_at_hand(state: PartState, group_id: UUID) -> bool:
    """Tell whether a part is the group's own, or was borrowed."""
    return state.part.group_id == group_id or any(
        event.kind is PartEventKind.BORROWED and event.borrower_group_id == group_id
        for event in state.events
    )
