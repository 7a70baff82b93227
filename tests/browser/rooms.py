"""A room for a whole lesson: the real command serving on a free port, with one teacher."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.request import urlopen

PASSWORD = "seven green windows"
SIGN_IN_NAME = "reed"
_PATIENCE_S = 60


@contextmanager
def open_server(instance: Path) -> Iterator[str]:
    """Serve a journal with one teacher and nothing else; yield its address."""
    environ = dict(os.environ, JOURNAL_INSTANCE=str(instance))
    command = [sys.executable, "-m", "journal"]
    # A journal is begun by its tables; no other command makes one.
    teacher = ("teacher", "add", SIGN_IN_NAME, "--shown-name", "Ms Reed")
    for words in (("database", "new"), teacher):
        subprocess.run(
            [*command, *words],
            input=f"{PASSWORD}\n",
            text=True,
            env=environ,
            check=True,
            capture_output=True,
        )
    port = _free_port()
    server = subprocess.Popen(
        [*command, "serve", "--host", "127.0.0.1", "--port", str(port)],
        env=environ,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        address = f"http://127.0.0.1:{port}"
        _wait_for(server, address)
        yield address
    finally:
        # A server left behind on its port would let later tests pass in vain.
        server.kill()
        server.communicate()


def _free_port() -> int:
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        port: int = listening.getsockname()[1]
        return port


def _wait_for(server: subprocess.Popen[str], address: str) -> None:
    until = time.monotonic() + _PATIENCE_S
    while time.monotonic() < until:
        if server.poll() is not None:
            told = server.stdout.read() if server.stdout else ""
            raise AssertionError(f"The server ended at once: {told}")
        try:
            with urlopen(f"{address}/healthz", timeout=2) as answer:
                if answer.status == 200:
                    return
        except OSError:
            time.sleep(0.1)
    raise AssertionError(f"No answer from {address} in {_PATIENCE_S} s")
