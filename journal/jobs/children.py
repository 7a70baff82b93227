"""One job in a process of its own: started, listened to, ended.

The child has a low priority, so that no tablet waits for paper, and limits of memory and time. The
order goes in by its standard input, whose end tells it that the server is gone; what it says comes
out as lines of JSON.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from journal.domain.jobs import Job
from journal.domain.messages import Message

#: Of a busy processor it gets a tenth of what a process of usual priority, which has 0, gets.
NICENESS = 10
#: A portfolio of some hundred trials takes 2 s and 150 MB.
LONGEST_S = 300.0
MOST_MEMORY_MB = 1_500

TOO_LARGE = Message("prints.it_needs_more_memory_than_one_print_may")


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What a child may take."""

    seconds: float = LONGEST_S
    memory_mb: int = MOST_MEMORY_MB
    niceness: int = NICENESS


@dataclass(slots=True)
class Child:
    """A process that does one job."""

    job: Job
    part: Path
    process: subprocess.Popen[bytes]
    ends_at_s: float
    percent: int = 0
    #: Its last word: what it made, or why it could not; None while it works or where it was killed.
    answer: dict[str, Any] | None = None
    _heard: bytes = field(default=b"")

    def listen(self) -> None:
        """Take in what the child has said since."""
        assert self.process.stdout is not None  # noqa: S101 (made with a pipe)
        while read := self.process.stdout.read():
            self._heard += read
        *lines, self._heard = self._heard.split(b"\n")
        for line in lines:
            said: dict[str, Any] = json.loads(line)
            self.percent = said.get("percent", self.percent)
            if "percent" not in said:
                self.answer = said

    @property
    def has_ended(self) -> bool:
        """Return whether the process is gone."""
        return self.process.poll() is not None

    @property
    def is_late(self) -> bool:
        """Return whether its time is over."""
        return time.monotonic() > self.ends_at_s

    def end(self) -> None:
        """End it at once and take away what it has written."""
        with contextlib.suppress(ProcessLookupError):
            self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self.clear()

    def clear(self) -> None:
        """Close its pipes and take away what it has written."""
        for pipe in (self.process.stdin, self.process.stdout):
            if pipe is not None:
                with contextlib.suppress(BrokenPipeError):
                    pipe.close()
        self.part.unlink(missing_ok=True)


def start_child(job: Job, part: Path, database_url: str, limits: Limits) -> Child:
    """Start a process for a job that writes its file to `part`."""
    process = subprocess.Popen(
        [sys.executable, "-m", "journal.jobs.print_child"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        # Ctrl and C at the terminal is for the server, which then ends its children. It stays in
        # the same session: between sessions Linux may share out the processor without priorities.
        process_group=0,
        # One thread is what its share of the machine is for.
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )
    with contextlib.suppress(ProcessLookupError):
        os.setpriority(os.PRIO_PROCESS, process.pid, limits.niceness)
    order = {
        "database_url": database_url,
        "school_id": str(job.school_id),
        "teacher_id": str(job.teacher_id),
        "class_id": str(job.class_id),
        "group_id": str(job.group_id),
        "challenge_id": str(job.challenge_id),
        "part": str(part),
        "memory_mb": limits.memory_mb,
    }
    assert process.stdin is not None  # noqa: S101 (made with pipes)
    assert process.stdout is not None  # noqa: S101 (as above)
    os.set_blocking(process.stdout.fileno(), False)
    with contextlib.suppress(BrokenPipeError):
        process.stdin.write(json.dumps(order).encode() + b"\n")
        process.stdin.flush()
    return Child(job=job, part=part, process=process, ends_at_s=time.monotonic() + limits.seconds)
