"""What every step of the demo's story needs: its clock, and the scene of one group."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from journal.domain.actors import Actor
from journal.domain.group_contexts import GroupContext
from journal.domain.part_states import PartState
from journal.records.work import Work, open_work
from journal.services.parts import parts_of_context
from journal.store.engine import Store


class StoryClock:
    """A clock that the story sets; it moves on a second each time somebody looks."""

    def __init__(self, time: datetime) -> None:
        """Start at a moment."""
        self.time = time

    def __call__(self) -> datetime:
        """Return the present moment of the story."""
        self.time += timedelta(seconds=1)
        return self.time


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What every step of the story needs: the group, its tablet, its students, chance."""

    store: Store
    clock: StoryClock
    teacher: Actor
    tablet: Actor
    group_id: UUID
    students: Mapping[str, UUID]
    chance: random.Random
    #: Between two trials of the group.
    pace: timedelta
    #: How the device is used unless a step says otherwise.
    handling: Mapping[str, str]

    def as_group(self) -> Any:  # noqa: ANN401 - a context manager of Work
        """Open a work of the group's tablet."""
        return open_work(self.store, self.tablet, clock=self.clock)

    def find_part(self, work: Work, context: GroupContext, name: str) -> PartState:
        """Return a part by the key of a shared one or by its owner's name."""
        owner = self.students.get(name)
        return next(
            part
            for part in parts_of_context(work, context)
            if (part.part.owner_id == owner if owner else part.part.key == name)
        )
