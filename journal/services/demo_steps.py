"""The steps of the demo's story: each act takes a scene and a line of the story, and plays it."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid5

from journal.domain.actors import Actor
from journal.domain.ladders import AnswerEntry
from journal.domain.part_states import PartState
from journal.domain.parts import PartEventKind
from journal.domain.revisions import Change, MaterialAmount, RevisionEntry
from journal.domain.stages import NoteEntry, NoteKind
from journal.domain.swap_tests import SwapKind
from journal.domain.trials import Place, TrialEntry, TrialKind
from journal.services.benches import Bench, get_bench
from journal.services.ladders import answer_rung, start_climb
from journal.services.parts import ensure_parts, parts_at_bench, report_event
from journal.services.revisions import first_entry, make_first_builds, make_revision
from journal.services.stages import keep_note
from journal.services.swap_tests import SwapEntry, plan_swap_test
from journal.services.trials import log_trial
from journal.services.visits import log_visit
from journal.services.work import Work, open_work
from journal.store.engine import Store

_NAMES = UUID("5b9a6f0e-5c0e-4f0c-9a0e-2f6a1c7d4e11")
#: Between two trials of a group.
_PACE = timedelta(seconds=45)
_USUAL_HANDLING = {"pull": "full", "tilt": "mark 3", "hand": "right"}


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

    def as_group(self) -> Any:  # noqa: ANN401 - a context manager of Work
        """Open a work of the group's tablet."""
        return open_work(self.store, self.tablet, clock=self.clock)


def play(scene: Scene, steps: Sequence[Mapping[str, Any]], start: datetime) -> None:
    """Play some lines of the story, in order."""
    for step in steps:
        scene.clock.time = start + timedelta(minutes=step["at"])
        _ACTS[step["do"]](scene, step)


def _note(scene: Scene, step: Mapping[str, Any]) -> None:
    who = scene.students.get(step.get("who", ""))
    entry = NoteEntry(kind=NoteKind(step["kind"]), words=step["words"], student_id=who)
    with scene.as_group() as work:
        keep_note(work, scene.group_id, entry)


def _first(scene: Scene, step: Mapping[str, Any]) -> None:
    """Build the launcher as the challenge starts it, and everybody's own part."""
    with scene.as_group() as work:
        bench = get_bench(work, scene.group_id)
        shared = next(state for state in ensure_parts(work, bench) if not state.part.is_own)
        entry = first_entry(shared, bench)
        wanted = step.get("changes", {})
        changes = tuple(
            replace(change, to_value=wanted.get(change.factor, change.to_value))
            for change in entry.changes
        )
        make_revision(
            work,
            scene.group_id,
            replace(entry, changes=changes, materials=_materials(step)),
        )
        make_first_builds(work, scene.group_id)


def _build(scene: Scene, step: Mapping[str, Any]) -> None:
    who = (scene.students[step["who"]],)
    with scene.as_group() as work:
        state = _find_part(work, get_bench(work, scene.group_id), scene, step["part"])
        number = step.get("parent", state.revisions[-1].number)
        entry = RevisionEntry(
            part_id=state.part.id,
            parent_id=next(one.id for one in state.revisions if one.number == number),
            changes=tuple(
                Change(factor=factor, from_value="", to_value=value)
                for factor, value in step["changes"].items()
            ),
            materials=_materials(step),
            reason=step["reason"],
            prediction=step["prediction"],
            maker_ids=who,
        )
        make_revision(work, scene.group_id, entry)


def _trials(scene: Scene, step: Mapping[str, Any]) -> None:
    """Let the members who are there launch in turn; some of the launches misfire."""
    misfires = set(scene.chance.sample(range(step["n"]), step.get("misfires", 0)))
    lend = step.get("lend", {})
    start = scene.clock.time
    for index in range(step["n"]):
        scene.clock.time = start + index * _PACE
        with scene.as_group() as work:
            bench = get_bench(work, scene.group_id)
            states = parts_at_bench(work, bench)
            member = bench.members[index % len(bench.members)]
            owner = scene.students[lend.get(member.nickname, member.nickname)]
            used = [one for one in states if one.part.owner_id in {None, owner}]
            entry = TrialEntry(
                revision_ids=tuple(one.current.id for one in used if one.current),
                kind=TrialKind.PRACTICE,
                logged_at=scene.clock(),
                student_id=member.student_id,
                handling={**_USUAL_HANDLING, **step.get("handling", {})},
                **_what_came_of_it(scene, step, bench, misfired=index in misfires),
            )
            log_trial(work, uuid5(_NAMES, f"{scene.group_id} {scene.clock.time}"), entry)


def _swap(scene: Scene, step: Mapping[str, Any]) -> None:
    """Use two launchers in turn; `old` and `new` say where the hits of each gather."""
    start = scene.clock.time
    with scene.as_group() as work:
        bench = get_bench(work, scene.group_id)
        state = _find_part(work, bench, scene, step["part"])
        old, new = (one.id for one in state.revisions if one.number in step["numbers"])
        entry = SwapEntry(
            kind=SwapKind.REVISIONS,
            old_revision_id=old,
            new_revision_id=new,
            trials_each=step["each"],
        )
        planned = plan_swap_test(work, scene.group_id, entry)
    for turn in planned.turns:
        scene.clock.time = start + turn.position * _PACE
        with scene.as_group() as work:
            own = [
                one.current.id
                for one in parts_at_bench(work, bench)
                if one.part.owner_id == turn.student_id and one.current
            ]
            hits = step["old"] if turn.revision_id == old else step["new"]
            trial = TrialEntry(
                revision_ids=(turn.revision_id, *own),
                kind=TrialKind.PRACTICE,
                logged_at=scene.clock(),
                student_id=turn.student_id,
                handling=_USUAL_HANDLING,
                **_what_came_of_it(scene, hits, bench, misfired=False),
            )
            log_trial(work, uuid5(_NAMES, f"{scene.group_id} {scene.clock.time}"), trial)


def _what_came_of_it(
    scene: Scene, step: Mapping[str, Any], bench: Bench, *, misfired: bool
) -> dict[str, Any]:
    if misfired:
        causes = [cause.key for cause in bench.challenge.misfires]
        return {"misfire": scene.chance.choice(causes)}
    x_mm = round(scene.chance.gauss(step["right"], step["scatter"]))
    y_mm = round(scene.chance.gauss(-step["low"], step["scatter"]))
    found = {"amount": float(scene.chance.randint(2, 6))}
    panel = bench.challenge.panel
    if panel is None or panel.holds(x_mm, y_mm):
        return {**found, "place": Place.PANEL, "x_mm": float(x_mm), "y_mm": float(y_mm)}
    if panel.wall_holds(x_mm, y_mm):
        return {**found, "place": Place.WALL, "x_mm": float(x_mm), "y_mm": float(y_mm)}
    return {**found, "place": Place.NOWHERE}


def _stuck(scene: Scene, step: Mapping[str, Any]) -> None:
    with scene.as_group() as work:
        start_climb(work, scene.group_id, step["why"])


def _answer(scene: Scene, step: Mapping[str, Any]) -> None:
    with scene.as_group() as work:
        climb = start_climb(work, scene.group_id)
        drawn = json.dumps(step.get("sketch", []))
        entry = AnswerEntry(rung=climb.rung, question="", words=step["words"], sketch=drawn)
        answer_rung(work, scene.group_id, entry)


def _event(scene: Scene, step: Mapping[str, Any]) -> None:
    with scene.as_group() as work:
        state = _find_part(work, get_bench(work, scene.group_id), scene, step["part"])
        report_event(work, scene.group_id, state.part.id, PartEventKind(step["kind"]))


def _visit(scene: Scene, step: Mapping[str, Any]) -> None:
    with open_work(scene.store, scene.teacher, clock=scene.clock) as work:
        log_visit(work, scene.group_id, note=step["note"])


def _find_part(work: Work, bench: Bench, scene: Scene, name: str) -> PartState:
    """Return a part by the key of a shared one or by its owner's name."""
    owner = scene.students.get(name)
    return next(
        one
        for one in parts_at_bench(work, bench)
        if (one.part.owner_id == owner if owner else one.part.key == name)
    )


def _materials(step: Mapping[str, Any]) -> tuple[MaterialAmount, ...]:
    return tuple(
        MaterialAmount(material=key, amount=float(amount))
        for key, amount in step.get("materials", {}).items()
    )


_ACTS: dict[str, Callable[[Scene, Mapping[str, Any]], None]] = {
    "note": _note,
    "first": _first,
    "build": _build,
    "trials": _trials,
    "swap": _swap,
    "stuck": _stuck,
    "answer": _answer,
    "event": _event,
    "visit": _visit,
}
