"""What a group said on its ladder that the next form, or the next check, starts from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from journal.content.messages import word_message
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import Answer, LedTo, Rung
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.revision_rules import RevisionForm, factors_for
from journal.domain.stages import NoteKind
from journal.pictures.answer_quotes import draw_answer
from journal.records.work import Work
from journal.store import ladders, stages

#: Rungs at which a group says something that a test can bear out.
_CLAIMS = frozenset({Rung.EXPLAIN, Rung.CHOOSE_TEST})


#: The reason of a revision where the group drew it and wrote nothing.
_AS_DRAWN = Message("said_on_ladder.as_we_drew_it")


_SKETCH_PX = 220


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidOnLadder:
    """What a group said on its last climb that its next revision starts from."""

    cause: str
    plan: str
    prediction: str
    #: What it drew about the cause, or else about the plan; "" where it drew nothing.
    drawing: str = ""


def find_said(work: Work, context: GroupContext) -> SaidOnLadder | None:
    """Return what the group said on the climb that led it to a revision; None without one."""
    climbs = ladders.climbs_of_groups(work.session, [context.group.id], context.challenge_id)
    climb = climbs[-1] if climbs else None
    if climb is None or climb.is_open or climb.led_to is not LedTo.REVISION:
        return None
    notes = stages.notes_of_group(work.session, context.group.id, context.challenge_id)
    predicted = [
        note.text
        for note in notes
        if note.kind is NoteKind.PREDICTION and note.logged_at >= climb.started_at
    ]
    thought, chosen = climb.find_answer(Rung.EXPLAIN), climb.find_answer(Rung.CHOOSE_TEST)
    drawings = [
        draw_answer(answer, context.group, width_px=_SKETCH_PX) for answer in (thought, chosen)
    ]
    return SaidOnLadder(
        cause=thought.text if thought else "",
        plan=chosen.text if chosen else "",
        drawing=drawings[0] or drawings[1],
        prediction=predicted[-1] if predicted else "",
    )


def fill_in(
    form: RevisionForm, said: SaidOnLadder, state: PartState, context: GroupContext
) -> RevisionForm:
    """Return a form with the suspected cause, the change that was named and the prediction."""
    named = [
        factor.key
        for factor in factors_for(state.kind, context.school_class.band)
        if factor.name.lower() in f"{said.plan} {said.cause}".lower()
    ]
    drawn = word_message(_AS_DRAWN, context.school_class.language) if said.drawing else ""
    return replace(
        form,
        ticked=tuple(named[:1]),
        reason=said.cause or said.plan or drawn,
        prediction=said.prediction,
    )


def choose_part(states: Sequence[PartState], said: SaidOnLadder) -> PartState:
    """Return the part whose factor the group named, else the first one."""
    words = f"{said.plan} {said.cause}".lower()
    for state in states:
        if any(factor.name.lower() in words for factor in state.kind.factors):
            return state
    return states[0]


def find_answer_to_check(record: GroupRecord) -> Answer | None:
    """Return the newest claim of the group that a later trial could have borne out; else None."""
    answers = [
        answer
        for climb in record.climbs
        for answer in climb.answers
        if answer.rung in _CLAIMS and answer.says_something
    ]
    newest = answers[-1] if answers else None
    if newest is None or newest.borne_out is not None or not record.usable_trials:
        return None
    return newest if record.usable_trials[-1].received_at > newest.answered_at else None
