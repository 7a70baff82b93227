"""`journal serve` on a PostgreSQL database, in a process of its own that may be killed."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

LONGEST_START_S = 60


@dataclass
class Serving:
    """A served journal: its folder, its database, its port, and its process while it runs."""

    instance: Path
    database_url: str
    port: int
    process: subprocess.Popen[str] | None = None

    def start(self, **environ: str) -> None:
        """Start it and wait until it is ready."""
        self.process = subprocess.Popen(
            [sys.executable, "-m", "journal", "serve"],
            env={**os.environ, **self._environ(), **environ},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        end = time.monotonic() + LONGEST_START_S
        while not self._is_ready():
            assert self.process.poll() is None, "the journal ended by itself"
            assert time.monotonic() < end, "the journal is not ready"
            time.sleep(0.05)

    def try_to_start(self) -> subprocess.CompletedProcess[str]:
        """Start it where it is to refuse, and return what it said."""
        return subprocess.run(
            [sys.executable, "-m", "journal", "serve"],
            env={**os.environ, **self._environ()},
            capture_output=True,
            text=True,
            check=False,
            timeout=LONGEST_START_S,
        )

    def kill(self) -> None:
        """End it at once, in the middle of whatever it does."""
        if self.process is not None:
            self.process.kill()
            self.process.wait()

    def _environ(self) -> dict[str, str]:
        return {
            "JOURNAL_INSTANCE": str(self.instance),
            "JOURNAL_DATABASE_URL": self.database_url,
            "JOURNAL_HOST": "127.0.0.1",
            "JOURNAL_PORT": str(self.port),
        }

    def _is_ready(self) -> bool:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{self.port}/healthz", timeout=2):
                return True
        except OSError:
            return False


@contextmanager
def serving(instance: Path, database_url: str) -> Iterator[Serving]:
    """Give a journal that is not started yet, on a free port; it is ended afterwards."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    served = Serving(instance, database_url, port)
    try:
        yield served
    finally:
        served.kill()
