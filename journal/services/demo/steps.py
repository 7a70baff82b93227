"""The steps of the demo's story: each act takes a scene and a line of the story, and plays it."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from journal.domain.ladders import AnswerEntry, BorneOut, LedTo
from journal.domain.parts import PartEventKind
from journal.domain.revisions import Change, MaterialAmount, RevisionEntry
from journal.domain.stages import NoteEntry, NoteKind
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.demo.scenes import Scene
from journal.services.demo.trials import play_swap, play_trials
from journal.services.ladders import answer_rung, judge_answer, leave_ladder, start_climb
from journal.services.parts import ensure_parts, report_event
from journal.services.revisions import first_entry, make_first_builds, make_revision
from journal.services.stages import keep_note
from journal.services.visits import log_visit


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
    """Build the shared part as the challenge starts it, and everybody's own one."""
    with scene.as_group() as work:
        context = get_group_context(work, scene.group_id)
        shared = next(state for state in ensure_parts(work, context) if not state.part.is_own)
        entry = first_entry(shared, context)
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
        if context.challenge.own_parts:
            make_first_builds(work, scene.group_id)


def _build(scene: Scene, step: Mapping[str, Any]) -> None:
    who = (scene.students[step["who"]],)
    with scene.as_group() as work:
        state = scene.find_part(work, get_group_context(work, scene.group_id), step["part"])
        number = step.get("parent", state.revisions[-1].number)
        entry = RevisionEntry(
            part_id=state.part.id,
            parent_id=next(
                revision.id for revision in state.revisions if revision.number == number
            ),
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


def _stuck(scene: Scene, step: Mapping[str, Any]) -> None:
    with scene.as_group() as work:
        start_climb(work, scene.group_id, step["why"])


def _answer(scene: Scene, step: Mapping[str, Any]) -> None:
    with scene.as_group() as work:
        climb = start_climb(work, scene.group_id)
        drawn = json.dumps(step.get("sketch", []))
        entry = AnswerEntry(rung=climb.rung, question="", words=step["words"], sketch=drawn)
        answer_rung(work, scene.group_id, entry)


def _leave(scene: Scene, step: Mapping[str, Any]) -> None:
    with scene.as_group() as work:
        leave_ladder(work, scene.group_id, LedTo(step["led_to"]))


def _judge(scene: Scene, step: Mapping[str, Any]) -> None:
    """Say whether a later test bore an answer out; answers of the group are counted from 1."""
    with scene.as_group() as work:
        record = gather_group(work, get_group_context(work, scene.group_id))
        answers = [answer for climb in record.climbs for answer in climb.answers]
        judged = answers[step["answer"] - 1]
        judge_answer(work, scene.group_id, judged.id, BorneOut(step["borne_out"]))


def _event(scene: Scene, step: Mapping[str, Any]) -> None:
    with scene.as_group() as work:
        state = scene.find_part(work, get_group_context(work, scene.group_id), step["part"])
        report_event(work, scene.group_id, state.part.id, PartEventKind(step["kind"]))


def _visit(scene: Scene, step: Mapping[str, Any]) -> None:
    with open_work(scene.store, scene.teacher, clock=scene.clock) as work:
        log_visit(work, scene.group_id, note=step["note"])


def _materials(step: Mapping[str, Any]) -> tuple[MaterialAmount, ...]:
    return tuple(
        MaterialAmount(material=key, amount=float(amount))
        for key, amount in step.get("materials", {}).items()
    )


_ACTS: dict[str, Callable[[Scene, Mapping[str, Any]], None]] = {
    "note": _note,
    "first": _first,
    "build": _build,
    "trials": play_trials,
    "swap": play_swap,
    "stuck": _stuck,
    "answer": _answer,
    "leave": _leave,
    "judge": _judge,
    "event": _event,
    "visit": _visit,
}
