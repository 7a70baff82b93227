"""How long forty tablets wait to log a trial in three minutes of a lesson, and its memory.

Each tablet puts a trial every 5 s, two screens ask for the class overview as
`static/scripts/overview.js` does (every 2 s, with the mark and the order that they have). A real
waitress in a process of its own. The limit is what a child does not notice, 300 ms for 95 of 100
trials; before it the same tablets put to a bare handler (`trial_logging`) for a while, since how
busy the machine is falls on both. Memory is what the server holds (VmRSS) after the first half
minute, half way and at the end. Run: python -m tests.bench.tablets [--short]
"""

from __future__ import annotations

import argparse
import html
import http.client
import json
import random
import re
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlencode
from uuid import UUID, uuid4

from journal.domain.settings import settings_from
from journal.store import classes
from journal.store.engine import Store
from tests.bench.lines import tell
from tests.bench.portfolio_prints import sign_the_teacher_in
from tests.bench.trial_logging import fill, open_page

EVERY_S = 5.0
ASK_EVERY_S = 2.0
SCREENS = 2
LIMIT_MS = 300.0
#: How much more memory the server may hold at the end than half way.
MOST_GROWTH = 1.1


def main() -> None:
    """Measure and print the JSON lines."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    short = parser.parse_args().short
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        tablets = fill(folder)
        cookie = sign_the_teacher_in(folder)
        class_id = _class_of(folder)
        with serving("journal", folder) as (port, pid), serving("bare", folder) as (bare_port, _):
            ways = [open_page(port, tablet) for tablet in tablets]
            bare = Lesson(10.0 if short else 30.0)
            bare.hold(bare_port, ways)
            lesson = Lesson(20.0 if short else 180.0)
            lesson.hold(port, ways, cookie=cookie, class_id=class_id, pid=pid)
    p50, p95, p99 = (share(lesson.waits, part) for part in (0.5, 0.95, 0.99))
    tell(
        "tablets", p95, "ms", limit=LIMIT_MS, goal=1.0, more_is_better=False,
        p50=round(p50, 1), p99=round(p99, 1), longest=round(max(lesson.waits), 1),
        trials=len(lesson.waits), bare_p50=round(share(bare.waits, 0.5), 1),
        bare_p95=round(share(bare.waits, 0.95), 1), bare_p99=round(share(bare.waits, 0.99), 1),
        overview_p95=round(share(lesson.looks, 0.95), 1), overviews=len(lesson.looks),
    )  # fmt: skip
    start, middle, end = lesson.memory_mb
    tell(
        "tablets_memory", end, "MB", limit=middle, goal=MOST_GROWTH, more_is_better=False,
        start=round(start, 1),
    )  # fmt: skip


def share(waits: list[float], part: float) -> float:
    """Return within how many ms so great a part was answered."""
    ordered = sorted(waits)
    return ordered[min(len(ordered) - 1, int(part * len(ordered)))]


class Lesson:
    """Some time of a lesson, and what was measured in it."""

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._over = threading.Event()
        self._faults: list[str] = []
        #: How long a trial and an overview took, in ms.
        self.waits: list[float] = []
        self.looks: list[float] = []
        #: After a sixth of the time, half way, and at the end.
        self.memory_mb: list[float] = []

    def hold(
        self,
        port: int,
        ways: list[tuple[str, dict[str, str]]],
        *,
        cookie: str = "",
        class_id: UUID | None = None,
        pid: int | None = None,
    ) -> None:
        """Let all of them work until the time is over."""
        threads = [threading.Thread(target=self._put, args=(port, *way)) for way in ways]
        if class_id is not None:
            address = f"/classes/{class_id}/overview/now"
            threads += [
                threading.Thread(target=self._look, args=(port, address, cookie))
                for _ in range(SCREENS)
            ]
        for thread in threads:
            thread.start()
        for part in (1 / 6, 1 / 3, 1 / 2):
            time.sleep(self._seconds * part)
            if pid is not None:
                self.memory_mb.append(memory_mb(pid))
        self._over.set()
        for thread in threads:
            thread.join()
        assert not self._faults, self._faults[:3]

    def _put(self, port: int, body: str, headers: dict[str, str]) -> None:
        self._over.wait(random.random() * EVERY_S)
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        while not self._over.is_set():
            now = datetime.now(UTC).isoformat()
            sent = json.dumps(json.loads(body) | {"logged_at": now, "sent_at": now})
            began = time.perf_counter()
            connection.request("PUT", f"/api/trials/{uuid4()}", sent, headers)
            answer = connection.getresponse()
            text = answer.read()
            if answer.status != http.client.CREATED:
                self._faults.append(f"{answer.status}: {text[:200]!r}")
            self.waits.append(1000 * (time.perf_counter() - began))
            self._over.wait(EVERY_S * (0.9 + random.random() * 0.2))
        connection.close()

    def _look(self, port: int, address: str, cookie: str) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        mark, query = "", ""
        while not self._over.wait(ASK_EVERY_S * (0.9 + random.random() * 0.1)):
            asked = {"Cookie": cookie} | ({"If-None-Match": mark} if mark else {})
            began = time.perf_counter()
            connection.request("GET", f"{address}?{query}", headers=asked)
            answer = connection.getresponse()
            text = answer.read().decode()
            self.looks.append(1000 * (time.perf_counter() - began))
            if answer.status == http.client.OK:
                mark = answer.headers["ETag"]
                found = re.search(r'data-shown="([^"]*)" data-since="([^"]*)"', text)
                assert found is not None
                shown, since = map(html.unescape, found.groups())
                query = urlencode({"shown": shown, "since": since})
            elif answer.status != http.client.NOT_MODIFIED:
                self._faults.append(f"{answer.status}: {text[:200]!r}")
        connection.close()


def memory_mb(pid: int) -> float:
    """Return what a process holds in memory."""
    status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    found = re.search(r"^VmRSS:\s+(\d+) kB", status, re.MULTILINE)
    assert found is not None
    return int(found.group(1)) / 1024


@contextmanager
def serving(side: str, folder: Path) -> Iterator[tuple[int, int]]:
    """Start one side in a process of its own; give its port and process."""
    command = [sys.executable, "-m", "tests.bench.trial_logging", "--serve", side]
    with subprocess.Popen(
        [*command, "--folder", str(folder)], stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        try:
            yield int(process.stdout.readline()), process.pid
        finally:
            process.terminate()


def _class_of(folder: Path) -> UUID:
    store = Store(settings_from({"JOURNAL_INSTANCE": str(folder)}).database_url)
    with store.open_session(writing=False) as session:
        (school_class,) = classes.all_classes(session)
    store.close()
    return school_class.id


if __name__ == "__main__":
    main()
