"""The question that is open on a group's ladder, worked out before anything is written.

Comes in: a group. Goes out: an OpenQuestion, for the verbs of `services/ladders.py`.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.domain.errors import Refused
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import Climb
from journal.domain.messages import Message
from journal.domain.permits import require_may_log, require_may_teach
from journal.records.group_contexts import get_group_context
from journal.records.tablet_records import TabletRecord, gather_tablet
from journal.records.work import Work
from journal.services.ladder_questions import present_question

_NO_QUESTION = Message("open_questions.no_question_is_open")


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenQuestion:
    """The question of the rung that is open, worked out before anything is written."""

    climb: Climb
    text: str
    #: How many trials that tell something came since the rung was opened.
    trials_since: int


def read_question(
    work: Work, group_id: UUID, language: str = "", *, for_teacher: bool = False
) -> OpenQuestion:
    """Return a group's open question for whoever may answer it, or skip it as its teacher."""
    context = get_group_context(work, group_id)
    if for_teacher:
        require_may_teach(work.actor, context.school_class)
    require_may_log(work.actor, context.group, context.school_class)
    return work_out_question(work, gather_tablet(work, context), language)


def work_out_question(work: Work, gathered: TabletRecord, language: str = "") -> OpenQuestion:
    """Return the question that is open now; Refused where none is.

    What it leans on takes longer than writing an answer down, so a page asks for it in a reading
    work and hands it to the verb that writes. It stays the same as long as the rung is open.
    """
    climb = gathered.open_climb
    if climb is None:
        raise Refused(_NO_QUESTION)
    return OpenQuestion(
        climb=climb,
        text=present_question(work, gathered.record, climb, language).text,
        trials_since=trials_since(gathered.record, climb),
    )


def trials_since(record: GroupRecord, climb: Climb) -> int:
    """Count the trials that tell something since the present rung was opened."""
    return sum(trial.received_at > climb.rung_opened_at for trial in record.usable_trials)
