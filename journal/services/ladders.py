"""The ladder of questions: offered to a group that has stalled, opened by one that is stuck."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID, uuid4

from journal.content.ladders import Question, fill_question, get_question
from journal.domain.errors import Invalid, Problem, Refused
from journal.domain.factor_values import OTHER
from journal.domain.ladders import (
    Answer,
    AnswerEntry,
    AnswerKind,
    Climb,
    ClimbEnd,
    Rung,
    next_rung,
)
from journal.domain.part_states import PartState
from journal.domain.permits import require_may_log
from journal.domain.revisions import Revision
from journal.domain.sentences import clean_words, find_problem, join_sentence
from journal.services.benches import Bench, get_bench
from journal.services.parts import parts_at_bench
from journal.services.work import Work
from journal.store import classes, ladders, trials

#: Why a climb began: the group tapped "We are stuck".
ASKED = "asked"
_MOST_SCRIBE_LETTERS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderOffer:
    """A call-out on a group's pages: the ladder is there, nobody has to take it."""

    group_id: UUID
    #: Kept with the climb when the group takes it up.
    why: str
    sentence: str
    #: The group is on the ladder already.
    is_open: bool


def offer(work: Work, bench: Bench, stalled_reason: str | None) -> LadderOffer | None:
    """Return the call-out for a group that is on the ladder or has stalled, else None."""
    climb = ladders.find_open_climb(work.session, bench.group.id, bench.challenge_id)
    if climb is not None:
        sentence = "Your teacher is called." if climb.wants_teacher else "A question waits for you."
        return LadderOffer(group_id=bench.group.id, why=climb.why, sentence=sentence, is_open=True)
    if not stalled_reason:
        return None
    return LadderOffer(
        group_id=bench.group.id,
        why=stalled_reason,
        sentence="A question may help you now.",
        is_open=False,
    )


def start_climb(work: Work, group_id: UUID, why: str = ASKED) -> Climb:
    """Put the group on the first rung; where it is on the ladder already it stays there."""
    bench = get_bench(work, group_id)
    require_may_log(work.actor, bench.group, bench.school_class)
    climb = ladders.find_open_climb(work.session, group_id, bench.challenge_id)
    if climb is not None:
        return climb
    started = ladders.add_climb(
        work.session, bench.group, bench.challenge_id, clean_words(why)[:40] or ASKED, work.now()
    )
    classes.bump_version(work.session, bench.school_class.id)
    return started


def answer_rung(work: Work, group_id: UUID, entry: AnswerEntry) -> Climb:
    """Keep an answer and open the next rung; the last one stays open until the teacher comes.

    The question is kept exactly as it was put. Raises Invalid for an answer that says nothing and
    where the group is on another rung by now.
    """
    bench, climb = _get_climb(work, group_id)
    if entry.rung is not climb.rung:
        message = "The question before was answered on another tablet. This is the next one."
        raise Invalid.at("words", message)
    answer = _settle_answer(entry, bench, climb, work.now())
    question = put_question(bench, climb.rung, parts_at_bench(work, bench))
    ladders.add_answer(work.session, climb.school_id, replace(answer, question=question.text))
    _open(work, bench, climb, next_rung(climb.rung, answered=True, trials_since=0))
    return ladders.get_climb(work.session, climb.id)


def open_next_rung(work: Work, group_id: UUID) -> Climb:
    """Open the next rung after a new trial; Refused where there is neither trial nor answer."""
    bench, climb = _get_climb(work, group_id)
    opened = next_rung(climb.rung, answered=False, trials_since=trials_since(work, bench, climb))
    if opened is climb.rung:
        message = "Answer this question first, or log a new trial."
        raise Refused(message)
    _open(work, bench, climb, opened)
    return ladders.get_climb(work.session, climb.id)


def leave_ladder(work: Work, group_id: UUID) -> None:
    """Take the group off the ladder: it knows what to try."""
    bench, climb = _get_climb(work, group_id)
    ladders.end_climb(work.session, climb.id, ClimbEnd.KNOWS_WHAT_TO_TRY, work.now())
    classes.bump_version(work.session, bench.school_class.id)


def trials_since(work: Work, bench: Bench, climb: Climb) -> int:
    """Count the trials that tell something since the present rung was opened."""
    found = trials.trials_of_groups(work.session, [bench.group.id], bench.session_ids)
    return sum(
        one.received_at > climb.rung_opened_at and one.state.tells_something for one in found
    )


def put_question(bench: Bench, rung: Rung, states: tuple[PartState, ...]) -> Question:
    """Return a rung's question in the band's words, with what the group itself changed last."""
    question = get_question(rung, bench.school_class.band, bench.school_class.language)
    found = find_last_change(states)
    if found is None:
        return fill_question(question)
    state, old, new = found
    factors = [state.kind.find_factor(change.factor) for change in new.changes]
    named = [factor.name[:1].lower() + factor.name[1:] for factor in factors if factor is not None]
    return fill_question(
        question,
        factor=" and the ".join(named),
        old=f"{state.name} {old.number}",
        new=f"{state.name} {new.number}",
    )


def find_last_change(
    states: tuple[PartState, ...],
) -> tuple[PartState, Revision, Revision] | None:
    """Return the group's newest change: the part, the revision before and the one after."""
    changed = [
        (revision.made_at, state, parent, revision)
        for state in states
        for revision in state.revisions
        if revision.parent_id is not None
        and any(change.factor != OTHER for change in revision.changes)
        and (parent := state.find_revision(revision.parent_id)) is not None
    ]
    if not changed:
        return None
    _, state, old, new = max(changed, key=lambda one: one[0])
    return state, old, new


def _get_climb(work: Work, group_id: UUID) -> tuple[Bench, Climb]:
    bench = get_bench(work, group_id)
    require_may_log(work.actor, bench.group, bench.school_class)
    climb = ladders.find_open_climb(work.session, group_id, bench.challenge_id)
    if climb is None:
        message = "No question is open. Tap “We are stuck” when you want one."
        raise Refused(message)
    return bench, climb


def _open(work: Work, bench: Bench, climb: Climb, rung: Rung) -> None:
    if rung is not climb.rung:
        ladders.set_rung(work.session, climb.id, rung, work.now())
    classes.bump_version(work.session, bench.school_class.id)


def _settle_answer(entry: AnswerEntry, bench: Bench, climb: Climb, at: datetime) -> Answer:
    text = join_sentence(entry.starter, entry.words)
    problems = [problem for problem in [find_problem("words", text)] if problem]
    if not text and not entry.said_to_teacher:
        problems.append(Problem("words", "Tap a sentence, write one, or tell your teacher."))
    if entry.student_id is not None and not bench.group.has(entry.student_id):
        problems.append(Problem("who", "Tap a child of this group."))
    if problems:
        raise Invalid(problems[0].what, problems)
    return Answer(
        id=uuid4(),
        climb_id=climb.id,
        rung=climb.rung,
        question=entry.question,
        kind=_kind_of(entry),
        text=text,
        student_id=entry.student_id,
        scribe=clean_words(entry.scribe)[:_MOST_SCRIBE_LETTERS],
        answered_at=at,
    )


def _kind_of(entry: AnswerEntry) -> AnswerKind:
    if clean_words(entry.words):
        return AnswerKind.WORDS
    return AnswerKind.SAID if entry.said_to_teacher else AnswerKind.STARTER
