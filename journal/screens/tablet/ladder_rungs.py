"""The rungs beside the question, from the top down, each with what was answered there last."""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.rungs import get_rung_name
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import RUNGS, Answer, Climb, PassKind, Rung
from journal.pictures.answer_quotes import AnswerQuote, quote_answer

#: A sketch beside its rung: small enough that six rungs stay in sight.
_SKETCH_PX = 84
_NOTHING = AnswerQuote(words="")


@dataclass(frozen=True, slots=True, kw_only=True)
class RungLine:
    """A rung beside the drawn ladder."""

    name: str
    #: "done", "now" or "ahead".
    state: str
    #: What the group answered there last, in quotes; may be empty.
    answer: str
    #: What it drew there last, as SVG; "" without.
    drawing: str = ""


def list_rungs(record: GroupRecord, climb: Climb) -> tuple[RungLine, ...]:
    """Return each rung with what was answered there, on this climb or else on one before."""
    present = RUNGS.index(climb.rung)
    lines = []
    for place, rung in reversed(list(enumerate(RUNGS))):
        quote = _tell_last(record, climb, rung)
        lines.append(
            RungLine(
                name=get_rung_name(rung, record.language),
                state="now" if place == present else "done" if place < present else "ahead",
                answer=quote.words,
                drawing=quote.drawing,
            )
        )
    return tuple(lines)


def _tell_last(record: GroupRecord, climb: Climb, rung: Rung) -> AnswerQuote:
    answers = [answer for answer in climb.answers if answer.rung is rung]
    if answers:
        return _quote(record, answers[-1])
    if any(
        rung_pass.rung is rung and rung_pass.kind is PassKind.NOT_SURE for rung_pass in climb.passes
    ):
        return AnswerQuote(words="Not sure yet.")
    earlier = [other.find_answer(rung) for other in record.climbs if other.id != climb.id]
    known = [answer for answer in earlier if answer is not None]
    if not known:
        return _NOTHING
    quote = _quote(record, known[-1])
    return AnswerQuote(words=f"Before: {quote.words}".rstrip(), drawing=quote.drawing)


def _quote(record: GroupRecord, answer: Answer) -> AnswerQuote:
    return quote_answer(answer, record.group, width_px=_SKETCH_PX, language=record.language)
