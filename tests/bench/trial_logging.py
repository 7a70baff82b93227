"""How many trials a second forty tablets log, beside the least that could be done on this machine.

The limit is a bare WSGI handler on the same server: it parses the same JSON and does one durable
INSERT, with one open connection, a lock, and the pragmas of the store. Rounds of the two take
turns, so that whatever else the machine does falls on both.
Run: python -m tests.bench.trial_logging [--short]
"""

from __future__ import annotations

import argparse
import http.client
import json
import logging
import re
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

from waitress import create_server

from journal.app import create_app
from journal.domain.actors import OPERATOR
from journal.domain.settings import settings_from
from journal.records.work import open_work
from journal.services.sign_ins import hash_token
from journal.store import migrate, sign_ins
from journal.store.engine import Store
from tests.factories.classrooms import make_classroom

CLIENTS = 40
THREADS = 8
GOAL = 0.5
GROUPS = tuple(tuple(f"Child {group}{n}" for n in range(5)) for group in range(8))
PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "busy_timeout=5000")


def main() -> None:
    """Measure and print one JSON line, or serve one of the two sides for it."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    parser.add_argument("--serve", choices=("journal", "bare"))
    parser.add_argument("--folder", type=Path)
    given = parser.parse_args()
    if given.serve:
        serve(given.serve, given.folder)
        return
    rounds, seconds = (2, 1.5) if given.short else (5, 4.0)
    rates: dict[str, list[float]] = {"bare": [], "journal": []}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        tablets = fill(folder)
        with serving("journal", folder) as journal_port, serving("bare", folder) as bare_port:
            ways = [open_page(journal_port, tablet) for tablet in tablets]
            for _ in range(rounds):
                rates["bare"].append(put_all(bare_port, ways, seconds))
                rates["journal"].append(put_all(journal_port, ways, seconds))
        check_kept(folder)
    value, limit = (statistics.median(rates[side]) for side in ("journal", "bare"))
    ratio = value / limit
    line = {
        "name": "trial_logging", "value": round(value, 1), "unit": "trials/s",
        "limit": round(limit, 1), "ratio": round(ratio, 3), "goal": GOAL, "holds": ratio >= GOAL,
    }  # fmt: skip
    print(json.dumps(line))  # noqa: T201 (its one line is what it is for)


def fill(folder: Path) -> list[dict[str, Any]]:
    """Make a class of forty and a tablet for each child; return what each one sends."""
    settings = settings_from({"JOURNAL_INSTANCE": str(folder)})
    store = Store(settings.database_url)
    migrate.upgrade(store.engine)
    now, tablets = datetime.now(UTC), []
    with open_work(store, OPERATOR) as work:
        room = make_classroom(work.session, now, nicknames=GROUPS)
        for group, actor in enumerate(room.tablets):
            for child, student_id in enumerate(room.student_ids[group]):
                token = uuid4().hex
                sign_ins.add_sign_in(work.session, hash_token(token), actor, now)
                body = {
                    "revision_ids": [str(one) for one in room.revisions_for(group, child)],
                    "student_id": str(student_id),
                    "kind": "practice",
                    "logged_at": now.isoformat(),
                    "handling": {"pull": "full", "tilt": "mark 3", "hand": "right"},
                    "x_mm": 12.5,
                    "y_mm": -40.0,
                    "amount": 4.0,
                }
                page = f"/groups/{room.group_ids[group]}/trials/new"
                tablets.append({"token": token, "page": page, "body": json.dumps(body)})
    store.close()
    return tablets


def serve(side: str, folder: Path) -> None:
    """Serve one side on a free port and print the port."""
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    app = bare_app(folder) if side == "bare" else journal_app(folder)
    server = create_server(app, host="127.0.0.1", port=0, threads=THREADS)
    print(server.effective_port, flush=True)  # noqa: T201 (told to the measuring process)
    server.run()


def journal_app(folder: Path) -> Callable[..., Iterable[bytes]]:
    """Return the journal as it is served."""
    settings = settings_from({"JOURNAL_INSTANCE": str(folder)})
    return create_app(settings, Store(settings.database_url))


def bare_app(folder: Path) -> Callable[..., Iterable[bytes]]:
    """Return the least that keeps a trial: parse, insert, commit."""
    connection = sqlite3.connect(
        folder / "bare.sqlite3", isolation_level=None, check_same_thread=False
    )
    for pragma in PRAGMAS:
        connection.execute(f"PRAGMA {pragma}")
    connection.execute("CREATE TABLE trials (id TEXT PRIMARY KEY, body TEXT NOT NULL)")
    lock = threading.Lock()

    def answer(environ: dict[str, Any], start_response: Callable[..., object]) -> list[bytes]:
        sent = environ["wsgi.input"].read(int(environ["CONTENT_LENGTH"]))
        body = json.loads(sent)
        trial_id = environ["PATH_INFO"].rpartition("/")[2]
        with lock:
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("INSERT INTO trials VALUES (?, ?)", (trial_id, json.dumps(body)))
            connection.execute("COMMIT")
        start_response("201 Created", [("Content-Type", "application/json")])
        return [sent]

    return answer


@contextmanager
def serving(side: str, folder: Path) -> Iterator[int]:
    """Start one side in a process of its own and give its port."""
    command = [sys.executable, "-m", "tests.bench.trial_logging", "--serve", side]
    process = subprocess.Popen(
        [*command, "--folder", str(folder)], stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        yield int(process.stdout.readline())
    finally:
        process.terminate()
        process.communicate()


def open_page(port: int, tablet: dict[str, Any]) -> tuple[str, dict[str, str]]:
    """Load the page as a tablet does; return the body it sends and the headers that go with it."""
    connection = http.client.HTTPConnection("127.0.0.1", port)
    sign_in = f"journal_sign_in={tablet['token']}"
    connection.request("GET", tablet["page"], headers={"Cookie": sign_in})
    answer = connection.getresponse()
    text = answer.read().decode()
    form = re.match(r"[^;]+", answer.headers["Set-Cookie"])
    token = re.search(r'name="csrf-token" content="([^"]+)"', text)
    assert form is not None
    assert token is not None
    connection.close()
    headers = {
        "Content-Type": "application/json",
        "Cookie": f"{sign_in}; {form.group()}",
        "X-CSRFToken": token.group(1),
    }
    return tablet["body"], headers


def put_all(port: int, ways: list[tuple[str, dict[str, str]]], seconds: float) -> float:
    """Let every client put trials for a while; return how many a second were taken."""
    start = threading.Barrier(len(ways) + 1)
    counts: list[int] = []

    def put(body: str, headers: dict[str, str]) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", port)
        start.wait()
        ends, count = time.perf_counter() + seconds, 0
        while time.perf_counter() < ends:
            connection.request("PUT", f"/api/trials/{uuid4()}", body, headers)
            answer = connection.getresponse()
            text = answer.read()
            if answer.status != http.client.CREATED:
                message = f"{answer.status}: {text[:300]!r}"
                raise RuntimeError(message)
            count += 1
        connection.close()
        counts.append(count)

    threads = [threading.Thread(target=put, args=way) for way in ways]
    for thread in threads:
        thread.start()
    start.wait()
    began = time.perf_counter()
    for thread in threads:
        thread.join()
    assert len(counts) == CLIENTS, "a client gave up"
    return sum(counts) / (time.perf_counter() - began)


def check_kept(folder: Path) -> None:
    """Make sure that both sides kept what they said they had taken."""
    for name in ("journal.sqlite3", "bare.sqlite3"):
        with sqlite3.connect(folder / name) as connection:
            (kept,) = connection.execute("SELECT COUNT(*) FROM trials").fetchone()
        connection.close()
        assert kept > 0, f"{name} kept nothing"


if __name__ == "__main__":
    main()
