"""What came of a revision: its trials and its parent's come in, pictures and sentences go out."""

from __future__ import annotations

from dataclasses import replace

from journal.content.messages import word_message
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.findings.group_findings import GroupFindings
from journal.findings.trial_records import label_revision
from journal.pictures.group_pictures import draw_hits, draw_trials
from journal.portfolio.conditions import count_children, count_trials, list_conditions
from journal.portfolio.pages import Happened
from journal.portfolio.swap_tests import list_swaps

#: Drawn for a column 122 mm wide; on paper 1 px of a drawing is then 0.2 mm.
BODY_WIDTH_PX = 610
#: The panel beside a smaller one of the revision before.
_HITS_PX = 420
_PARENT_HITS_PX = 180


def describe_outcome(
    record: GroupRecord,
    state: PartState,
    revision: Revision,
    parent: Revision | None,
    found: GroupFindings,
) -> Happened | None:
    """Return what came of it; None before its first trial."""
    trials = record.trials_of(revision.id)
    if not trials:
        return None
    before = record.trials_of(parent.id) if parent is not None else ()
    beside = [parent] if parent is not None and before else []
    finding = next(
        (
            revision_finding
            for revision_finding in found.revisions
            if revision_finding.revision_id == revision.id
        ),
        None,
    )
    label, ids = label_revision(state, revision), f"r{state.part.id.hex[:8]}{revision.number}"
    placed = any(trial.x_mm is not None for trial in trials)
    return Happened(
        count=count_trials(trials),
        hits=draw_hits(
            record,
            trials,
            width_px=_HITS_PX,
            height_px=_HITS_PX,
            labels=True,
            ids=f"{ids}h",
            title=word_message(
                Message("outcomes.panel_with_the_hits_of", label=label), record.language
            ),
            stems=True,
        )
        if placed
        else "",
        parent_hits=draw_hits(
            record,
            before,
            width_px=_PARENT_HITS_PX,
            height_px=_PARENT_HITS_PX,
            labels=False,
            ids=f"{ids}p",
            title=word_message(
                Message("outcomes.panel_with_the_hits_of", label=label_revision(state, parent)),
                record.language,
            ),
        )
        if placed and parent is not None and any(trial.x_mm is not None for trial in before)
        else "",
        # Only these two stand beside each other; the whole row has a page of its own.
        dots=draw_trials(
            record,
            replace(state, revisions=(*beside, revision)),
            width_px=BODY_WIDTH_PX,
            ids=f"{ids}d",
        ),
        dots_heading=f"Beside {label_revision(state, parent)}"
        if parent is not None and beside
        else "Trial by trial",
        children=count_children(record, trials, marked=placed),
        conditions=list_conditions(record, trials, before),
        numbers=(*finding.sentences, *found.handling.describe_mixed_use(trials)) if finding else (),
        beside=finding.beside if finding and before else (),
        swaps=list_swaps(record, revision, finding.beside if finding and before else ()),
    )
