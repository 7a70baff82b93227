"""The teacher's page about a group that is stuck: what it is put down to, what can be done."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.charts.causes import CauseShare, causes_table, draw_causes
from journal.content.adaptation_words import get_check_lines, get_kind_words
from journal.content.conversation_starters import get_conversation_starters
from journal.content.design_patterns import PatternWords
from journal.content.messages import word_message
from journal.content.rounding import show_in_tenths
from journal.content.rungs import get_rung_name
from journal.content.shown_times import show_time
from journal.domain.challenges import Challenge
from journal.domain.diagnoses import FOUND_READINGS
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import PassKind, Rung
from journal.domain.lengths import show_length
from journal.domain.messages import Message, Words
from journal.domain.permits import require_may_teach
from journal.findings.design_patterns import describe_signs
from journal.findings.diagnoses import GroupDiagnosis, diagnose_group
from journal.findings.diagnosis_words import DiagnosisWords, name_reading, word_diagnosis
from journal.findings.stalls import (
    count_returns_of,
    find_stall_of,
    find_top,
    trials_without_better,
    word_stall,
    word_top,
)
from journal.findings.voices import TEACHER_BAND
from journal.pictures.answer_quotes import AnswerQuote, quote_answer
from journal.pictures.drawings import Drawing
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.screens.desk.fair_test_cards import find_card_offer
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.screens.links import Link
from journal.services.adaptations import describe_adaptations, offered_kinds
from journal.services.ladder_questions import present_question
from journal.store import stages

_CHART_PX = 440
#: A sketch in the margin column.
_SKETCH_PX = 220


@dataclass(frozen=True, slots=True, kw_only=True)
class DiagnosedHead:
    """Which group it is."""

    id: UUID
    number: int
    members: str
    class_id: UUID
    #: The fair-test card that waits; None where none does.
    card: Link | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderState:
    """Where the group is on the ladder."""

    rung: str
    since: str
    question: str
    #: Of the question.
    language: str
    #: Rungs at which it was not sure yet.
    not_sure: tuple[str, ...]
    can_skip: bool
    #: What it said and drew on this climb, each with its rung, in order.
    answers: tuple[tuple[str, AnswerQuote], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AdaptForm:
    """What can be adapted, with what was sent where it was refused."""

    #: Kind, its name, and the hint beside it.
    kinds: tuple[tuple[str, str, str], ...]
    #: Lines to look at again; empty where nothing is launched.
    checks: tuple[tuple[str, str], ...]
    has_distance: bool
    #: Two devices can be used in turn: not where a test destroys them.
    can_swap: bool
    sent: Mapping[str, str]
    ticked: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgeForm:
    """What it can turn out to be, and problems of either form."""

    options: tuple[tuple[str, str], ...]
    errors: Mapping[str, list[str]] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DiagnosisPage:
    """The page."""

    frame: DeskFrame
    head: DiagnosedHead
    stall: str
    words: DiagnosisWords
    #: Bars; None where nothing can be said.
    drawing: Drawing | None
    rests_on: str
    starters: tuple[str, ...]
    ladder: LadderState | None
    adapt: AdaptForm
    #: What was adapted so far, a sentence each.
    adapted: tuple[str, ...]
    signs: tuple[PatternWords, ...]
    judging: JudgeForm


def prepare_diagnosis(
    work: Work,
    group_id: UUID,
    sent: Mapping[str, str] | None = None,
    ticked: Collection[str] = (),
    errors: Mapping[str, list[str]] | None = None,
) -> DiagnosisPage:
    """Gather the page; what was sent stands in its form again after a problem."""
    context = get_group_context(work, group_id)
    require_may_teach(work.actor, context.school_class)
    record = gather_group(work, context)
    found = diagnose_group(record)
    language = context.school_class.language
    notes = stages.notes_of_group(work.session, group_id, context.challenge_id)
    what = Message("diagnoses.what_it_could_be", title=record.context.challenge.title)
    title = Message("diagnoses.what_it_could_be_of", group=record.group.name)
    return DiagnosisPage(
        frame=frame_class(
            record.context.school_class,
            record.group.name,
            word_message(what, language),
            title=word_message(title, language),
            tested=[record.context.challenge],
        ),
        head=_head(work, record),
        stall=" ".join(
            word_message(words, language) for words in (_stall(record), _returns(record)) if words
        ),
        words=word_diagnosis(record, found),
        drawing=_draw(found, language),
        rests_on=word_message(_rests_on(found), language),
        starters=get_conversation_starters(
            found.reading, language, launches=context.challenge.launches
        ),
        ladder=_ladder(work, record),
        adapt=_adapt_form(record, sent or {}, ticked),
        adapted=describe_adaptations(record),
        signs=describe_signs(record, notes),
        judging=JudgeForm(
            options=tuple(
                (reading.value, name_reading(reading, language)) for reading in FOUND_READINGS
            ),
            errors=errors,
        ),
    )


def _head(work: Work, record: GroupRecord) -> DiagnosedHead:
    group = record.group
    return DiagnosedHead(
        id=group.id,
        number=group.number,
        members=", ".join(member.nickname for member in group.present_members),
        class_id=group.class_id,
        card=find_card_offer(work, group.class_id),
    )


def _stall(record: GroupRecord) -> Words:
    words = word_stall(record, find_stall_of(record), TEACHER_BAND)
    if words:
        return words
    top = find_top(record)
    told_top = word_top(record, top, TEACHER_BAND) if top is not None and top.is_held else ""
    if record.climbs and record.climbs[-1].is_open:
        if not record.usable_trials:
            return Message("diagnoses.question_is_open")
        if told_top:
            return Message("diagnoses.question_is_open_and_top", top=told_top)
        since = trials_without_better(record)
        return Message("diagnoses.question_is_open_for_trials", count=since)
    return told_top or Message("diagnoses.not_stalled_by_its_trials")


def _returns(record: GroupRecord) -> Words:
    times = count_returns_of(record)
    return Message("diagnoses.went_back_to_revisions", times=times) if times else ""


def _draw(found: GroupDiagnosis, language: str) -> Drawing | None:
    if not found.shares:
        return None
    shares = [
        CauseShare(
            name=name_reading(reading, language),
            in_100=share,
            words=show_in_tenths(share),
            is_named=reading is found.reading,
        )
        for reading, share in found.shares
    ]
    return Drawing(
        svg=draw_causes(shares, width_px=_CHART_PX),
        table=causes_table(
            shares, caption=word_message(Message("diagnoses.how_sure_each_reading_is"), language)
        ),
    )


def _rests_on(found: GroupDiagnosis) -> Message:
    if not found.trials:
        return Message("diagnoses.no_trials_yet")
    revisions = tuple(found.revisions)
    return Message("diagnoses.from_trials_of_the_group", count=found.trials, revisions=revisions)


def _ladder(work: Work, record: GroupRecord) -> LadderState | None:
    climb = record.climbs[-1] if record.climbs else None
    if climb is None:
        return None
    language = record.language
    not_sure = tuple(
        f"{get_rung_name(rung_pass.rung, language)}: {rung_pass.question}"
        for rung_pass in climb.passes
        if rung_pass.kind is PassKind.NOT_SURE
    )
    answers = tuple(
        (
            get_rung_name(answer.rung, language),
            quote_answer(
                answer,
                record.group,
                width_px=_SKETCH_PX,
                said=Message("answer_quotes.said_to_the_teacher"),
                language=record.language,
            ),
        )
        for answer in climb.answers
    )
    if not climb.is_open:
        return LadderState(
            rung="Left the ladder",
            since=show_time(climb.ended_at or climb.started_at),
            question="",
            language=language,
            not_sure=not_sure,
            can_skip=False,
            answers=answers,
        )
    question = present_question(work, record, climb)
    return LadderState(
        rung=get_rung_name(climb.rung, language),
        since=show_time(climb.rung_opened_at),
        question=question.text,
        language=question.language,
        not_sure=not_sure,
        can_skip=climb.rung is not Rung.ASK_TEACHER,
        answers=answers,
    )


def _checks(challenge: Challenge, language: str) -> tuple[tuple[str, str], ...]:
    if not challenge.has_gate:
        return ()
    lines = get_check_lines(language, launches=challenge.launches)
    return tuple((check.value, line) for check, line in lines.items())


def _adapt_form(record: GroupRecord, sent: Mapping[str, str], ticked: Collection[str]) -> AdaptForm:
    context = record.context
    language = context.school_class.language
    kinds = offered_kinds(context)
    distance_mm = record.distance_mm
    usual = {"distance": "" if distance_mm is None else show_length(distance_mm), "trials": "12"}
    names = ("kind", "distance", "trials", "note", "turned_out", "found")
    return AdaptForm(
        kinds=tuple((kind.value, *get_kind_words(kind, language)) for kind in kinds),
        checks=_checks(context.challenge, language),
        has_distance=any(kind.value == "closer" for kind in kinds),
        can_swap=not context.challenge.is_destructive,
        sent={name: sent.get(name, usual.get(name, "")) for name in names},
        ticked=tuple(ticked),
    )
