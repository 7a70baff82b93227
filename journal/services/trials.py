"""Log a trial once; note what follows from it: an entry comes in, a Trial is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from uuid import UUID, uuid4

from journal.content.gates import get_parked_line, get_waiting_line
from journal.content.messages import word_message
from journal.domain.actors import Role
from journal.domain.entry_times import EntryTime, read_entry_time
from journal.domain.errors import Conflict, GateShut, JournalError, NotFound
from journal.domain.group_contexts import challenge_id_of
from journal.domain.messages import Message
from journal.domain.parked_trials import Misplaced
from journal.domain.part_states import PartCondition, read_part_states
from journal.domain.parts import Part, PartEvent, PartEventKind
from journal.domain.permits import require_may_log, require_may_log_late, require_may_send
from journal.domain.stages import Stage, Step
from journal.domain.trial_fields import describe_content
from journal.domain.trial_rules import (
    TrialGround,
    broken_by,
    find_park_reason,
    make_trial,
    require_session,
)
from journal.domain.trials import Trial, TrialEntry, TrialKind
from journal.records.work import Work
from journal.services.practice_sets import require_practised
from journal.services.swap_tests import follow_turn
from journal.store import (
    classes,
    parts,
    revisions,
    stages,
    trial_counts,
    trial_grounds,
    trials,
)
from journal.store.trials import Kept

BROKEN_BY_TEST = Message("trials.test_broke_it")
BUILT_AGAIN = Message("trials.built_again")


def log_trial(work: Work, trial_id: UUID, entry: TrialEntry) -> Kept:
    """Record one trial once, however often the tablet sends it.

    Raises Refused or GateShut where the state of things forbids it, Invalid for a wrong entry,
    Conflict where the id already holds other content, and Misplaced for one that waited on its
    tablet and lies in no session, or before the gate.
    """
    now = work.now()
    time = read_entry_time(entry.logged_at, entry.sent_at, now)
    ground = get_ground_of(work, trial_id, entry, time)
    require_may_log_late(work.actor, ground.group, ground.school_class, time.made_at)
    sent = describe_content(entry)
    try:
        _require_place(ground, time)
        ground = _stand_on(work, entry, ground)
        whole = work.actor.role is not Role.OPERATOR
        trial = make_trial(trial_id, entry, ground, time=time, received_at=now, must_be_whole=whole)
    except JournalError:
        # A replay may come when the session is over or the attempts are used up: it was taken then.
        kept = trial_grounds.find_kept(work.session, trial_id, sent)
        if kept is None:
            raise
        return _require_same(kept, ground, sent)
    kept = trials.add_once(work.session, trial, sent)
    if not kept.added:
        return _require_same(kept, ground, sent)
    _note_what_follows(work, kept.trial, ground, now)
    classes.bump_version(work.session, ground.school_class.id)
    return kept


def mend_broken(work: Work, group_id: UUID) -> None:
    """Note that the group built again, the same way, what a test destroyed."""
    now = work.now()
    ground = trial_grounds.get_ground(work.session, group_id, now)
    require_may_log(work.actor, ground.group, ground.school_class)
    challenge, _ = require_session(ground)
    of_group = parts.parts_of_groups(work.session, [group_id], challenge_id_of(challenge))
    part_ids = [part.id for part in of_group]
    states = read_part_states(
        challenge,
        of_group,
        revisions.revisions_of_parts(work.session, part_ids),
        parts.events_of_parts(work.session, part_ids),
    )
    language = ground.school_class.language
    for state in states:
        if state.kind.destructive and state.condition is PartCondition.BROKEN:
            add_event(
                work, state.part, PartEventKind.MENDED, now, word_message(BUILT_AGAIN, language)
            )
    classes.bump_version(work.session, ground.school_class.id)


def add_event(work: Work, part: Part, kind: PartEventKind, at: datetime, note: str) -> None:
    """Keep an event of a part that follows from a trial."""
    event = PartEvent(id=uuid4(), part_id=part.id, kind=kind, at=at, note=note)
    parts.add_event(work.session, part.school_id, event)


def describe_trial(trial: Trial) -> dict[str, object]:
    """Return a trial as kept in the plain values of an entry, and what it counts as."""
    # The time as it was sent: a person compares it with what is sent now.
    claimed_at = trial.logged_at - timedelta(seconds=trial.clock_slow_s)
    return describe_content(replace(trial, logged_at=claimed_at)) | {"state": trial.state.value}


def get_ground_of(work: Work, trial_id: UUID, entry: TrialEntry, time: EntryTime) -> TrialGround:
    """Return what an entry stands on: a tablet's is of its own group; raise NotFound."""
    require_may_send(work.actor, time.made_at)
    group_id = work.actor.group_id
    if work.actor.role is not Role.TABLET:
        group_id = trial_grounds.find_group_of_revisions(work.session, entry.revision_ids)
    if group_id is None:
        message = Message("revisions.no_such_revision")
        raise NotFound(message)
    return trial_grounds.get_ground(
        work.session, group_id, time.made_at, entry.revision_ids, trial_id=trial_id
    )


def _require_place(ground: TrialGround, time: EntryTime) -> None:
    # What was parked stays parked, though the tablet's clock was put right between two sendings.
    why = ground.parked_why
    if why is None and time.is_late:
        why = find_park_reason(ground, time.made_at)
    if why is not None:
        raise Misplaced(get_parked_line(ground.school_class.language), why)


def _stand_on(work: Work, entry: TrialEntry, ground: TrialGround) -> TrialGround:
    """Add the attempts that were had to the ground; raise where nothing can be logged now."""
    challenge, _ = require_session(ground)
    if ground.waits_for_gate:
        band, language = ground.school_class.band, ground.school_class.language
        raise GateShut(get_waiting_line(band, language, launches=challenge.launches))
    if entry.kind is TrialKind.COUNTED and entry.student_id is not None:
        challenge_id = challenge_id_of(challenge)
        had = trial_counts.count_attempts(work.session, challenge_id, entry.student_id)
        ground = replace(ground, attempts_had=had)
        if work.actor.role is Role.TABLET:
            require_practised(work, ground.group.id, challenge_id)
    return ground


def _require_same(kept: Kept, ground: TrialGround, sent: Mapping[str, object]) -> Kept:
    if kept.same_content and kept.trial.group_id == ground.group.id:
        return kept
    message = Message("trials.trial_is_in_already")
    # Another group's entry is not shown: nobody learns of it by guessing a number.
    known = kept.trial.group_id == ground.group.id
    raise Conflict(message, describe_trial(kept.trial) if known else {}, sent)


def _note_what_follows(work: Work, trial: Trial, ground: TrialGround, now: datetime) -> None:
    challenge, session = require_session(ground)
    if ground.stage is not Stage.TEST:
        step = Step(stage=Stage.TEST, at=now, session_id=session.id)
        stages.add_step(work.session, ground.group, challenge_id_of(challenge), step)
    language = ground.school_class.language
    for state in broken_by(trial, ground):
        add_event(
            work, state.part, PartEventKind.BROKEN, now, word_message(BROKEN_BY_TEST, language)
        )
    if ground.swap_test_id is not None:
        follow_turn(work, ground.swap_test_id, trial)
