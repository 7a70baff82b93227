"""From what was seen to a change and its test: a climb on the ladder and the revision it led to.

Comes in: a group's record. Goes out: heads with the group's own words, for journal and portfolio.
"""

from __future__ import annotations

from journal.content.texts import get_text
from journal.domain.ladders import Answer, Climb, LedTo, Rung
from journal.domain.revisions import Revision
from journal.services.findings import RevisionFinding
from journal.services.records import GroupRecord

Pair = tuple[str, str]


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
        ended_at <= one.made_at < revision.made_at
        for state in record.parts
        for one in state.revisions
    )
    return None if between else left[-1]


def tell_cause(record: GroupRecord, revision: Revision) -> tuple[Pair, ...]:
    """Return what the group saw and what it thought before a revision, in its own words."""
    climb = find_climb_before(record, revision)
    if climb is None:
        return ()
    saw = climb.find_answer(Rung.COMPARE) or climb.find_answer(Rung.NOTICE)
    thought = climb.find_answer(Rung.EXPLAIN)
    lines = []
    if saw is not None:
        lines.append((_head(record, "saw"), _quote(saw.text)))
    # What became the reason of the revision stands there already.
    if thought is not None and thought.text != revision.reason:
        lines.append((_head(record, "thought"), _quote(thought.text)))
    return tuple(lines)


def tell_chain(
    record: GroupRecord, revision: Revision, finding: RevisionFinding | None
) -> tuple[Pair, ...]:
    """Return the whole chain: what was seen, thought, said beforehand, and what came of it."""
    lines = list(tell_cause(record, revision))
    if revision.prediction:
        lines.append((_head(record, "predicted"), _quote(revision.prediction)))
    told = () if finding is None else finding.beside or finding.sentences
    if lines and told and record.trials_of(revision.id):
        climb = find_climb_before(record, revision)
        claimed = None if climb is None else climb.find_answer(Rung.EXPLAIN)
        borne = [] if claimed is None else [tell_borne_out(record, claimed)]
        came = " ".join(part for part in (told[0], *borne) if part)
        lines.append((_head(record, "came"), came))
    return tuple(lines)


def tell_borne_out(record: GroupRecord, answer: Answer) -> str:
    """Return whether a test bore an answer out, as the group saw it; "" where it said nothing."""
    if answer.borne_out is None:
        return ""
    language = record.bench.school_class.language
    return get_text("chains", language, "borne_out", answer.borne_out.value)


def _head(record: GroupRecord, key: str) -> str:
    return get_text("chains", record.bench.school_class.language, "heads", key)


def _quote(text: str) -> str:
    return f"“{text}”"
