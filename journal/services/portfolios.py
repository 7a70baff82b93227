"""Printing a group's portfolio: asked for, cancelled, found again when it is there.

Comes in: a group and perhaps a challenge before the present one. Goes out: how the print stands.
The printing itself is a job, done in a process of its own (`jobs/`).
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal import __version__
from journal.domain.group_contexts import GroupContext
from journal.domain.jobs import Job, JobKind, JobState
from journal.domain.permits import require_may_teach
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.store import jobs


@dataclass(frozen=True, slots=True, kw_only=True)
class PortfolioPrint:
    """How the print of a group's portfolio stands."""

    context: GroupContext
    #: What was asked for last; None where nothing was.
    last: Job | None
    #: The newest print that is done.
    done: Job | None
    #: How many jobs are before it.
    before: int = 0

    @property
    def is_live(self) -> bool:
        """Return whether it is waited for."""
        return self.last is not None and self.last.state.is_live

    @property
    def is_unchanged(self) -> bool:
        """Return whether nothing of the class has changed since the print that is there."""
        made = self.done
        version = self.context.school_class.version
        return made is not None and (made.class_version, made.edition) == (version, __version__)


def find_print(work: Work, group_id: UUID, challenge_id: UUID | None = None) -> PortfolioPrint:
    """Return how the print stands, for the class's teacher only."""
    context = get_group_context(work, group_id, challenge_id)
    require_may_teach(work.actor, context.school_class)
    found = jobs.jobs_of_group(work.session, JobKind.PORTFOLIO, group_id, context.challenge_id)
    last = next(iter(found), None)
    return PortfolioPrint(
        context=context,
        last=last,
        done=next((job for job in found if job.state is JobState.DONE), None),
        before=jobs.count_before(work.session, last) if last and last.state.is_live else 0,
    )


def ask_for_print(work: Work, group_id: UUID, challenge_id: UUID | None = None) -> PortfolioPrint:
    """Queue the print unless it is waited for already."""
    found = find_print(work, group_id, challenge_id)
    if found.is_live:
        return found
    jobs.add_job(
        work.session,
        found.context.school_class,
        JobKind.PORTFOLIO,
        group_id=group_id,
        challenge_id=found.context.challenge_id,
        asked_at=work.now(),
    )
    return find_print(work, group_id, challenge_id)


def cancel_print(work: Work, group_id: UUID, challenge_id: UUID | None = None) -> bool:
    """Cancel the print that is waited for; False where none was."""
    found = find_print(work, group_id, challenge_id)
    return jobs.cancel_live(work.session, group_id, found.context.challenge_id, work.now())
