"""What the ladder's page shows: the rungs, the question, ways to answer it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.content.messages import word_message
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.ladder_gates import find_call, find_opened_rung
from journal.domain.ladders import LEAST_WAIT, Climb, Rung
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.practice_sets import SIZES
from journal.domain.trials import Place
from journal.findings.diagnoses import diagnose_group
from journal.findings.diagnosis_words import word_contrast
from journal.pictures.answer_quotes import AnswerQuote, quote_answer
from journal.pictures.group_pictures import draw_hits
from journal.records.group_contexts import get_group_context
from journal.records.tablet_records import TabletRecord, gather_tablet
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.sentence_fields import SentenceField, make_field, scribe_options
from journal.screens.tablet.ladder_rungs import RungLine, list_rungs
from journal.screens.tablet.said_on_ladder import find_answer_to_check
from journal.services.ladder_questions import find_last_change, present_question
from journal.services.open_questions import trials_since
from journal.services.swap_tests import exchangeable_parts
from journal.store import visits

#: Rungs at which the group looks at its hits, before and now.
_LOOKING = frozenset({Rung.NOTICE, Rung.COMPARE, Rung.EXPLAIN})
#: The sketch of an answer that may have been borne out.
_CHECK_PX = 180


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt:
    """The hits of one revision beside the question."""

    name: str
    count: str
    svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierAnswer:
    """Something the group said before its last trial, which may have borne it out."""

    answer_id: UUID
    quote: AnswerQuote


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """The ways on from a question besides an answer."""

    #: Until "Not sure yet" is taken, in milliseconds; None where it is not offered.
    not_sure_wait_ms: int | None
    #: What will happen: asked where the next test is chosen, None elsewhere. The youngest are
    #: asked one thing at a time: the form of the next revision asks them.
    prediction: SentenceField | None
    #: Sizes of a practice set; empty but where the next test is chosen.
    sizes: tuple[int, ...]
    #: Old and new can be used in turn: not where a test destroys them.
    can_swap: bool
    #: Own parts can be exchanged in turn.
    can_exchange: bool
    #: Guests can launch, or another group's device can be borrowed.
    can_invite: bool
    #: What the trials alone cannot tell; "" but where the next test is chosen.
    contrast: str
    #: An answer that asks whether the last test bore it out.
    check: EarlierAnswer | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderPage:
    """The page of a question; without an open climb only the way onto the ladder."""

    frame: TabletFrame
    #: From the top down; empty where no climb is open.
    rungs: tuple[RungLine, ...]
    rung: str
    question: str
    field: SentenceField | None
    before: LookedAt | None
    now: LookedAt | None
    scribes: tuple[tuple[str, str], ...]
    sent: Mapping[str, str]
    errors: Mapping[str, list[str]]
    #: What is the case: "teacher" (called), "trial" (new trials opened the next rung), or both.
    news: tuple[str, ...]
    ways: Ways


def prepare_ladder(
    work: Work,
    group_id: UUID,
    sent: Mapping[str, str] | None = None,
    errors: Mapping[str, list[str]] | None = None,
) -> LadderPage:
    """Return the page of the present question."""
    gathered = gather_tablet(work, get_group_context(work, group_id))
    return show_ladder(work, gathered, sent, errors)


def show_ladder(
    work: Work,
    gathered: TabletRecord,
    sent: Mapping[str, str] | None = None,
    errors: Mapping[str, list[str]] | None = None,
) -> LadderPage:
    """Return the page of the present question from what is gathered already."""
    given = dict(sent or {})
    climb, record = gathered.open_climb, gathered.record
    context = record.context
    if climb is None:
        return _page_before(record)
    question = present_question(work, record, climb)
    before, now = _look(record, climb.rung)
    return LadderPage(
        frame=frame_group(
            context, word_message(Message("ladders.question_for_us"), context.school_class.language)
        ),
        rungs=list_rungs(record, climb),
        rung=climb.rung.value,
        question=question.text,
        field=SentenceField(
            name="words",
            label="Our answer",
            starters=question.starters,
            language=question.language,
            starter=given.get("words_starter", ""),
            words=given.get("words", ""),
            starters_shown=True,
            words_shown=context.school_class.band is not GradeBand.TWO or bool(given.get("words")),
        ),
        before=before,
        now=now,
        scribes=scribe_options(context),
        sent={name: given.get(name, "") for name in ("scribe", "trials", "sketch")},
        errors=errors or {},
        news=_news(work, record, climb),
        ways=_ways(work, record, climb, given),
    )


def _page_before(record: GroupRecord) -> LadderPage:
    return LadderPage(
        frame=frame_group(record.context, "Our ladder"),
        rungs=(),
        rung="",
        question="Are you stuck?",
        field=None,
        before=None,
        now=None,
        scribes=(),
        sent={},
        errors={},
        news=(),
        ways=Ways(
            not_sure_wait_ms=None,
            prediction=None,
            sizes=(),
            can_swap=False,
            can_exchange=False,
            can_invite=False,
            contrast="",
            check=_check(record),
        ),
    )


def _ways(work: Work, record: GroupRecord, climb: Climb, given: Mapping[str, str]) -> Ways:
    choosing = climb.rung is Rung.CHOOSE_TEST
    may_pass = not climb.was_not_sure and not climb.wants_teacher
    left = LEAST_WAIT - (work.now() - climb.rung_opened_at)
    return Ways(
        not_sure_wait_ms=max(0, round(left.total_seconds() * 1000)) if may_pass else None,
        prediction=make_field(
            record.context,
            "prediction",
            "What will happen?",
            starter=given.get("prediction_starter", ""),
            words=given.get("prediction", ""),
        )
        if choosing and record.context.school_class.band is not GradeBand.TWO
        else None,
        sizes=SIZES if choosing else (),
        can_swap=not record.context.challenge.is_destructive,
        can_exchange=len(exchangeable_parts(record.context, record.parts)) > 1,
        can_invite=not record.context.challenge.is_destructive,
        contrast=word_contrast(record, diagnose_group(record, climb.rung_opened_at))
        if choosing
        else "",
        check=_check(record),
    )


def _check(record: GroupRecord) -> EarlierAnswer | None:
    answer = find_answer_to_check(record)
    if answer is None:
        return None
    quote = quote_answer(answer, record.group, width_px=_CHECK_PX, language=record.language)
    return EarlierAnswer(answer_id=answer.id, quote=quote)


def _news(work: Work, record: GroupRecord, climb: Climb) -> tuple[str, ...]:
    band = record.context.school_class.band
    opened = find_opened_rung(climb.rung, band, trials_since(record, climb))
    found = {"teacher": _is_called(work, record, climb), "trial": opened is not climb.rung}
    return tuple(what for what, holds in found.items() if holds)


def _is_called(work: Work, record: GroupRecord, climb: Climb) -> bool:
    """Tell whether the teacher is called and has not been there since."""
    called_at = find_call(climb, record.context.school_class.band)
    if called_at is None:
        return False
    visited = visits.visits_of_groups(work.session, [record.group.id])
    return not visited or visited[-1].visited_at < called_at


def _look(record: GroupRecord, rung: Rung) -> tuple[LookedAt | None, LookedAt | None]:
    """Return the hits before and after the group's last change, where both have some."""
    found = find_last_change(record.parts)
    if rung not in _LOOKING or record.context.challenge.panel is None or found is None:
        return None, None
    state, old, new = found
    before = _looked_at(record, state, old.id, old.number, 170)
    now = _looked_at(record, state, new.id, new.number, 230)
    return (before, now) if before and now else (None, None)


def _looked_at(
    record: GroupRecord, state: PartState, revision_id: UUID, number: int, size_px: float
) -> LookedAt | None:
    hits = [trial for trial in record.trials_of(revision_id) if trial.place is Place.PANEL]
    if not hits:
        return None
    name = f"{state.name} {number}"
    return LookedAt(
        name=name,
        count="1 hit" if len(hits) == 1 else f"{len(hits)} hits",
        svg=draw_hits(
            record,
            hits,
            width_px=size_px,
            height_px=size_px,
            labels=False,
            ids=f"hits-{number}",
            title=f"Where {name} hit",
        ),
    )
