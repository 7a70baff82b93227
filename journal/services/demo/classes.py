"""Classes made up for trying the journal out, filled through the services like any other.

Their stories stand in `content/demo/`; hits are drawn at random from a fixed seed, so that
every demo is the same.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import UUID

from journal.content.demo_classes import read_demo_classes, read_demo_teacher
from journal.domain.actors import OPERATOR, Actor, Role, TabletState
from journal.domain.sessions import GateCheck
from journal.records.work import open_work
from journal.services.challenges import open_challenge
from journal.services.classes import make_class
from journal.services.demo.scenes import Scene, StoryClock
from journal.services.demo.steps import play
from journal.services.groups import make_group
from journal.services.lesson_words import make_lesson_word
from journal.services.rosters import add_students
from journal.services.sessions import end_session, open_gate, start_session
from journal.services.teachers import add_teacher
from journal.store import challenges
from journal.store.engine import Store

SEED = 2711
KEPT_DAYS = 365


def fill_demo(
    store: Store, *, sign_in_name: str, password: str, now: datetime | None = None
) -> None:
    """Fill an empty journal: a class in the middle of its second session, and one after it."""
    now = now or datetime.now(UTC)
    stories = read_demo_classes()
    clock = StoryClock(min(start for story in stories for start in _starts(story, now)))
    clock.time -= timedelta(hours=1)
    with open_work(store, OPERATOR, clock=clock) as work:
        added = add_teacher(work, sign_in_name, read_demo_teacher(), password)
    teacher = Actor(role=Role.TEACHER, school_id=added.school_id, teacher_id=added.id)
    for story in stories:
        _play_story(story, store, clock, teacher, now)


def _play_story(
    story: Mapping[str, Any], store: Store, clock: StoryClock, teacher: Actor, now: datetime
) -> None:
    """Make one class and play its sessions."""
    starts = _starts(story, now)
    clock.time = starts[0] - timedelta(minutes=30)
    class_id, students, group_ids, challenge_id = _make_room(store, clock, teacher, story, now)
    for number, (start, session) in enumerate(zip(starts, story["sessions"], strict=True), 1):
        clock.time = start
        with open_work(store, teacher, clock=clock) as work:
            started = start_session(
                work,
                class_id,
                challenge_id=challenge_id,
                distance=session["distance"],
                lanes="1",
                absent_student_ids=[students[name] for name in session["absent"]],
            )
            if challenges.get_challenge(work.session, challenge_id).has_gate:
                open_gate(work, started.id, list(GateCheck))
        for group, group_id in zip(story["groups"], group_ids, strict=True):
            tablet = Actor(
                role=Role.TABLET,
                school_id=teacher.school_id,
                class_id=class_id,
                group_id=group_id,
                tablet_state=TabletState.IN,
            )
            scene = Scene(
                store=store,
                clock=clock,
                teacher=teacher,
                tablet=tablet,
                group_id=group_id,
                students=students,
                chance=random.Random(f"{SEED} {group['name']} {number}"),  # noqa: S311 - a story
                pace=timedelta(seconds=story["pace_seconds"]),
                handling=story["handling"],
            )
            play(scene, [step for step in group["steps"] if step["session"] == number], start)
        if session["minutes"]:
            clock.time = start + timedelta(minutes=session["minutes"])
            with open_work(store, teacher, clock=clock) as work:
                end_session(work, started.id)
    # The word is for today's lesson, so it counts from now.
    clock.time = now
    with open_work(store, teacher, clock=clock) as work:
        make_lesson_word(work, class_id)


def _starts(story: Mapping[str, Any], now: datetime) -> list[datetime]:
    return [
        now - timedelta(days=session["days_ago"], minutes=session["minutes_ago"])
        for session in story["sessions"]
    ]


def _make_room(
    store: Store, clock: StoryClock, teacher: Actor, story: Mapping[str, Any], now: datetime
) -> tuple[UUID, dict[str, UUID], list[UUID], UUID]:
    """Make class, students, groups and challenge."""
    keep_until: date = now.date() + timedelta(days=KEPT_DAYS)
    entered = {
        "name": story["name"],
        "band": story["band"],
        "language": "en",
        "retention_date": keep_until.isoformat(),
    }
    names = [name for group in story["groups"] for name in group["members"]]
    with open_work(store, teacher, clock=clock) as work:
        school_class = make_class(work, entered)
        added = add_students(work, school_class.id, "\n".join(names))
        students = {student.nickname: student.id for student in added}
        group_ids = [
            make_group(
                work, school_class.id, [students[name] for name in group["members"]], group["name"]
            ).id
            for group in story["groups"]
        ]
        challenge = open_challenge(work, school_class.id, story["challenge"])
    if challenge.id is None:
        raise AssertionError(challenge)
    return school_class.id, students, group_ids, challenge.id
