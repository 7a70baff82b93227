"""The question of a rung in the group's own case: its band, its challenge, what its trials show.

Comes in: a group's record and its climb. Goes out: one Question, the same for as long as the rung
is open, and none that the group read before in the same lesson.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from journal.content.ladders import Question, fill_question, join_factors, pick_fresh, questions_for
from journal.domain.diagnoses import Reading
from journal.domain.factor_values import OTHER
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.ladder_texts import find_text
from journal.domain.ladders import Climb, Rung
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.findings.diagnoses import points_to
from journal.records.work import Work
from journal.store import ladder_texts


def present_question(work: Work, record: GroupRecord, climb: Climb, language: str = "") -> Question:
    """Return the question of the rung that is open.

    `language` is the one in which a tablet has it before it, where the teacher has chosen another
    since; "" for the one that is chosen now.
    """
    language = language or _choose_language(record.context)
    return put_question(
        record.context,
        climb.rung,
        record.parts,
        # As it was when the rung was opened: a question does not change while it is read.
        points=points_to(record, climb.rung_opened_at),
        put=_put_in_lesson(record, climb),
        own=_find_own(work, record, climb, language),
        language=language,
    )


def put_question(
    context: GroupContext,
    rung: Rung,
    states: Sequence[PartState],
    *,
    points: Reading = Reading.CANNOT_TELL,
    put: Sequence[str] = (),
    own: str = "",
    language: str = "",
) -> Question:
    """Return a rung's question in the band's words, with what the group itself changed last.

    `put` are questions that were put already, oldest first. `own` is the teacher's wording, which
    comes before the journal's; it has no slots, and the band's starters stand under it.
    """
    language = language or _choose_language(context)
    questions = questions_for(
        rung,
        context.school_class.band,
        language,
        launches=context.challenge.launches,
        points_to=points,
    )
    if own:
        questions = (replace(questions[0], text=own, aloud=own, plain=own), *questions)
    found = find_last_change(states)
    if found is None:
        return pick_fresh([fill_question(question) for question in questions], put)
    state, old, new = found
    factors = [state.kind.find_factor(change.factor) for change in new.changes]
    named = [factor.name for factor in factors if factor is not None]
    filled = [
        fill_question(
            question,
            factor=join_factors(named, language),
            old=f"{state.name} {old.number}",
            new=f"{state.name} {new.number}",
        )
        for question in questions
    ]
    return pick_fresh(filled, put)


def find_last_change(
    states: Sequence[PartState],
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
    _, state, old, new = max(changed, key=lambda candidate: candidate[0])
    return state, old, new


def _choose_language(context: GroupContext) -> str:
    return context.group.question_language or context.school_class.language


def _find_own(work: Work, record: GroupRecord, climb: Climb, language: str) -> str:
    """Return the teacher's wording of the open rung, as it was when the rung was opened.

    It is in the language of the class: a group that reads in another one gets the journal's words.
    """
    school_class = record.context.school_class
    if language != school_class.language:
        return ""
    worded = ladder_texts.texts_of_class(work.session, school_class)
    return find_text(worded, climb.rung, climb.rung_opened_at)


def _put_in_lesson(record: GroupRecord, climb: Climb) -> list[str]:
    """Return what the group read in this lesson, oldest first, but for the open rung's own."""
    running = record.context.running
    since = running.started_at if running is not None else climb.started_at
    put = [
        (at, question)
        for earlier in record.climbs
        for rung, at, question in (
            *((each.rung, each.answered_at, each.question) for each in earlier.answers),
            *((each.rung, each.passed_at, each.question) for each in earlier.passes),
        )
        if at >= since and not (earlier.id == climb.id and rung is climb.rung)
    ]
    return [question for _, question in sorted(put)]
