"""Entries that came late and lie in no session, or before the gate: parked, placed, discarded.

Comes in: an entry from a tablet's queue. Goes out: the trial as kept, or the entry as parked. What
is parked stays as it was sent; the teacher places it in a session, or discards it with a reason.
"""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID

from journal.content.gates import get_parked_line
from journal.content.messages import word_message
from journal.domain.actors import Role
from journal.domain.classes import SchoolClass
from journal.domain.entry_times import EntryTime, read_entry_time
from journal.domain.errors import Conflict, Invalid, NotAllowed, NotFound, Refused
from journal.domain.group_contexts import challenge_id_of
from journal.domain.groups import Group
from journal.domain.messages import Message
from journal.domain.parked_trials import (
    MOST_REASON_LETTERS,
    Misplaced,
    ParkedTrial,
    ParkReason,
    ParkState,
)
from journal.domain.permits import require_may_log, require_may_teach
from journal.domain.sentences import clean_words, find_problem
from journal.domain.trial_fields import describe_content
from journal.domain.trial_rules import TrialGround, belonged_to, make_trial
from journal.domain.trials import Trial, TrialEntry, TrialKind
from journal.records.work import Work
from journal.services.corrections import COUNTED_STAYS, strike_trial
from journal.services.trials import get_ground_of, log_trial
from journal.store import (
    classes,
    groups,
    parked_trials,
    sessions,
    trial_counts,
    trial_grounds,
    trials,
)
from journal.store.trials import Kept

TAKEN_BACK = Message("parked_trials.taken_back_by_the_group")


def take_entry(work: Work, trial_id: UUID, entry: TrialEntry) -> Kept | ParkedTrial:
    """Log a trial, or park it where it came late and belongs nowhere.

    Raises what `log_trial` raises for an entry that is made now.
    """
    try:
        return log_trial(work, trial_id, entry)
    except Misplaced as late:
        return _park(work, trial_id, entry, late.why)


def describe_parked(work: Work, parked: ParkedTrial) -> str:
    """Return what the tablet says of it."""
    group = groups.get_group(work.session, parked.group_id)
    return get_parked_line(classes.get_class(work.session, group.class_id).language)


def take_back_entry(work: Work, entry_id: UUID) -> Trial | ParkedTrial:
    """Take back an entry of the group's own, whether it is a trial or was parked.

    Raises what `strike_trial` raises.
    """
    if parked_trials.find_unplaced(work.session, entry_id) is None:
        return strike_trial(work, entry_id)
    parked = parked_trials.get_parked(work.session, entry_id)
    group = groups.get_group(work.session, parked.group_id)
    school_class = classes.get_class(work.session, group.class_id)
    require_may_log(work.actor, group, school_class)
    if parked.entry.kind is TrialKind.COUNTED and work.actor.role is Role.TABLET:
        raise NotAllowed(COUNTED_STAYS)
    if parked.state is ParkState.WAITING:
        _decide(
            work,
            parked,
            school_class,
            session_id=None,
            reason=word_message(TAKEN_BACK, school_class.language),
        )
    return parked_trials.get_parked(work.session, entry_id)


def place_trial(work: Work, parked_id: UUID, session_id: UUID, kind: str = "") -> Trial:
    """File a parked entry under a session; `kind` may make a counted one practice.

    Raises Invalid where the entry does not fit the session, Refused where it was decided before.
    """
    parked, group, school_class = _get_own(work, parked_id)
    session = sessions.get_session(work.session, session_id)
    if session.class_id != school_class.id:
        message = Message("sessions.no_such_session_in_this_class")
        raise NotFound(message)
    entry = parked.entry
    if kind in set(TrialKind):
        entry = replace(entry, kind=TrialKind(kind))
    ground = _get_ground(work, group, parked, session_id)
    trial = _make(parked, entry, ground)
    _decide(work, parked, school_class, session_id=session_id, reason="")
    return trials.add_once(work.session, trial, describe_content(parked.entry)).trial


def preview_trial(work: Work, parked: ParkedTrial, session_id: UUID) -> Trial:
    """Return the trial that a parked entry would become there; the permit is the caller's."""
    group = groups.get_group(work.session, parked.group_id)
    ground = replace(_get_ground(work, group, parked, session_id), attempts_had=0)
    return _make(parked, parked.entry, ground)


def find_class_of(work: Work, parked_id: UUID) -> UUID:
    """Return the class of a parked entry, for its own teacher; raise NotFound."""
    parked = parked_trials.get_parked(work.session, parked_id)
    group = groups.get_group(work.session, parked.group_id)
    require_may_teach(work.actor, classes.get_class(work.session, group.class_id))
    return group.class_id


def discard_trial(work: Work, parked_id: UUID, reason: str) -> None:
    """Discard a parked entry; it is kept with the reason."""
    parked, _, school_class = _get_own(work, parked_id)
    reason = clean_words(reason)
    problem = find_problem("reason", reason, MOST_REASON_LETTERS)
    if problem is not None:
        raise Invalid(problem.what, [problem])
    if not reason:
        raise Invalid.at("reason", Message("parked_trials.say_in_a_few_words_why"))
    _decide(work, parked, school_class, session_id=None, reason=reason)


def _park(work: Work, trial_id: UUID, entry: TrialEntry, why: ParkReason) -> ParkedTrial:
    now = work.now()
    time = read_entry_time(entry.logged_at, entry.sent_at, now)
    ground = get_ground_of(work, trial_id, entry, time)
    _require_fit(work, entry, ground, time)
    sent = describe_content(entry)
    fresh = ParkedTrial(
        id=trial_id,
        school_id=ground.group.school_id,
        group_id=ground.group.id,
        entry=entry,
        why=why,
        made_at=time.made_at,
        clock_slow_s=time.clock_slow_s,
        received_at=now,
    )
    kept, added, is_same = parked_trials.park_once(work.session, fresh, sent)
    if not is_same or kept.group_id != ground.group.id:
        known = kept.group_id == ground.group.id
        message = Message("parked_trials.entry_is_in_already")
        raise Conflict(message, describe_content(kept.entry) if known else {}, sent)
    if added:
        classes.bump_version(work.session, ground.school_class.id)
    return kept


def _require_fit(work: Work, entry: TrialEntry, ground: TrialGround, time: EntryTime) -> None:
    """Raise Invalid for an entry that would fit nowhere: the tablet can still mend that."""
    people = [id_ for id_ in (entry.student_id, entry.scribe_id) if id_ is not None]
    if not all(belonged_to(ground.group, person, time.made_at) for person in people):
        raise Invalid.at("student_id", Message("trial_rules.that_name_is_not_in_this_group"))
    used = trial_grounds.parts_of_revisions(work.session, entry.revision_ids)
    held = sessions.sessions_of_class(work.session, ground.school_class.id)
    fitting = [
        session.id
        for session in held
        if any(part.challenge_id == session.challenge_id for part in used)
    ]
    foreign = any(part.group_id != ground.group.id for part in used)
    if not used or (foreign and not fitting):
        raise Invalid.at("revision_ids", Message("trial_rules.what_was_used_is_not_known_here"))
    if not fitting:
        return
    at = trial_grounds.get_ground(
        work.session, ground.group.id, time.made_at, entry.revision_ids, session_id=fitting[-1]
    )
    make_trial(
        UUID(int=0),
        entry,
        at,
        time=time,
        received_at=time.made_at,
        must_be_whole=True,
        parts_as_they_were=True,
    )


def _make(parked: ParkedTrial, entry: TrialEntry, ground: TrialGround) -> Trial:
    return make_trial(
        parked.id,
        entry,
        ground,
        time=EntryTime(made_at=parked.made_at, clock_slow_s=parked.clock_slow_s, is_late=True),
        received_at=parked.received_at,
        must_be_whole=True,
        parts_as_they_were=True,
    )


def _get_own(work: Work, parked_id: UUID) -> tuple[ParkedTrial, Group, SchoolClass]:
    parked = parked_trials.get_parked(work.session, parked_id)
    group = groups.get_group(work.session, parked.group_id)
    school_class = classes.get_class(work.session, group.class_id)
    require_may_teach(work.actor, school_class)
    if parked.state is not ParkState.WAITING:
        message = (
            Message("parked_trials.entry_was_placed")
            if parked.state is ParkState.PLACED
            else Message("parked_trials.entry_was_discarded")
        )
        raise Refused(message)
    return parked, group, school_class


def _get_ground(work: Work, group: Group, parked: ParkedTrial, session_id: UUID) -> TrialGround:
    ground = trial_grounds.get_ground(
        work.session, group.id, parked.made_at, parked.entry.revision_ids, session_id=session_id
    )
    if ground.challenge is None or parked.entry.student_id is None:
        return ground
    had = trial_counts.count_attempts(
        work.session, challenge_id_of(ground.challenge), parked.entry.student_id
    )
    # Past a gate that was not open is past a closed lane; outside of a session nothing was.
    was_open = parked.why is not ParkReason.BEFORE_GATE
    return replace(ground, attempts_had=had, lane_was_open=was_open)


def _decide(
    work: Work,
    parked: ParkedTrial,
    school_class: SchoolClass,
    *,
    session_id: UUID | None,
    reason: str,
) -> None:
    done = parked_trials.decide(
        work.session,
        parked.id,
        at=work.now(),
        teacher_id=work.actor.teacher_id,
        session_id=session_id,
        reason=reason,
    )
    if not done:
        message = Message("parked_trials.somebody_has_decided_on_this_entry_meanwhile")
        raise Refused(message)
    classes.bump_version(work.session, school_class.id)
