"""A group's story through the services: notes, revisions, trials, a borrowed dart, a climb."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar
from uuid import UUID, uuid4

from journal.domain.actors import Actor
from journal.domain.ladders import AnswerEntry, Rung
from journal.domain.revisions import Change, MaterialAmount, RevisionEntry
from journal.domain.stages import NoteEntry, NoteKind
from journal.domain.trial_corrections import CorrectionEntry
from journal.domain.trials import Place, TrialEntry, TrialKind, TrialState
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.corrections import correct_trial, strike_last
from journal.services.ladders import answer_rung, start_climb
from journal.services.parts import borrow_part, parts_of_context
from journal.services.revisions import make_revision
from journal.services.stages import keep_note
from journal.services.trials import log_trial
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

Kept = TypeVar("Kept")
#: Where the trials of a round hit, in mm from the aim point: blaze, bark, trunk, leaves.
PLACES = ((10.0, -20.0), (-90.0, 100.0), (140.0, -60.0), (250.0, 80.0))


@dataclass
class Story:
    """A group at work: each method is one thing that it does, a minute later."""

    store: Store
    clock: StandingClock
    room: Classroom
    trial_ids: list[UUID] = field(default_factory=list)

    @property
    def group_id(self) -> UUID:
        """Return the group of the story."""
        return self.room.group_ids[0]

    def do(self, service: Callable[..., Kept], *given: Any, actor: Actor | None = None) -> Kept:
        """Do one thing on the group's tablet, or as somebody else."""
        self.clock.move(minutes=1)
        with open_work(self.store, actor or self.room.tablets[0], clock=self.clock) as work:
            return service(work, *given)

    def write(self, kind: NoteKind, words: str, student: int | None = None) -> None:
        """Write a note."""
        who = None if student is None else self.room.student_ids[0][student]
        self.do(keep_note, self.group_id, NoteEntry(kind=kind, words=words, student_id=who))

    def launch(
        self, revision_id: UUID, student: int, own_revision_id: UUID | None = None, **told: Any
    ) -> None:
        """Log one trial of a student with the launcher and the own dart, or another one."""
        own = own_revision_id or self.room.own_revision_ids[0][student]
        entry: dict[str, Any] = {
            "kind": TrialKind.PRACTICE,
            "logged_at": self.clock(),
            "student_id": self.room.student_ids[0][student],
            "handling": {"pull": "full", "tilt": "mark 3", "hand": "right"},
            "revision_ids": (revision_id, own),
        }
        trial_id = uuid4()
        self.do(log_trial, trial_id, TrialEntry(**entry | told))
        self.trial_ids.append(trial_id)

    def play(self, revision_id: UUID, rounds: int, **told: Any) -> None:
        """Let each student launch a few times, places in turn."""
        for turn in range(rounds):
            for student in range(len(self.room.student_ids[0])):
                x_mm, y_mm = PLACES[(turn + student) % len(PLACES)]
                self.launch(revision_id, student, x_mm=x_mm, y_mm=y_mm, **told)

    def build(self, parent_id: UUID, changes: tuple[Change, ...], **told: Any) -> UUID:
        """Make the launcher's next revision."""
        part_id = self.parts_of(0)[0].part.id
        entry = RevisionEntry(part_id=part_id, parent_id=parent_id, changes=changes, **told)
        return self.do(make_revision, self.group_id, entry).id

    def parts_of(self, group: int) -> tuple[Any, ...]:
        """Return the parts of a group as they stand."""
        with open_work(self.store, self.room.teacher, clock=self.clock) as work:
            return parts_of_context(work, get_group_context(work, self.room.group_ids[group]))


def tell_story(store: Store, clock: StandingClock, room: Classroom) -> Story:
    """Tell a whole story: two revisions of a launcher, with all that can happen on the way."""
    story = Story(store, clock, room)
    story.write(NoteKind.PROBLEM, "The tree stands on the far side.")
    story.write(NoteKind.IDEA, "A rail that pushes straight.", 0)
    first = room.shared_revision_ids[0]
    story.play(first, 2)
    story.launch(first, 1, misfire="let_go")
    story.write(NoteKind.FOUND, "It drops too early.")
    second = story.build(
        first,
        (Change(factor="bands", from_value="", to_value="2", reason="It must fly flatter."),),
        reason="More push for the dart.",
        prediction="Most of them reach the bark.",
        materials=(
            MaterialAmount(material="wood_strip", amount=2),
            MaterialAmount(material="rubber_band", amount=2),
        ),
        maker_ids=(room.student_ids[0][1],),
    )
    borrowed = story.parts_of(1)[1]
    story.do(borrow_part, story.group_id, borrowed.part.id, room.student_ids[0][2])
    story.play(second, 2, handling={"pull": "half", "tilt": "mark 3", "hand": "right"})
    story.launch(second, 2, borrowed.revisions[0].id, x_mm=5.0, y_mm=5.0)
    story.launch(second, 0, kind=TrialKind.COUNTED, x_mm=0.0, y_mm=0.0)
    # A slip of the finger, taken back at once.
    story.launch(second, 0, place=Place.NOWHERE)
    story.do(strike_last, story.group_id, story.trial_ids[-1])
    story.do(start_climb, story.group_id)
    story.do(
        answer_rung,
        story.group_id,
        AnswerEntry(rung=Rung.NOTICE, question="", words="They lie closer together."),
    )
    wall = CorrectionEntry(
        reason="It was the wall.",
        state=TrialState.MEASURED,
        kind=TrialKind.PRACTICE,
        student_id=room.student_ids[0][0],
        place=Place.WALL,
    )
    story.do(correct_trial, story.trial_ids[0], wall, actor=room.teacher)
    story.write(NoteKind.NEXT, "A cork tip for each dart.")
    return story
