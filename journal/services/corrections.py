"""Put entries right: the group takes its last one back, the teacher corrects any, with a reason."""

from __future__ import annotations

from dataclasses import dataclass, replace
from uuid import UUID

from journal.content.messages import word_message
from journal.domain.actors import Role
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotAllowed, NotFound, Refused
from journal.domain.groups import Group
from journal.domain.messages import Message
from journal.domain.parts import PartEventKind
from journal.domain.permits import require_may_log, require_may_teach, require_signed_in
from journal.domain.sentences import clean_words
from journal.domain.trial_corrections import CorrectionEntry, put_right
from journal.domain.trial_rules import broken_by
from journal.domain.trials import Correction, Trial, TrialKind, TrialState
from journal.records.work import Work
from journal.services.trials import add_event
from journal.store import challenges, classes, groups, sessions, trial_grounds, trials

COUNTED_STAYS = Message("corrections.counted_trial_stays")
TAKEN_BACK = Message("corrections.taken_back_by_the_group_before_the_next")


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialPlace:
    """A trial with all that surrounds it."""

    trial: Trial
    group: Group
    school_class: SchoolClass
    challenge: Challenge


def strike_trial(work: Work, trial_id: UUID) -> Trial:
    """Take back an entry, whatever group it is of; raises as `strike_last` does."""
    require_signed_in(work.actor)
    return strike_last(work, trials.get_trial(work.session, trial_id).group_id, trial_id)


def strike_last(work: Work, group_id: UUID, trial_id: UUID) -> Trial:
    """Take back the group's last entry: kept as struck, counted only by the teacher.

    Raises Refused where another trial came after it, NotAllowed for a counted one on a tablet.
    """
    require_signed_in(work.actor)
    now = work.now()
    trial = trials.get_trial(work.session, trial_id)
    ground = trial_grounds.get_ground(
        work.session, group_id, trial.logged_at, trial.revision_ids, session_id=trial.session_id
    )
    require_may_log(work.actor, ground.group, ground.school_class)
    if trial.group_id != group_id:
        message = Message("trials.no_such_trial")
        raise NotFound(message)
    if trial.state is TrialState.STRUCK:
        return trial
    if trial.kind is TrialKind.COUNTED and work.actor.role is Role.TABLET:
        raise NotAllowed(COUNTED_STAYS)
    last = trials.find_last_trial(work.session, group_id)
    if last is None or last.id != trial.id:
        message = Message("corrections.another_trial_came_after_it")
        raise Refused(message)
    if not trial.state.is_usable:
        message = Message("corrections.teacher_set_this_trial_aside_already")
        raise Refused(message)
    language = ground.school_class.language
    struck = replace(trial, state=TrialState.STRUCK)
    line = Correction(
        trial_id=trial.id,
        field="state",
        old=trial.state.value,
        new=struck.state.value,
        reason=word_message(TAKEN_BACK, language),
        corrected_at=now,
        teacher_id=work.actor.teacher_id,
    )
    trials.correct_trial(work.session, trial, struck, [line])
    for state in broken_by(trial, ground):
        if not state.is_usable:
            add_event(
                work, state.part, PartEventKind.MENDED, now, word_message(TAKEN_BACK, language)
            )
    classes.bump_version(work.session, ground.school_class.id)
    return struck


def correct_trial(work: Work, trial_id: UUID, entry: CorrectionEntry) -> Trial:
    """Put a trial as it should be, for the teacher; what it was is kept line by line."""
    place = get_trial_place(work, trial_id)
    changed, lines = put_right(place.trial, entry, place.challenge, place.group)
    now = work.now()
    corrections = [
        Correction(
            trial_id=trial_id,
            field=line.field,
            old=line.old,
            new=line.new,
            reason=clean_words(entry.reason),
            corrected_at=now,
            teacher_id=work.actor.teacher_id,
        )
        for line in lines
    ]
    trials.correct_trial(work.session, place.trial, changed, corrections)
    classes.bump_version(work.session, place.school_class.id)
    return changed


def get_trial_place(work: Work, trial_id: UUID) -> TrialPlace:
    """Return a trial of the teacher's own class with what surrounds it; raise NotFound."""
    require_signed_in(work.actor)
    trial = trials.get_trial(work.session, trial_id)
    group = groups.get_group(work.session, trial.group_id)
    school_class = classes.get_class(work.session, group.class_id)
    require_may_teach(work.actor, school_class)
    lesson = sessions.get_session(work.session, trial.session_id)
    return TrialPlace(
        trial=trial,
        group=group,
        school_class=school_class,
        challenge=challenges.get_challenge(work.session, lesson.challenge_id),
    )
