"""The ladder of questions: offered to a group that has stalled, opened by one that is stuck."""

from __future__ import annotations

from dataclasses import dataclass, replace
from uuid import UUID

from journal.content.messages import word_message
from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.fair_test_cards import CARD_BANDS
from journal.domain.group_contexts import GroupContext
from journal.domain.groups import Group
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
from journal.domain.messages import Message
from journal.domain.permits import require_may_log, require_may_teach
from journal.domain.sentences import clean_words
from journal.records.group_contexts import get_group_context
from journal.records.tablet_records import TabletRecord
from journal.records.work import Work
from journal.services.ladder_answers import settle_answer
from journal.services.open_questions import OpenQuestion, read_question, work_out_question
from journal.store import classes, fair_test_cards, groups, ladders

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
    return word_offer(context, climb, stalled_reason)


def word_offer(
    context: GroupContext, climb: Climb | None, stalled_reason: str | None
) -> LadderOffer | None:
    """Return the call-out for a group that is on this climb, or has stalled, else None."""
    language = context.school_class.language
    if climb is not None:
        sentence = (
            Message("ladders.your_teacher_is_called")
            if climb.wants_teacher
            else Message("ladders.question_waits_for_you")
        )
        return LadderOffer(
            group_id=context.group.id,
            why=climb.why,
            sentence=word_message(sentence, language),
            is_open=True,
        )
    if not stalled_reason:
        return None
    return LadderOffer(
        group_id=context.group.id,
        why=stalled_reason,
        sentence=word_message(Message("ladders.question_may_help_you_now"), language),
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


def check_answer(work: Work, gathered: TabletRecord, entry: AnswerEntry) -> OpenQuestion:
    """Return the question that an answer answers; raises as `answer_rung` does, writes nothing."""
    context = gathered.record.context
    require_may_log(work.actor, context.group, context.school_class)
    question = work_out_question(work, gathered, entry.language)
    _require_rung(entry.rung, question.climb)
    settle_answer(entry, context.group, context.school_class.band, question.climb, work.now())
    return question


def answer_rung(
    work: Work,
    group_id: UUID,
    entry: AnswerEntry,
    led_to: LedTo | None = None,
    question: OpenQuestion | None = None,
) -> Climb:
    """Keep an answer and open the next rung; the last one stays open until the teacher comes.

    With `led_to` the group leaves the ladder with this answer. The question is kept exactly as it
    was put. Raises Invalid for an answer that says nothing and where the group is on another rung.
    """
    stand = _stand(work, group_id, question, entry.language)
    climb = stand.climb
    _require_rung(entry.rung, climb)
    answer = settle_answer(entry, stand.group, stand.school_class.band, climb, work.now())
    answer = replace(answer, question=stand.question.text)
    ladders.add_answer(work.session, climb.school_id, answer)
    climb = replace(climb, answers=(*climb.answers, answer))
    if led_to is not None:
        return _end(work, stand.school_class, climb, led_to)
    return _open(work, stand.school_class, climb, rung_after(climb.rung))


def open_next_rung(work: Work, group_id: UUID, question: OpenQuestion | None = None) -> Climb:
    """Open the next rung after new trials; Refused where they are too few for the band."""
    stand = _stand(work, group_id, question)
    band, climb = stand.school_class.band, stand.climb
    opened = find_opened_rung(climb.rung, band, stand.question.trials_since)
    if opened is climb.rung:
        asked = GATES[band].trials
        new = "a new trial" if asked == 1 else f"{asked} new trials"
        message = Message("ladders.answer_this_question_first", new=new)
        raise Refused(message)
    return _open(work, stand.school_class, _pass(work, stand, PassKind.NEW_TRIAL), opened)


def say_not_sure(
    work: Work, group_id: UUID, rung: Rung, question: OpenQuestion | None = None
) -> Climb:
    """Open the next rung for a group that is not sure yet: once a climb, never at once.

    Raises Refused within three seconds of the question, the second time, and on the last rung.
    """
    stand = _stand(work, group_id, question)
    climb = stand.climb
    _require_rung(rung, climb)
    if work.now() - climb.rung_opened_at < LEAST_WAIT:
        message = Message("ladders.give_the_question_a_moment_first")
        raise Refused(message)
    if climb.was_not_sure or rung_after(climb.rung) is climb.rung:
        message = Message("ladders.say_what_you_see_so_far")
        raise Refused(message)
    climb = _pass(work, stand, PassKind.NOT_SURE)
    return _open(work, stand.school_class, climb, rung_after(climb.rung))


def skip_rung(work: Work, group_id: UUID, question: OpenQuestion | None = None) -> Climb:
    """Open the next rung in the teacher's name; Refused where none is open or none follows."""
    require_may_teach(work.actor, get_group_context(work, group_id).school_class)
    stand = _stand(work, group_id, question)
    if rung_after(stand.climb.rung) is stand.climb.rung:
        message = Message("ladders.the_last_rung")
        raise Refused(message)
    climb = _pass(work, stand, PassKind.TEACHER)
    return _open(work, stand.school_class, climb, rung_after(climb.rung))


def leave_ladder(
    work: Work,
    group_id: UUID,
    led_to: LedTo | None = None,
    question: OpenQuestion | None = None,
) -> None:
    """Take the group off the ladder: it knows what to try."""
    stand = _stand(work, group_id, question)
    climb = stand.climb
    if not any(answer.rung is climb.rung for answer in climb.answers):
        climb = _pass(work, stand, PassKind.LEFT)
    _end(work, stand.school_class, climb, led_to)


def judge_answer(work: Work, group_id: UUID, answer_id: UUID, borne_out: BorneOut) -> None:
    """Note whether a later test bore an answer of the group out, as the group sees it."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    climbs = ladders.climbs_of_groups(work.session, [group_id], context.challenge_id)
    if not any(answer.id == answer_id for climb in climbs for answer in climb.answers):
        message = Message("ladders.no_such_answer_in_this_group")
        raise NotFound(message)
    ladders.set_borne_out(work.session, answer_id, borne_out)
    classes.bump_version(work.session, context.school_class.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stand:
    """Where a group is on the ladder, as it stands where it is written."""

    group: Group
    school_class: SchoolClass
    climb: Climb
    question: OpenQuestion


def _stand(work: Work, group_id: UUID, question: OpenQuestion | None, language: str = "") -> _Stand:
    """Return the open climb with its question; raise Refused where none is open."""
    group, school_class = groups.get_group_with_class(work.session, group_id)
    require_may_log(work.actor, group, school_class)
    if question is not None:
        climb = ladders.get_climb(work.session, question.climb.id)
        if climb.group_id == group_id and climb.is_open and climb.rung is question.climb.rung:
            return _Stand(group=group, school_class=school_class, climb=climb, question=question)
    # Nothing was worked out, or the group has moved on since.
    question = read_question(work, group_id, language)
    return _Stand(group=group, school_class=school_class, climb=question.climb, question=question)


def _require_rung(rung: Rung, climb: Climb) -> None:
    if rung is not climb.rung:
        message = Message("ladders.question_before_was_answered_on_another_tablet")
        raise Invalid.at("words", message)


def _pass(work: Work, stand: _Stand, kind: PassKind) -> Climb:
    climb = stand.climb
    passed = RungPass(
        climb_id=climb.id,
        rung=climb.rung,
        kind=kind,
        question=stand.question.text,
        passed_at=work.now(),
    )
    ladders.add_pass(work.session, climb.school_id, passed)
    return replace(climb, passes=(*climb.passes, passed))


def _open(work: Work, school_class: SchoolClass, climb: Climb, rung: Rung) -> Climb:
    if rung is not climb.rung:
        climb = replace(climb, rung=rung, rung_opened_at=work.now())
        ladders.set_rung(work.session, climb.id, rung, climb.rung_opened_at)
    classes.bump_version(work.session, school_class.id)
    return climb


def _end(work: Work, school_class: SchoolClass, climb: Climb, led_to: LedTo | None) -> Climb:
    ended_by = ClimbEnd.KNOWS_WHAT_TO_TRY
    now = work.now()
    ladders.end_climb(work.session, climb.id, ended_by, now, led_to)
    climb = replace(climb, ended_at=now, ended_by=ended_by, led_to=led_to)
    classes.bump_version(work.session, school_class.id)
    return climb
