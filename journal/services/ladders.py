"""The ladder of questions: offered to a group that has stalled, opened by one that is stuck."""

from __future__ import annotations

from dataclasses import dataclass, replace
from uuid import UUID

from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.fair_test_cards import CARD_BANDS
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.ladder_gates import GATES, find_opened_rung
from journal.domain.ladders import (
    LEAST_WAIT,
    AnswerEntry,
    BorneOut,
    Climb,
    ClimbEnd,
    LedTo,
    PassKind,
    Rung,
    RungPass,
    rung_after,
)
from journal.domain.permits import require_may_log, require_may_teach
from journal.domain.sentences import clean_words
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.services.ladder_answers import settle_answer
from journal.services.ladder_questions import present_question
from journal.store import classes, fair_test_cards, ladders

#: Why a climb began: the group tapped "We are stuck".
ASKED = "asked"


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderOffer:
    """A call-out on a group's pages: the ladder is there, nobody has to take it."""

    group_id: UUID
    #: Kept with the climb when the group takes it up.
    why: str
    sentence: str
    #: The group is on the ladder already.
    is_open: bool


def offer(work: Work, context: GroupContext, stalled_reason: str | None) -> LadderOffer | None:
    """Return the call-out for a group that is on the ladder or has stalled, else None."""
    climb = ladders.find_open_climb(work.session, context.group.id, context.challenge_id)
    if climb is not None:
        sentence = "Your teacher is called." if climb.wants_teacher else "A question waits for you."
        return LadderOffer(
            group_id=context.group.id, why=climb.why, sentence=sentence, is_open=True
        )
    if not stalled_reason:
        return None
    return LadderOffer(
        group_id=context.group.id,
        why=stalled_reason,
        sentence="A question may help you now.",
        is_open=False,
    )


def start_climb(work: Work, group_id: UUID, why: str = ASKED) -> Climb:
    """Put the group on the first rung; where it is on the ladder already it stays there.

    The class's first climb in the younger bands offers the teacher the fair-test card.
    """
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    climb = ladders.find_open_climb(work.session, group_id, context.challenge_id)
    if climb is not None:
        return climb
    started = ladders.add_climb(
        work.session,
        context.group,
        context.challenge_id,
        clean_words(why)[:40] or ASKED,
        work.now(),
    )
    if context.school_class.band in CARD_BANDS:
        fair_test_cards.offer_card(work.session, context.school_class, work.now())
    classes.bump_version(work.session, context.school_class.id)
    return started


def answer_rung(
    work: Work, group_id: UUID, entry: AnswerEntry, led_to: LedTo | None = None
) -> Climb:
    """Keep an answer and open the next rung; the last one stays open until the teacher comes.

    With `led_to` the group leaves the ladder with this answer. The question is kept exactly as it
    was put. Raises Invalid for an answer that says nothing and where the group is on another rung.
    """
    record, climb = _get_climb(work, group_id)
    context = record.context
    _require_rung(entry.rung, climb)
    answer = settle_answer(entry, context, climb, work.now())
    question = present_question(work, record, climb, entry.language)
    ladders.add_answer(work.session, climb.school_id, replace(answer, question=question.text))
    if led_to is not None:
        _end(work, context, climb, led_to)
    else:
        _open(work, context, climb, rung_after(climb.rung))
    return ladders.get_climb(work.session, climb.id)


def open_next_rung(work: Work, group_id: UUID) -> Climb:
    """Open the next rung after new trials; Refused where they are too few for the band."""
    record, climb = _get_climb(work, group_id)
    band = record.context.school_class.band
    opened = find_opened_rung(climb.rung, band, trials_since(record, climb))
    if opened is climb.rung:
        asked = GATES[band].trials
        new = "a new trial" if asked == 1 else f"{asked} new trials"
        message = f"Answer this question first, or log {new}."
        raise Refused(message)
    _pass(work, record, climb, PassKind.NEW_TRIAL)
    _open(work, record.context, climb, opened)
    return ladders.get_climb(work.session, climb.id)


def say_not_sure(work: Work, group_id: UUID, rung: Rung) -> Climb:
    """Open the next rung for a group that is not sure yet: once a climb, never at once.

    Raises Refused within three seconds of the question, the second time, and on the last rung.
    """
    record, climb = _get_climb(work, group_id)
    _require_rung(rung, climb)
    if work.now() - climb.rung_opened_at < LEAST_WAIT:
        message = "Give the question a moment first. Then tap again."
        raise Refused(message)
    if climb.was_not_sure or rung_after(climb.rung) is climb.rung:
        message = "Say what you see so far, log a new trial, or tell your teacher."
        raise Refused(message)
    _pass(work, record, climb, PassKind.NOT_SURE)
    _open(work, record.context, climb, rung_after(climb.rung))
    return ladders.get_climb(work.session, climb.id)


def skip_rung(work: Work, group_id: UUID) -> Climb:
    """Open the next rung in the teacher's name; Refused where none is open or none follows."""
    context = get_group_context(work, group_id)
    require_may_teach(work.actor, context.school_class)
    record, climb = _get_climb(work, group_id)
    if rung_after(climb.rung) is climb.rung:
        message = "This is the last rung: the group waits for you."
        raise Refused(message)
    _pass(work, record, climb, PassKind.TEACHER)
    _open(work, context, climb, rung_after(climb.rung))
    return ladders.get_climb(work.session, climb.id)


def leave_ladder(work: Work, group_id: UUID, led_to: LedTo | None = None) -> None:
    """Take the group off the ladder: it knows what to try."""
    record, climb = _get_climb(work, group_id)
    if not any(answer.rung is climb.rung for answer in climb.answers):
        _pass(work, record, climb, PassKind.LEFT)
    _end(work, record.context, climb, led_to)


def judge_answer(work: Work, group_id: UUID, answer_id: UUID, borne_out: BorneOut) -> None:
    """Note whether a later test bore an answer of the group out, as the group sees it."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    climbs = ladders.climbs_of_groups(work.session, [group_id], context.challenge_id)
    if not any(answer.id == answer_id for climb in climbs for answer in climb.answers):
        message = "There is no such answer in this group."
        raise NotFound(message)
    ladders.set_borne_out(work.session, answer_id, borne_out)
    classes.bump_version(work.session, context.school_class.id)


def trials_since(record: GroupRecord, climb: Climb) -> int:
    """Count the trials that tell something since the present rung was opened."""
    return sum(trial.received_at > climb.rung_opened_at for trial in record.usable_trials)


def _get_climb(work: Work, group_id: UUID) -> tuple[GroupRecord, Climb]:
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    climb = ladders.find_open_climb(work.session, group_id, context.challenge_id)
    if climb is None:
        message = "No question is open. Tap “We are stuck” when you want one."
        raise Refused(message)
    return gather_group(work, context), climb


def _require_rung(rung: Rung, climb: Climb) -> None:
    if rung is not climb.rung:
        message = "The question before was answered on another tablet. This is the next one."
        raise Invalid.at("words", message)


def _pass(work: Work, record: GroupRecord, climb: Climb, kind: PassKind) -> None:
    passed = RungPass(
        climb_id=climb.id,
        rung=climb.rung,
        kind=kind,
        question=present_question(work, record, climb).text,
        passed_at=work.now(),
    )
    ladders.add_pass(work.session, climb.school_id, passed)


def _open(work: Work, context: GroupContext, climb: Climb, rung: Rung) -> None:
    if rung is not climb.rung:
        ladders.set_rung(work.session, climb.id, rung, work.now())
    classes.bump_version(work.session, context.school_class.id)


def _end(work: Work, context: GroupContext, climb: Climb, led_to: LedTo | None) -> None:
    ladders.end_climb(work.session, climb.id, ClimbEnd.KNOWS_WHAT_TO_TRY, work.now(), led_to)
    classes.bump_version(work.session, context.school_class.id)
