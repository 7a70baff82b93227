"""What the busiest pages of a tablet need of a group, in four queries.

Comes in: a context. Goes out: a GroupRecord with the parts, trials and climbs, from which stall,
diagnosis and question are worked out; and the parts as the group has them before it. What only
the teacher and the paper are shown (steps, visits, near-misses, adaptations) and swap tests are
not gathered: `gather_group` has them.
"""

from __future__ import annotations

from dataclasses import dataclass

from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import Climb
from journal.domain.part_states import PartState, read_part_states
from journal.records.work import Work
from journal.store import ladders, parts, revisions, trials


@dataclass(frozen=True, slots=True, kw_only=True)
class TabletRecord:
    """A group's record for its own tablet."""

    record: GroupRecord
    #: Parts of other groups that this group has now.
    borrowed: tuple[PartState, ...]

    @property
    def open_climb(self) -> Climb | None:
        """Return the climb that the group is on now."""
        return next((climb for climb in self.record.climbs if climb.is_open), None)


def gather_tablet(work: Work, context: GroupContext) -> TabletRecord:
    """Return what a group's tablet works with; the context has asked the permit."""
    session, group_id = work.session, context.group.id
    logged = trials.trials_of_groups(session, [group_id], context.session_ids)
    used = {revision_id for trial in logged for revision_id in trial.revision_ids}
    found, events = parts.parts_at_hand(session, group_id, context.challenge_id, used)
    made = revisions.revisions_of_parts(session, [part.id for part in found])
    states = read_part_states(context.challenge, found, made, events, used)
    foreign = [state for state in states if state.part.group_id != group_id]
    record = GroupRecord(
        context=context,
        parts=tuple(state for state in states if state.part.group_id == group_id),
        trials=logged,
        climbs=ladders.climbs_of_groups(session, [group_id], context.challenge_id),
        foreign_parts=tuple(state for state in foreign if state.locked_ids),
        steps=(),
        visits=(),
        near_misses=(),
    )
    borrowed = tuple(state for state in foreign if state.lent_to == group_id)
    return TabletRecord(record=record, borrowed=borrowed)
