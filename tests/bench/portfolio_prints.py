"""How long tablets wait to log a trial while eight portfolios are printed.

Forty tablets put a trial every 2 s each; then the teacher asks for the portfolios of all eight
groups at once. The limit is a server that prints in its request threads, as the journal once did;
both run in processes of their own, one after the other in one run.
Run: python -m tests.bench.portfolio_prints [--short]
"""

from __future__ import annotations

import argparse
import http.client
import json
import logging
import random
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

from flask import Response
from waitress import create_server

from journal.app import create_app
from journal.domain.actors import Actor, Role
from journal.domain.settings import settings_from
from journal.jobs.dispatcher import Dispatcher
from journal.jobs.portfolios import print_portfolio
from journal.jobs.prints import PRINTS, PrintFolder
from journal.portfolio.gathering import gather_portfolio
from journal.services.sign_ins import hash_token
from journal.store import classes, sign_ins
from journal.store.engine import Store
from journal.web.request_work import request_work
from tests.bench.trial_logging import THREADS, fill, open_page

EVERY_S = 2.0
SIDES = ("requests", "jobs")
GOAL = 0.25
_LONGEST_S = 300.0


def main() -> None:
    """Measure and print one JSON line, or serve one of the two sides for it."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    parser.add_argument("--serve", choices=SIDES)
    parser.add_argument("--folder", type=Path)
    given = parser.parse_args()
    if given.serve:
        serve(given.serve, given.folder)
        return
    figures = {side: measure(side, groups=3 if given.short else 8) for side in SIDES}
    ratio = figures["jobs"]["p95"] / figures["requests"]["p95"]
    line = {
        "name": "portfolio_prints", "value": figures["jobs"]["p95"], "unit": "ms",
        "limit": figures["requests"]["p95"], "ratio": round(ratio, 3), "goal": GOAL,
        "holds": ratio <= GOAL, **figures,
    }  # fmt: skip
    print(json.dumps(line))  # noqa: T201 (its one line is what it is for)


def measure(side: str, *, groups: int) -> dict[str, float]:
    """Return what the tablets waited, in ms, and how long the prints took, in s."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        tablets = fill(folder)
        cookie = sign_the_teacher_in(folder)
        homes = sorted({tablet["page"].removesuffix("/trials/new") for tablet in tablets})
        with serving(side, folder) as port:
            ways = [open_page(port, tablet) for tablet in tablets]
            waits: list[float] = []
            over, prints = threading.Event(), threading.Event()
            putting = [
                threading.Thread(target=_put_all, args=(port, way, waits, prints, over))
                for way in ways
            ]
            for thread in putting:
                thread.start()
            # So that there is something to print.
            time.sleep(3 * EVERY_S)
            began = time.perf_counter()
            prints.set()
            printing = [
                threading.Thread(target=_print, args=(port, home, cookie))
                for home in homes[:groups]
            ]
            for thread in printing:
                thread.start()
            for thread in printing:
                thread.join()
            took_s = time.perf_counter() - began
            over.set()
            for thread in putting:
                thread.join()
    waits.sort()
    return {
        **{
            f"p{share}": round(1000 * waits[min(len(waits) - 1, len(waits) * share // 100)], 1)
            for share in (50, 95, 99)
        },
        "longest": round(1000 * waits[-1], 1),
        "trials": len(waits),
        "printed_s": round(took_s, 1),
    }


def serve(side: str, folder: Path) -> None:
    """Serve one side on a free port and print the port."""
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    settings = settings_from({"JOURNAL_INSTANCE": str(folder)})
    store = Store(settings.database_url)
    dispatcher = Dispatcher(store, PrintFolder(folder / PRINTS))
    app = create_app(settings, store, call_dispatcher=dispatcher.call)
    if side == "requests":
        app.view_functions["portfolios.show_portfolio"] = _print_in_the_request
    server = create_server(app, host="127.0.0.1", port=0, threads=THREADS)
    print(server.effective_port, flush=True)  # noqa: T201 (told to the measuring process)
    with dispatcher.running():
        server.run()


def _print_in_the_request(group_id: UUID) -> Response:
    with request_work() as work:
        page = gather_portfolio(work, group_id)
    return Response(print_portfolio(page), mimetype="application/pdf")


@contextmanager
def serving(side: str, folder: Path) -> Iterator[int]:
    """Start one side in a process of its own and give its port."""
    command = [sys.executable, "-m", "tests.bench.portfolio_prints", "--serve", side]
    process = subprocess.Popen(
        [*command, "--folder", str(folder)], stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        yield int(process.stdout.readline())
    finally:
        process.terminate()
        process.communicate()


def sign_the_teacher_in(folder: Path) -> str:
    """Return the cookie of a teacher who is signed in."""
    store, token = Store(settings_from({"JOURNAL_INSTANCE": str(folder)}).database_url), uuid4().hex
    with store.open_session(writing=True) as session:
        (school_class,) = classes.all_classes(session)
        teacher = Actor(
            role=Role.TEACHER,
            school_id=school_class.school_id,
            teacher_id=school_class.teacher_id,
        )
        sign_ins.add_sign_in(session, hash_token(token), teacher, datetime.now(UTC))
    store.close()
    return f"journal_sign_in={token}"


def _put_all(
    port: int,
    way: tuple[str, dict[str, str]],
    waits: list[float],
    prints: threading.Event,
    over: threading.Event,
) -> None:
    body, headers = way
    over.wait(random.random() * EVERY_S)
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
    while not over.is_set():
        sent: dict[str, Any] = json.loads(body)
        sent["logged_at"] = datetime.now(UTC).isoformat()
        began, counts = time.perf_counter(), prints.is_set()
        connection.request("PUT", f"/api/trials/{uuid4()}", json.dumps(sent), headers)
        answer = connection.getresponse()
        text = answer.read()
        assert answer.status == http.client.CREATED, text[:300]
        if counts:
            waits.append(time.perf_counter() - began)
        over.wait(EVERY_S * (0.9 + random.random() * 0.1))
    connection.close()


def _print(port: int, home: str, cookie: str) -> None:
    """Ask for a portfolio and wait until it is there, as its page does."""
    ends = time.perf_counter() + _LONGEST_S
    address = f"{home}/portfolio.pdf"
    while time.perf_counter() < ends:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
        connection.request("GET", address, headers={"Cookie": cookie})
        answer = connection.getresponse()
        kind = answer.headers.get("Content-Type")
        answer.read()
        connection.close()
        if kind == "application/pdf":
            return
        assert answer.status == http.client.SEE_OTHER, answer.status
        address = f"{home}/portfolio.pdf?last=yes"
        time.sleep(1.0)
    message = f"{home} is not printed in {_LONGEST_S} s"
    raise RuntimeError(message)


if __name__ == "__main__":
    main()
