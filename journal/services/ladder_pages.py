"""What the ladder's page shows: the rungs with earlier answers, the question, ways to answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.content.rungs import get_rung_name
from journal.domain.classes import GradeBand
from journal.domain.ladders import RUNGS, Answer, AnswerKind, Climb, Rung
from journal.domain.part_states import PartState
from journal.domain.trials import Place
from journal.services.benches import Bench, get_bench
from journal.services.frames import TabletFrame
from journal.services.group_frames import frame_group
from journal.services.ladders import find_last_change, put_question, trials_since
from journal.services.pictures import draw_hits
from journal.services.records import GroupRecord, gather_group
from journal.services.sentence_fields import SentenceField, scribe_options
from journal.services.work import Work
from journal.store import ladders

#: Rungs at which the group looks at its hits, before and now.
_LOOKING = frozenset({Rung.NOTICE, Rung.COMPARE, Rung.EXPLAIN})


@dataclass(frozen=True, slots=True, kw_only=True)
class RungLine:
    """A rung beside the drawn ladder."""

    rung: str
    name: str
    #: "done", "now" or "ahead".
    state: str
    #: What the group answered there last, in quotes; may be empty.
    answer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt:
    """The hits of one revision beside the question."""

    name: str
    count: str
    svg: str


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
    #: What is the case: "teacher" (called), "trial" (a new trial opened the next rung) or "".
    news: str


def prepare_ladder(
    work: Work,
    group_id: UUID,
    sent: Mapping[str, str] | None = None,
    errors: Mapping[str, list[str]] | None = None,
) -> LadderPage:
    """Return the page of the present question."""
    bench = get_bench(work, group_id)
    given = dict(sent or {})
    climb = ladders.find_open_climb(work.session, group_id, bench.challenge_id)
    if climb is None:
        return _page_before(bench)
    record = gather_group(work, bench)
    question = put_question(bench, climb.rung, record.parts)
    before, now = _look(record, climb.rung)
    return LadderPage(
        frame=frame_group(bench, "A question for us"),
        rungs=_rungs(bench, climb),
        rung=climb.rung.value,
        question=question.text,
        field=SentenceField(
            name="words",
            label="Our answer",
            starters=question.starters,
            starter=given.get("words_starter", ""),
            words=given.get("words", ""),
            starters_shown=True,
            words_shown=bench.school_class.band is not GradeBand.TWO or bool(given.get("words")),
        ),
        before=before,
        now=now,
        scribes=scribe_options(bench),
        sent={"scribe": given.get("scribe", "")},
        errors=errors or {},
        news=_news(work, bench, climb),
    )


def _page_before(bench: Bench) -> LadderPage:
    return LadderPage(
        frame=frame_group(bench, "Our ladder"),
        rungs=(),
        rung="",
        question="Are you stuck?",
        field=None,
        before=None,
        now=None,
        scribes=(),
        sent={},
        errors={},
        news="",
    )


def _news(work: Work, bench: Bench, climb: Climb) -> str:
    if climb.wants_teacher:
        return "teacher"
    return "trial" if trials_since(work, bench, climb) else ""


def _rungs(bench: Bench, climb: Climb) -> tuple[RungLine, ...]:
    present = RUNGS.index(climb.rung)
    answers: dict[Rung, Answer] = {answer.rung: answer for answer in climb.answers}
    return tuple(
        RungLine(
            rung=rung.value,
            name=get_rung_name(rung, bench.school_class.language),
            state="now" if place == present else "done" if place < present else "ahead",
            answer=_quote(answers.get(rung)),
        )
        for place, rung in reversed(list(enumerate(RUNGS)))
    )


def _quote(answer: Answer | None) -> str:
    if answer is None:
        return ""
    if answer.kind is AnswerKind.SAID and not answer.text:
        return "Said to our teacher."
    return f"“{answer.text}”"


def _look(record: GroupRecord, rung: Rung) -> tuple[LookedAt | None, LookedAt | None]:
    """Return the hits before and after the group's last change, where both have some."""
    found = find_last_change(record.parts)
    if rung not in _LOOKING or record.bench.challenge.panel is None or found is None:
        return None, None
    state, old, new = found
    before = _looked_at(record, state, old.id, old.number, 170)
    now = _looked_at(record, state, new.id, new.number, 230)
    return (before, now) if before and now else (None, None)


def _looked_at(
    record: GroupRecord, state: PartState, revision_id: UUID, number: int, size_px: float
) -> LookedAt | None:
    hits = [one for one in record.trials_of(revision_id) if one.place is Place.PANEL]
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
