"""Journal and database server are killed while tablets log: nothing acknowledged is lost.

A kill leaves what the system had taken to write, so this cannot tell a commit that waits for the
disk from one that does not; that is what `journal serve` asks the server at its start.
"""

from __future__ import annotations

import http.client
import json
import random
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID, uuid4

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.services.sign_ins import hash_token
from journal.store import sign_ins, trials
from journal.store.engine import Store
from tests.bench.trial_logging import open_page
from tests.factories.classrooms import Classroom, make_classroom
from tests.postgresql import Server
from tests.races.serving import Serving, serving

TABLETS = 8
GROUPS = tuple(tuple(f"Child {group}{letter}" for letter in "abc") for group in range(TABLETS))
KILLS = ("journal", "server", "both")
#: What a tablet was told that it is in: added, or there already.
TAKEN = {http.client.CREATED, http.client.OK}


@dataclass
class Tablet:
    """A tablet that logs without an end and sends again whatever was not answered."""

    port: int
    body: str
    headers: dict[str, str]
    answered: list[UUID] = field(default_factory=list)
    sent: list[UUID] = field(default_factory=list)
    strange: list[int] = field(default_factory=list)

    def log_until(self, over: threading.Event) -> None:
        """Put trial after trial; the last one may stay without an answer."""
        while not over.is_set():
            trial_id = uuid4()
            self.sent.append(trial_id)
            while not over.is_set():
                status = self._put(trial_id)
                if status in TAKEN:
                    self.answered.append(trial_id)
                    break
                if status not in {None, http.client.SERVICE_UNAVAILABLE}:
                    self.strange.append(status)
                time.sleep(0.05)

    def _put(self, trial_id: UUID) -> int | None:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        try:
            connection.request("PUT", f"/api/trials/{trial_id}", self.body, self.headers)
            answer = connection.getresponse()
            answer.read()
        except (OSError, http.client.HTTPException):
            return None
        finally:
            connection.close()
        return answer.status


def _fill(url: str) -> tuple[Classroom, list[dict[str, str]]]:
    """Make a class of eight groups; return what the tablet of each one sends, and its sign-in."""
    store, now = Store(url), datetime.now(UTC)
    with open_work(store, OPERATOR) as work:
        room = make_classroom(work.session, now, nicknames=GROUPS)
        sending = []
        for group, actor in enumerate(room.tablets):
            token = uuid4().hex
            sign_ins.add_sign_in(work.session, hash_token(token), actor, now)
            body = {
                "revision_ids": [str(one) for one in room.revisions_for(group, 0)],
                "student_id": str(room.student_ids[group][0]),
                "kind": "practice",
                "logged_at": now.isoformat(),
                "x_mm": 12.5,
                "y_mm": -40.0,
            }
            page = f"/groups/{room.group_ids[group]}/trials/new"
            sending.append({"token": token, "page": page, "body": json.dumps(body)})
    store.close()
    return room, sending


@contextmanager
def _logging(tablets: list[Tablet]) -> Iterator[None]:
    over = threading.Event()
    threads = [threading.Thread(target=tablet.log_until, args=(over,)) for tablet in tablets]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        over.set()
        for thread in threads:
            thread.join()


def _kill_and_start(what: str, served: Serving, server: Server) -> None:
    kills: dict[str, tuple[Callable[[], None], ...]] = {
        "journal": (served.kill,),
        "server": (server.kill,),
        "both": (server.kill, served.kill),
    }
    for kill in kills[what]:
        kill()
    if what != "journal":
        server.start()
    if what != "server":
        served.start()


def test_nothing_acknowledged_is_lost(safe_server: Server, tmp_path: Path) -> None:
    """Eight tablets log through three kills: each answered trial is there once, and whole."""
    url, chance = safe_server.make_database(), random.Random(5)
    room, sending = _fill(url)
    with serving(tmp_path / "instance", url) as served:
        served.start()
        ways = [open_page(served.port, one) for one in sending]
        tablets = [Tablet(served.port, body, headers) for body, headers in ways]
        with _logging(tablets):
            for what in KILLS:
                before = sum(len(tablet.answered) for tablet in tablets)
                time.sleep(chance.uniform(0.3, 1.0))
                _kill_and_start(what, served, safe_server)
                end = time.monotonic() + 20
                # Each tablet goes on afterwards.
                while sum(len(tablet.answered) for tablet in tablets) < before + 2 * TABLETS:
                    assert time.monotonic() < end, f"nothing is taken after a kill of {what}"
                    time.sleep(0.05)
    answered = [trial_id for tablet in tablets for trial_id in tablet.answered]
    sent = {trial_id for tablet in tablets for trial_id in tablet.sent}
    store = Store(url)
    with store.open_session(writing=False) as session:
        found = trials.trials_of_groups(session, room.group_ids, [room.session_id])
    store.close()

    assert [] == [status for tablet in tablets for status in tablet.strange]
    assert len(answered) == len(set(answered))
    assert set() == set(answered) - {one.id for one in found}
    assert {one.id for one in found} <= sent
    assert {2} == {len(one.revision_ids) for one in found}
