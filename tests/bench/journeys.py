"""What the busiest requests cost: statements, functions of the journal entered, CPU.

Functions are counted by `sys.setprofile`, over files of the journal alone and without what a
function holds (comprehensions, lambdas). CPU is `process_time` of a whole request through Flask's
test client; the limit is a bare Flask application that parses the same JSON and does one durable
INSERT, in turns in the same process. With --against, the CPU of a trial is measured in turns in
another copy of the journal too, such as the one before a change.
Run: python -m tests.bench.journeys [--short] [--against FOLDER]
"""

from __future__ import annotations

import argparse
import os
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from types import FrameType
from typing import Any
from uuid import uuid4

import sqlalchemy as sa
from flask import Flask, request
from flask.testing import FlaskClient

import journal
from journal.app import create_app
from journal.domain.actors import OPERATOR
from journal.domain.settings import settings_from
from journal.records.work import open_work
from journal.services.sign_ins import hash_token
from journal.store import migrate, sign_ins
from journal.store.engine import Store
from tests.bench.lines import tell
from tests.factories.classrooms import Classroom, make_classroom

OURS = str(Path(journal.__file__).parent)
TRIALS_BEFORE = 20
#: Most statements of each journey; a trial's CPU beside that of the bare handler.
MOST_STATEMENTS = {"trial": 5, "log_page": 12, "ladder_answer": 15, "ladder_answer_refused": 15}
CPU_GOAL = 3.0
AGAINST_GOAL = 0.6


@dataclass
class Room:
    """A class with a running journal and a tablet that is signed in."""

    store: Store
    classroom: Classroom
    tablet: FlaskClient

    @property
    def home(self) -> str:
        """Return the address of the group."""
        return f"/groups/{self.classroom.group_ids[0]}"

    def put_trial(self) -> int:
        """Log one trial as a tablet does; return the status."""
        now = datetime.now(UTC).isoformat()
        body = {
            "revision_ids": [str(id_) for id_ in self.classroom.revisions_for(0, 0)],
            "student_id": str(self.classroom.student_ids[0][0]),
            "kind": "practice",
            "logged_at": now,
            "sent_at": now,
            "handling": {"pull": "full"},
            "x_mm": 12.5,
            "y_mm": -40.0,
            "amount": 4.0,
        }
        return self.tablet.put(f"/api/trials/{uuid4()}", json=body).status_code


def main() -> None:
    """Measure and print the JSON lines, or measure CPU for another process."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    parser.add_argument("--against", type=Path)
    parser.add_argument("--trials", action="store_true", help="for a process of --against")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        room = make_room(Path(name))
        if given.trials:
            answer_turns(room)
            return
        measure_counts(room)
        rounds = 4 if given.short else 15
        measure_cpu(room, Path(name), rounds)
        if given.against is not None:
            measure_against(given.against, rounds)
        room.store.close()


def make_room(folder: Path) -> Room:
    """Return a room whose group has some trials and is on the ladder."""
    settings = settings_from({"JOURNAL_INSTANCE": str(folder)})
    store = Store(settings.database_url)
    migrate.upgrade(store.engine)
    now, token = datetime.now(UTC), uuid4().hex
    with open_work(store, OPERATOR) as work:
        classroom = make_classroom(work.session, now)
        sign_ins.add_sign_in(work.session, hash_token(token), classroom.tablets[0], now)
    app = create_app(settings, store)
    app.config.update(WTF_CSRF_ENABLED=False)
    tablet = app.test_client()
    tablet.set_cookie("journal_sign_in", token)
    room = Room(store, classroom, tablet)
    for _ in range(TRIALS_BEFORE):
        assert room.put_trial() == 201
    tablet.get(f"{room.home}/trials/new")
    tablet.post(f"{room.home}/ladder")
    return room


def measure_counts(room: Room) -> None:
    """Print statements and functions of each journey; the page before an answer is not counted."""
    sent = {"rung": "notice", "words": ""}
    answers = f"{room.home}/ladder/answers"
    journeys: dict[str, Callable[[], object]] = {
        "trial": room.put_trial,
        "log_page": lambda: room.tablet.get(f"{room.home}/trials/new"),
        "ladder_answer_refused": lambda: room.tablet.post(answers, data=sent),
        "ladder_answer": lambda: room.tablet.post(answers, data=sent | {"words": "It is low."}),
    }
    for name, run in journeys.items():
        statements, functions = count(room, run)
        tell(
            f"statements_{name}", len(statements), "statements",
            limit=MOST_STATEMENTS[name], goal=1.0, more_is_better=False,
            functions=len(functions), calls=sum(functions.values()),
        )  # fmt: skip


def count(room: Room, run: Callable[[], object]) -> tuple[list[str], dict[str, int]]:
    """Return the statements sent and how often each function of the journal was entered."""
    statements: list[str] = []
    entered: dict[str, int] = {}

    def note(*args: Any) -> None:
        if not str(args[2]).startswith(("BEGIN", "COMMIT", "ROLLBACK", "PRAGMA")):
            statements.append(str(args[2]))

    def enter(frame: FrameType, event: str, arg: object) -> None:
        del arg
        code = frame.f_code
        if event == "call" and code.co_filename.startswith(OURS) and code.co_name[0] != "<":
            name = f"{code.co_filename}:{code.co_qualname}"
            entered[name] = entered.get(name, 0) + 1

    sa.event.listen(room.store.engine, "before_cursor_execute", note)
    sys.setprofile(enter)
    try:
        run()
    finally:
        sys.setprofile(None)
        sa.event.remove(room.store.engine, "before_cursor_execute", note)
    return statements, entered


def measure_cpu(room: Room, folder: Path, rounds: int) -> None:
    """Print the CPU of a trial beside that of the bare handler."""
    bare = bare_app(folder).test_client()
    body = {"student_id": str(uuid4()), "x_mm": 12.5, "handling": {"pull": "full"}}
    trials, limits = [], []
    for _ in range(rounds):
        limits.append(cpu_ms(lambda: bare.put(f"/{uuid4()}", json=body)))
        trials.append(cpu_ms(room.put_trial))
    tell(
        "cpu_of_a_trial", statistics.median(trials), "ms",
        limit=statistics.median(limits), goal=CPU_GOAL, more_is_better=False,
    )  # fmt: skip


def cpu_ms(run: Callable[[], object], times: int = 40) -> float:
    """Return the CPU time that one run takes."""
    start = time.process_time()
    for _ in range(times):
        run()
    return (time.process_time() - start) / times * 1000


def bare_app(folder: Path) -> Flask:
    """Return the least that keeps a trial in Flask: parse, insert, commit."""
    app = Flask("bare")
    connection = sqlite3.connect(folder / "bare.sqlite3", isolation_level=None)
    for pragma in ("journal_mode=WAL", "synchronous=FULL"):
        connection.execute(f"PRAGMA {pragma}")
    connection.execute("CREATE TABLE trials (id TEXT PRIMARY KEY, body TEXT NOT NULL)")

    @app.put("/<uuid:trial_id>")
    def put(trial_id: object) -> tuple[dict[str, object], int]:
        body: dict[str, object] = request.get_json()
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO trials VALUES (?, ?)", (str(trial_id), str(body)))
        connection.execute("COMMIT")
        return body, 201

    return app


def measure_against(other: Path, rounds: int) -> None:
    """Print the CPU of a trial here beside that in another copy of the journal."""
    here = Path(__file__).parents[2]
    measured: list[list[float]] = [[], []]
    processes = [
        subprocess.Popen(
            [sys.executable, __file__, "--trials"],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(folder)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for folder in (here, other.resolve())
    ]
    for turn in range(rounds + 1):
        for process, values in zip(processes, measured, strict=True):
            assert process.stdin is not None
            assert process.stdout is not None
            process.stdin.write("\n")
            process.stdin.flush()
            value = float(process.stdout.readline())
            if turn:  # The first one makes ready.
                values.append(value)
    for process in processes:
        process.communicate()
    now, before = map(statistics.median, measured)
    tell("cpu_against", now, "ms", limit=before, goal=AGAINST_GOAL, more_is_better=False)


def answer_turns(room: Room) -> None:
    """Measure each time that a line comes in, and print the CPU of a trial."""
    for _ in sys.stdin:
        print(round(cpu_ms(room.put_trial), 4), flush=True)  # noqa: T201 - for the other process


if __name__ == "__main__":
    main()
