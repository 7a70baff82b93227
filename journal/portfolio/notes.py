"""What a group wrote: notes and answers come in, sections of the portfolio go out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from uuid import UUID

from journal.content.messages import word_message
from journal.content.question_languages import find_question_language
from journal.content.shown_times import show_day
from journal.content.stages import get_stage_words
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import Answer
from journal.domain.messages import Message
from journal.domain.numbers import show_money
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.domain.stages import Note, NoteKind
from journal.findings.group_findings import GroupFindings
from journal.findings.standing import describe_standing
from journal.findings.trial_records import label_revision
from journal.pictures.answer_quotes import AnswerQuote, quote_answer
from journal.pictures.chains import describe_borne_out, find_causes
from journal.portfolio.pages import (
    AskedQuestion,
    Beginning,
    LookingBack,
    NoteSection,
    Said,
)
from journal.portfolio.swap_tests import list_exchanges

_BEFORE_BUILDING = (
    NoteKind.PROBLEM,
    NoteKind.QUESTION,
    NoteKind.IDEA,
)
_PLANNED = (
    NoteKind.CHOICE,
    NoteKind.CHANGES,
    NoteKind.STAYS,
    NoteKind.PREDICTION,
    NoteKind.MATERIALS,
)
_LOOKING_BACK = (NoteKind.FOUND, NoteKind.NEXT)
#: A sketch among the questions, in CSS px of the drawing; the sheet sets its width.
_SKETCH_PX = 300


def begin(record: GroupRecord, notes: Sequence[Note]) -> Beginning:
    """Return the task and what was written about it before the first build."""
    challenge, wording = record.context.challenge, record.context.wording
    limits = [constraint.text for constraint in challenge.constraints]
    if challenge.budget_hundredths is not None:
        limits.append(f"Budget: {show_money(challenge.budget_hundredths)} {challenge.money_name}.")
    first = _first_built_at(record)
    planned = [note for note in notes if first is None or note.logged_at < first]
    return Beginning(
        story=wording.story,
        problem=wording.problem,
        criteria=tuple(criterion.text for criterion in challenge.criteria),
        limits=tuple(limits),
        sections=(
            *_sections(record, notes, _BEFORE_BUILDING),
            *_sections(record, planned, _PLANNED),
        ),
    )


def plan_before(
    record: GroupRecord, revision: Revision, before: datetime | None, notes: Sequence[Note]
) -> tuple[NoteSection, ...]:
    """Return what was planned between the revision before, at `before`, and this one."""
    if before is None:
        return ()
    planned = [note for note in notes if before <= note.logged_at < revision.made_at]
    return _sections(record, planned, _PLANNED)


def found_after(
    record: GroupRecord, revision: Revision, notes: Sequence[Note]
) -> tuple[NoteSection, ...]:
    """Return what was found with a revision before the next one; the newest one's stands last."""
    main = record.main_part
    made = [revision.made_at for revision in main.revisions] if main else []
    later = [at for at in made if at > revision.made_at]
    if not later or revision.made_at not in made:
        return ()
    found = [note for note in notes if revision.made_at <= note.logged_at < min(later)]
    return _sections(record, found, _LOOKING_BACK)


def list_asked(record: GroupRecord, in_full: Iterable[PartState]) -> tuple[AskedQuestion, ...]:
    """Return the questions that were answered, in order.

    A sketch is printed once: where it led to a revision of a part told `in_full`, it stands there.
    """
    drawn = {
        answer.id: label_revision(state, revision)
        for state in in_full
        for revision in state.revisions
        for answer in find_causes(record, revision)
        if answer is not None and answer.sketch is not None
    }
    return tuple(
        AskedQuestion(
            question=answer.question,
            language=find_question_language(answer.question) or record.language,
            answer=_quote(record, answer, drawn.get(answer.id, "")),
            who=_who(record, answer.student_id, answer.scribe),
            when=". ".join(
                part
                for part in (show_day(answer.answered_at), describe_borne_out(record, answer))
                if part
            ),
        )
        for climb in record.climbs
        for answer in climb.answers
    )


def _quote(record: GroupRecord, answer: Answer, drawn_with: str) -> AnswerQuote:
    quote = quote_answer(answer, record.group, width_px=_SKETCH_PX, language=record.language)
    if not drawn_with:
        return quote
    return AnswerQuote(
        words=word_message(
            Message("notes.sketch_stands_with", words=quote.words, drawn_with=drawn_with),
            record.language,
        ).strip()
    )


def look_back(record: GroupRecord, found: GroupFindings, notes: Sequence[Note]) -> LookingBack:
    """Return what the trials say at the end, and what the group found and will do next."""
    main = record.main_part
    made = [revision.made_at for revision in main.revisions] if main else []
    # What was found in between stands beside its revision.
    last = [note for note in notes if not made or not made[0] <= note.logged_at < made[-1]]
    return LookingBack(
        finding=(*found.sentences, *found.cannot_say) if record.usable_trials else (),
        criteria=tuple(standing for standing in describe_standing(record, found) if standing[1]),
        sections=_sections(record, last, _LOOKING_BACK),
        exchanges=list_exchanges(record),
    )


def _sections(
    record: GroupRecord, notes: Sequence[Note], kinds: Iterable[NoteKind]
) -> tuple[NoteSection, ...]:
    """Return a section a field that holds anything; the same words twice stand once."""
    sections = []
    for kind in kinds:
        written = {(note.text, note.student_id): note for note in notes if note.kind is kind}
        if written:
            said = tuple(_said(record, note) for note in written.values())
            sections.append(NoteSection(heading=_label(record, kind), notes=said))
    return tuple(sections)


def _said(record: GroupRecord, note: Note) -> Said:
    return Said(
        text=note.text,
        who=_who(record, note.student_id, note.scribe),
        when=show_day(note.logged_at),
    )


def _label(record: GroupRecord, kind: NoteKind) -> str:
    school_class = record.context.school_class
    words = get_stage_words(kind.stage, school_class.band, school_class.language)
    # On paper several children's ideas stand under one heading: the question of the page.
    return words.question if kind is NoteKind.IDEA else words.labels[kind]


def _who(record: GroupRecord, student_id: UUID | None, scribe: str) -> str:
    name = "The group" if student_id is None else record.group.name_of(student_id)
    return f"{name}, written by {scribe}" if scribe else name


def _first_built_at(record: GroupRecord) -> datetime | None:
    main = record.main_part
    return main.revisions[0].made_at if main and main.revisions else None
