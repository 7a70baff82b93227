"""From what was seen to a change and its test: a climb on the ladder and the revision it led to.

Comes in: a group's record. Goes out: heads with the group's own words and
sketches, for journal and portfolio.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from journal.content.texts import get_text
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import Answer, Climb, LedTo, Rung
from journal.domain.revisions import Revision
from journal.findings.group_findings import RevisionFinding
from journal.pictures.answer_quotes import quote_answer

#: How wide a sketch is on a screen; paper sets its own width.
_SKETCH_PX = 220


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainLink:
    """One step of the chain under its head: words, a sketch, or both."""

    head: str
    words: str
    drawing: str = ""


def find_climb_before(record: GroupRecord, revision: Revision) -> Climb | None:
    """Return the climb that led to a revision: the last before it, with no other one between."""
    left = [
        climb
        for climb in record.climbs
        if climb.ended_at is not None
        and climb.led_to in {None, LedTo.REVISION}
        and climb.ended_at <= revision.made_at
    ]
    if not left or left[-1].ended_at is None:
        return None
    ended_at = left[-1].ended_at
    between = any(
        ended_at <= other.made_at < revision.made_at
        for state in record.parts
        for other in state.revisions
    )
    return None if between else left[-1]


def find_causes(record: GroupRecord, revision: Revision) -> tuple[Answer | None, Answer | None]:
    """Return what the group saw and what it thought on the ladder before a revision."""
    climb = find_climb_before(record, revision)
    if climb is None:
        return None, None
    saw = climb.find_answer(Rung.COMPARE) or climb.find_answer(Rung.NOTICE)
    return saw, climb.find_answer(Rung.EXPLAIN)


def link_causes(record: GroupRecord, revision: Revision) -> tuple[ChainLink, ...]:
    """Return what the group saw and thought before a revision, as it said or drew it."""
    saw, thought = find_causes(record, revision)
    lines = []
    if saw is not None:
        lines.append(_link(record, "saw", saw))
    if thought is not None and thought.text != revision.reason:
        lines.append(_link(record, "thought", thought))
    elif thought is not None and thought.sketch is not None:
        # Words that became the reason of the revision stand there already; the sketch does not.
        lines.append(_link(record, "thought", replace(thought, text="")))
    return tuple(lines)


def link_chain(
    record: GroupRecord, revision: Revision, finding: RevisionFinding | None
) -> tuple[ChainLink, ...]:
    """Return the whole chain: what was seen, thought, said beforehand, and what came of it."""
    lines = list(link_causes(record, revision))
    if revision.prediction:
        predicted = f"“{revision.prediction}”"
        lines.append(ChainLink(head=_head(record, "predicted"), words=predicted))
    sentences = () if finding is None else finding.beside or finding.sentences
    if lines and sentences and record.trials_of(revision.id):
        climb = find_climb_before(record, revision)
        claimed = None if climb is None else climb.find_answer(Rung.EXPLAIN)
        borne = [] if claimed is None else [describe_borne_out(record, claimed)]
        came = " ".join(part for part in (sentences[0], *borne) if part)
        lines.append(ChainLink(head=_head(record, "came"), words=came))
    return tuple(lines)


def describe_borne_out(record: GroupRecord, answer: Answer) -> str:
    """Return whether a test bore an answer out, as the group saw it; "" where it said nothing."""
    if answer.borne_out is None:
        return ""
    language = record.language
    return get_text("chains", language, "borne_out", answer.borne_out.value)


def _head(record: GroupRecord, key: str) -> str:
    return get_text("chains", record.language, "heads", key)


def _link(record: GroupRecord, key: str, answer: Answer) -> ChainLink:
    quote = quote_answer(answer, record.group, width_px=_SKETCH_PX, language=record.language)
    return ChainLink(head=_head(record, key), words=quote.words, drawing=quote.drawing)
