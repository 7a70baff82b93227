"""Jobs: work that outlives the request that asked for it, and who may take one up.

A job is queued, then run by a dispatcher that holds a lease on it, then done, failed or cancelled.
A lease that is not renewed ends: whoever held it is gone, and another one takes the job up.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

#: A dispatcher renews its leases several times within this.
LEASE = timedelta(seconds=15)
#: A job whose process is killed is begun again, so many times in all.
MOST_ATTEMPTS = 3
#: Prints and jobs that have ended are removed after this.
KEPT_FOR = timedelta(days=7)
MOST_PROBLEM_LETTERS = 400
WHOLE_PERCENT = 100


class JobKind(StrEnum):
    """What is to be made."""

    #: The portfolio of one group for one challenge.
    PORTFOLIO = "portfolio"


class JobState(StrEnum):
    """Where a job stands."""

    QUEUED = "queued"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"

    @property
    def is_live(self) -> bool:
        """Return whether something is still to come of the job."""
        return self in LIVE


LIVE = (JobState.QUEUED, JobState.RUNNING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One job as it stands."""

    id: UUID
    school_id: UUID
    class_id: UUID
    #: None for a job about a whole class.
    group_id: UUID | None
    challenge_id: UUID | None
    #: In whose name it is done.
    teacher_id: UUID
    kind: JobKind
    state: JobState
    asked_at: datetime
    ended_at: datetime | None
    attempts: int
    #: How much of it is done, 0 to 100.
    percent: int
    #: For the person who asked: why nothing came of it; "" otherwise.
    problem: str
    #: The class's version when it was gathered, and the journal's that made it; None and "" before.
    class_version: int | None
    edition: str
