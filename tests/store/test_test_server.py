"""The tests' own PostgreSQL server leaves nothing behind, however the tests end."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
HOLD = """
import time
from tests.postgresql import running_server
with running_server() as server:
    print(server.process.pid, server.folder, flush=True)
    time.sleep(60)
"""
LONGEST_END_S = 15


def _runs(pid: int) -> bool:
    try:
        status = Path(f"/proc/{pid}/status").read_text("ascii")
    except (FileNotFoundError, ProcessLookupError):
        return False
    return "State:\tZ" not in status


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGKILL])
def test_the_server_ends_with_its_tests(ending: signal.Signals) -> None:
    """At Ctrl and C the server and its folder go; where the tests are killed the server goes."""
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    assert holder.stdout is not None
    pid_text, folder = holder.stdout.readline().split()
    pid = int(pid_text)
    assert os.stat(f"/proc/{pid}").st_uid != 0, "the server runs as root"  # noqa: PTH116
    assert _runs(pid)

    holder.send_signal(ending)
    holder.communicate()
    end = time.monotonic() + LONGEST_END_S
    while _runs(pid) and time.monotonic() < end:
        time.sleep(0.05)

    assert not _runs(pid)
    if ending is signal.SIGINT:
        assert not Path(folder).exists()
    else:
        subprocess.run(["rm", "-r", folder], check=True)
