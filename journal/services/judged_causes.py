"""What the cause turned out to be: the teacher marks it, the journal keeps its own record of it."""

from __future__ import annotations

from uuid import UUID, uuid4

from journal.domain.diagnoses import FOUND_READINGS, JudgedCause, Reading
from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.permits import require_may_teach
from journal.domain.sentences import clean_words, find_problem
from journal.findings.diagnoses import diagnose_group
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.store import classes, diagnoses

_MOST_NOTE_LETTERS = 300


def judge_cause(work: Work, group_id: UUID, turned_out: str, note: str = "") -> JudgedCause:
    """Keep what the cause turned out to be beside what the journal says now.

    Raises Invalid for a cause that nobody knows and for a note that is too long.
    """
    context = get_group_context(work, group_id)
    require_may_teach(work.actor, context.school_class)
    if turned_out not in {reading.value for reading in FOUND_READINGS}:
        raise Invalid.at("turned_out", Message("judged_causes.choose_what_it_turned_out_to_be"))
    note = clean_words(note)
    too_long = find_problem("note", note, _MOST_NOTE_LETTERS)
    if too_long:
        raise Invalid(too_long.what, [too_long])
    said = diagnose_group(gather_group(work, context))
    judged = JudgedCause(
        id=uuid4(),
        school_id=context.group.school_id,
        group_id=group_id,
        challenge_id=context.challenge_id,
        said=said.reading,
        in_100=said.in_100,
        trials=said.trials,
        turned_out=Reading(turned_out),
        note=note,
        judged_at=work.now(),
        teacher_id=context.school_class.teacher_id,
    )
    diagnoses.add_judged_cause(work.session, judged)
    classes.bump_version(work.session, context.school_class.id)
    return judged
