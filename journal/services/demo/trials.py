"""The trials of the demo's story: a scene and a line of the story come in, trials are logged."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID, uuid5

from journal.domain.group_contexts import GroupContext
from journal.domain.swap_tests import SwapKind
from journal.domain.trials import Place, TrialEntry, TrialKind
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.services.demo.scenes import Scene
from journal.services.parts import parts_of_context
from journal.services.swap_tests import SwapEntry, plan_swap_test
from journal.services.trials import log_trial, mend_broken

_NAMES = UUID("5b9a6f0e-5c0e-4f0c-9a0e-2f6a1c7d4e11")


def play_trials(scene: Scene, step: Mapping[str, Any]) -> None:
    """Let the members who are there do a trial each in turn; what a test broke is built again."""
    values = step.get("values", [None] * step.get("n", 0))
    misfires = set(scene.chance.sample(range(len(values)), step.get("misfires", 0)))
    lend = step.get("lend", {})
    start = scene.clock.time
    for index, value in enumerate(values):
        scene.clock.time = start + index * scene.pace
        with scene.as_group() as work:
            context = get_group_context(work, scene.group_id)
            if context.challenge.is_destructive:
                mend_broken(work, scene.group_id)
            states = parts_of_context(work, context)
            member = context.members[index % len(context.members)]
            owner = scene.students[lend.get(member.nickname, member.nickname)]
            used = [state for state in states if state.part.owner_id in {None, owner}]
            if value is None:
                found = _draw_hit(scene, step, context, misfired=index in misfires)
            else:
                found = {"misfire" if isinstance(value, str) else "value": value}
            entry = TrialEntry(
                revision_ids=tuple(state.current.id for state in used if state.current),
                kind=TrialKind.PRACTICE,
                logged_at=scene.clock(),
                student_id=member.student_id,
                handling={**scene.handling, **step.get("handling", {})},
                **found,
            )
            _log(scene, work, entry)


def play_swap(scene: Scene, step: Mapping[str, Any]) -> None:
    """Use two launchers in turn; `old` and `new` say where the hits of each gather."""
    start = scene.clock.time
    with scene.as_group() as work:
        context = get_group_context(work, scene.group_id)
        state = scene.find_part(work, context, step["part"])
        old, new = (
            revision.id for revision in state.revisions if revision.number in step["numbers"]
        )
        entry = SwapEntry(
            kind=SwapKind.REVISIONS,
            old_revision_id=old,
            new_revision_id=new,
            trials_each=step["each"],
        )
        planned = plan_swap_test(work, scene.group_id, entry)
    for turn in planned.turns:
        scene.clock.time = start + turn.position * scene.pace
        with scene.as_group() as work:
            own = [
                part.current.id
                for part in parts_of_context(work, context)
                if part.part.owner_id == turn.student_id and part.current
            ]
            hits = step["old"] if turn.revision_id == old else step["new"]
            trial = TrialEntry(
                revision_ids=(turn.revision_id, *own),
                kind=TrialKind.PRACTICE,
                logged_at=scene.clock(),
                student_id=turn.student_id,
                handling=scene.handling,
                **_draw_hit(scene, hits, context, misfired=False),
            )
            _log(scene, work, trial)


def _draw_hit(
    scene: Scene, step: Mapping[str, Any], context: GroupContext, *, misfired: bool
) -> dict[str, Any]:
    if misfired:
        causes = step.get("causes") or [cause.key for cause in context.challenge.misfires]
        return {"misfire": scene.chance.choice(causes)}
    x_mm = round(scene.chance.gauss(step["right"], step["scatter"]))
    y_mm = round(scene.chance.gauss(-step["low"], step["scatter"]))
    found = {"amount": float(scene.chance.randint(2, 6))}
    panel = context.challenge.panel
    if panel is None or panel.holds(x_mm, y_mm):
        return {**found, "place": Place.PANEL, "x_mm": float(x_mm), "y_mm": float(y_mm)}
    if panel.wall_holds(x_mm, y_mm):
        return {**found, "place": Place.WALL, "x_mm": float(x_mm), "y_mm": float(y_mm)}
    return {**found, "place": Place.NOWHERE}


def _log(scene: Scene, work: Work, entry: TrialEntry) -> None:
    log_trial(work, uuid5(_NAMES, f"{scene.group_id} {scene.clock.time}"), entry)
