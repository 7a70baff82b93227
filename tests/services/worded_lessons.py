"""A lesson in which a teacher words the ladder and groups read it; each method is a step."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from journal.content.ladders import get_question
from journal.domain.actors import OPERATOR
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid
from journal.domain.ladders import RUNGS, AnswerEntry, Rung
from journal.records.work import open_work
from journal.screens.desk.ladder_texts import RungBlock, prepare_ladder_texts
from journal.screens.tablet.ladders import prepare_ladder
from journal.services.ladder_texts import set_ladder_texts
from journal.services.ladders import answer_rung, leave_ladder, start_climb
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import sentences_of

OWN = "What surprised you in your trials?"
LATER = "What puzzles you in your trials?"
JOURNAL = get_question(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "en").plain


@dataclass(frozen=True)
class Lesson:
    """A teacher at the desk and a group at its tablet."""

    store: Store
    room: Classroom
    clock: StandingClock

    def word(self, **entered: str) -> tuple[Rung, ...]:
        """Let the teacher save the form."""
        self.clock.move(seconds=10)
        with open_work(self.store, self.room.teacher, clock=self.clock) as work:
            return set_ladder_texts(work, self.room.class_id, entered)

    def refuse(self, **entered: str) -> dict[str, list[str]]:
        """Let the teacher save what cannot be taken; return the sentences by field."""
        with pytest.raises(Invalid) as caught:
            self.word(**entered)
        return sentences_of(caught.value)

    def block(self, rung: Rung, **entered: str) -> RungBlock:
        """Return what the page shows of a rung."""
        with open_work(self.store, self.room.teacher, writing=False, clock=self.clock) as work:
            page = prepare_ladder_texts(work, self.room.class_id, entered or None)
        return page.rungs[RUNGS.index(rung)]

    def start(self, group: int = 0) -> None:
        """Let a group tap "We are stuck"."""
        self.clock.move(seconds=10)
        with open_work(self.store, self.room.tablets[group], clock=self.clock) as work:
            start_climb(work, self.room.group_ids[group])

    def asked(self, group: int = 0) -> str:
        """Return the question that a group reads."""
        tablet = self.room.tablets[group]
        with open_work(self.store, tablet, writing=False, clock=self.clock) as work:
            return prepare_ladder(work, self.room.group_ids[group]).question

    def answer(self, rung: Rung) -> None:
        """Let the group answer."""
        self.clock.move(seconds=10)
        entry = AnswerEntry(rung=rung, question="", words="They lie low.")
        with open_work(self.store, self.room.tablets[0], clock=self.clock) as work:
            answer_rung(work, self.room.group_ids[0], entry)

    def leave(self) -> None:
        """Let the group leave the ladder."""
        with open_work(self.store, self.room.tablets[0], clock=self.clock) as work:
            leave_ladder(work, self.room.group_ids[0])

    def version(self) -> int:
        """Return the version of the class."""
        with open_work(self.store, OPERATOR, writing=False) as work:
            return classes.find_version(work.session, self.room.class_id) or 0
