"""One unit of work: returning commits, raising rolls back.

    with open_work(store, actor) as work:
        log_trial(work, trial_id, entry)

Open one for a request or a terminal command, never inside a service. `writing=False` reads without
taking the writer's turn. What must happen only once the data is kept goes into `after_commit`.
It is no registry and no cache: it holds the transaction, the actor and the clock, nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from uuid import UUID

from sqlalchemy.orm import Session

from journal.domain.actors import Actor, Role
from journal.store.engine import Store

Clock = Callable[[], datetime]
#: Those who are not signed in wait for each other and hold up no school.
_DOOR = UUID(int=0)


def clock_of_the_machine() -> datetime:
    """Return the present instant in UTC."""
    return datetime.now(UTC)


@dataclass(slots=True)
class Work:
    """What a service needs: the session, who acts, the clock, and what follows the commit."""

    session: Session
    actor: Actor
    now: Clock
    after_commit: list[Callable[[], None]] = field(default_factory=list)


@contextmanager
def open_work(
    store: Store, actor: Actor, *, writing: bool = True, clock: Clock = clock_of_the_machine
) -> Iterator[Work]:
    """Open a work on the store for an actor."""
    turn = _DOOR if actor.role is Role.NOBODY else actor.school_id
    with store.open_session(writing=writing, turn=turn) as session:
        work = Work(session=session, actor=actor, now=clock)
        yield work
    for follow_up in work.after_commit:
        follow_up()
