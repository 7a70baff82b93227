"""How soon forty tablets see that the lane was closed, while each of them logs trials as well.

A real waitress in a process of its own; each tablet asks as `static/scripts/lane.js` does (every
2 s less up to a tenth, with the mark it knows) and logs a trial after every answer. The lane is
closed and opened in the journal's database by turns; a tablet has seen a change when the answer
has arrived. The limit is the 3 s within which 95 of 100 tablets are to see it.
Run: python -m tests.bench.lane_polling [--short]
"""

from __future__ import annotations

import argparse
import http.client
import json
import random
import tempfile
import threading
import time
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import sqlalchemy as sa

from journal.domain.sessions import LAUNCHING_CHECKS, CloseReason, Gate
from journal.domain.settings import settings_from
from journal.store import sessions
from journal.store.engine import Store
from tests.bench.trial_logging import fill, open_page, serving

EVERY_S = 2.0
LIMIT_S = 3.0
SHARE = 0.95


@dataclass
class Seen:
    """What a tablet heard: each state with its moment, and answers that should not have come."""

    moments: list[dict[str, float]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def main() -> None:
    """Measure and print one JSON line."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    waits = measure(changes=2 if parser.parse_args().short else 8)
    line = {
        "name": "lane_polling", "value": round(share(waits, SHARE), 2), "unit": "s",
        "longest": round(waits[-1], 2), "tablets_times_changes": len(waits), "limit": LIMIT_S,
        "ratio": round(share(waits, SHARE) / LIMIT_S, 3), "holds": share(waits, SHARE) <= LIMIT_S,
    }  # fmt: skip
    print(json.dumps(line))  # noqa: T201 (its one line is what it is for)


def share(waits: list[float], of_all: float) -> float:
    """Return within how many seconds so great a share has seen it."""
    return waits[min(len(waits) - 1, int(of_all * len(waits)))]


def measure(*, changes: int) -> list[float]:
    """Return how long each tablet took to see each change, shortest first."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        tablets = fill(folder)
        store = Store(settings_from({"JOURNAL_INSTANCE": name}).database_url)
        with store.open_session(writing=False) as session:
            row = session.execute(sa.select(sessions.GateRow)).scalar_one()
            school_id, session_id, teacher_id = row.school_id, row.session_id, row.teacher_id
        stop = threading.Event()
        with serving("journal", folder) as port:
            seen = [Seen() for _ in tablets]
            threads = [
                threading.Thread(target=_be_a_tablet, args=(port, tablet, one, stop))
                for tablet, one in zip(tablets, seen, strict=True)
            ]
            for thread in threads:
                thread.start()
            time.sleep(2 * EVERY_S)
            told: list[tuple[str, float]] = []
            for turn in range(changes):
                state = "open" if turn % 2 else "closed"
                _turn(store, state, (school_id, session_id, teacher_id))
                told.append((state, time.perf_counter()))
                time.sleep(2 * LIMIT_S + random.random())
            stop.set()
            for thread in threads:
                thread.join()
        store.close()
    faults = [fault for one in seen for fault in one.faults]
    assert not faults, faults[:3]
    return sorted(
        _first(one, state, at, told[turn + 1][1] if turn + 1 < changes else float("inf")) - at
        for one in seen
        for turn, (state, at) in enumerate(told)
    )


def _turn(store: Store, state: str, ids: tuple[UUID, UUID, UUID]) -> None:
    school_id, session_id, teacher_id = ids
    now = datetime.now(UTC)
    with store.open_session(writing=True) as session:
        if state == "closed":
            sessions.close_lane(session, session_id, now, CloseReason.TEACHER)
        else:
            gate = Gate(opened_at=now, teacher_id=teacher_id, checks=LAUNCHING_CHECKS)
            sessions.add_gate(session, school_id, session_id, gate)


def _first(one: Seen, state: str, at: float, until: float) -> float:
    """Return when a tablet saw a change; one that missed it has seen it never."""
    found = (heard[state] for heard in one.moments if state in heard and at < heard[state] < until)
    return min(found, default=float("inf"))


def _be_a_tablet(port: int, tablet: dict[str, Any], seen: Seen, stop: threading.Event) -> None:
    time.sleep(random.random() * EVERY_S)
    body, headers = open_page(port, tablet)
    address = tablet["page"].replace("/trials/new", "/lane")
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    mark = ""
    while not stop.is_set():
        asked = {"Cookie": headers["Cookie"], "Accept": "application/json"}
        if mark:
            asked["If-None-Match"] = mark
        connection.request("GET", address, headers=asked)
        answer = connection.getresponse()
        text = answer.read()
        if answer.status == http.client.OK:
            seen.moments.append({json.loads(text)["state"]: time.perf_counter()})
            mark = answer.headers["ETag"]
        elif answer.status != http.client.NOT_MODIFIED:
            seen.faults.append(f"{answer.status}: {text[:200]!r}")
        sent = json.loads(body)
        sent["sent_at"] = sent["logged_at"] = datetime.now(UTC).isoformat()
        connection.request("PUT", f"/api/trials/{uuid4()}", json.dumps(sent), headers)
        answer = connection.getresponse()
        text = answer.read()
        if answer.status != http.client.CREATED:
            seen.faults.append(f"{answer.status}: {text[:200]!r}")
        stop.wait(EVERY_S * (0.9 + random.random() * 0.1))
    connection.close()


if __name__ == "__main__":
    main()
