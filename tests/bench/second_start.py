"""How soon the journal answers when it is started again, beside the least that a server takes.

`journal serve` on a journal with a class of forty, started once before; measured from the start of
its process to the first answer of /healthz. The limit is a process that imports the same libraries
and serves one page of a bare Flask application by waitress. In turns; the least of several counts,
because everything else the machine does only adds.
Run: python -m tests.bench.second_start [--short]
"""

from __future__ import annotations

import argparse
import http.client
import os
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.lines import tell
from tests.bench.trial_logging import fill

#: What it was when it was first measured, and a tenth more.
GOAL = 3.4
#: A machine that tests may be told to leave nothing behind.
_NOT_COMPILED = {"PYTHONDONTWRITEBYTECODE"}
BARE = """
import sys
import flask, sqlalchemy.orm, marshmallow, flask_smorest, waitress
app = flask.Flask("bare")
app.get("/healthz")(lambda: "well")
waitress.serve(app, host="127.0.0.1", port=int(sys.argv[1]))
"""


def main() -> None:
    """Measure and print one JSON line."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    rounds = 2 if parser.parse_args().short else 6
    journal_s, bare_s = [], []
    with tempfile.TemporaryDirectory() as name:
        fill(Path(name))
        # A first start leaves compiled modules behind, here where they are in nobody's way.
        compiled = str(Path(name) / "compiled")
        environment = {key: os.environ[key] for key in os.environ if key not in _NOT_COMPILED}
        environment |= {"PYTHONPYCACHEPREFIX": compiled, "JOURNAL_DEMO": "no"}
        for _ in range(rounds + 1):
            port = _find_port()
            serve = ["-m", "journal", "serve", "--host", "127.0.0.1", "--port", str(port)]
            journal_s.append(_start([*serve, "--instance", name], port, environment))
            port = _find_port()
            bare_s.append(_start(["-c", BARE, str(port)], port, environment))
    tell(
        "second_start", min(journal_s[1:]), "s",
        limit=min(bare_s[1:]), goal=GOAL, more_is_better=False, first=round(journal_s[0], 2),
    )  # fmt: skip


def _start(arguments: list[str], port: int, environment: dict[str, str]) -> float:
    """Return the seconds until a server answers, and end it."""
    began = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env=environment,
    ) as process:
        try:
            while not _answers(port):
                assert process.poll() is None, f"it ended with {process.returncode}"
                time.sleep(0.01)
            return time.perf_counter() - began
        finally:
            process.terminate()


def _answers(port: int) -> bool:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    try:
        connection.request("GET", "/healthz")
        return connection.getresponse().status == http.client.OK
    except OSError:
        return False
    finally:
        connection.close()


def _find_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
        return port


if __name__ == "__main__":
    main()
