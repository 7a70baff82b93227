"""The dispatcher: claims jobs from the table and looks after the children that do them.

One thread of the server. Each turn hears the children, renews the leases, and starts as many
children as the lesson leaves room for. Whatever is killed, the row of the job says the truth: a
lease that nobody renews ends, and the job is begun again.
"""

from __future__ import annotations

import logging
import math
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from functools import partial
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from journal import __version__
from journal.analysis.failures import note_failure
from journal.content.messages import word_message
from journal.domain.errors import NotKept
from journal.domain.jobs import KEPT_FOR, LEASE, MOST_ATTEMPTS, Job
from journal.domain.messages import Message, Words
from journal.jobs.children import TOO_LARGE, Child, Limits, start_child
from journal.jobs.prints import PrintFolder
from journal.records.work import Clock, clock_of_the_machine
from journal.store import job_leases, jobs, sessions
from journal.store.engine import Store

CUT_OFF = Message("prints.printing_was_cut_off_times", most_attempts=MOST_ATTEMPTS)
TOO_LONG = Message("prints.it_took_longer_than_one_print_may_take")
#: How the libraries of fonts and pages end a process that gets no memory.
_OWN_ENDS = frozenset({-signal.SIGABRT, -signal.SIGTRAP})
#: On PostgreSQL dispatchers wait for each other, and hold up no school.
_TURN = UUID(int=1)
_BUSY_S, _IDLE_S, _AFTER_FAILURE_S = 0.1, 0.5, 2.0
_RENEW_EVERY_S = LEASE.total_seconds() / 5
_SWEEP_EVERY_S = 30.0
_LOG_EVERY_S = 60.0
_log = logging.getLogger("journal.jobs")


class Dispatcher:
    """Does the jobs of a store; `run` it in a thread of its own."""

    def __init__(
        self,
        store: Store,
        prints: PrintFolder,
        *,
        clock: Clock = clock_of_the_machine,
        limits: Limits | None = None,
        cores: int | None = None,
    ) -> None:
        """Begin nothing yet."""
        self.owner = uuid4()
        self.children: list[Child] = []
        self._store, self._prints, self._clock = store, prints, clock
        self._limits = limits or Limits()
        self._cores = cores or len(os.sched_getaffinity(0))
        self._called, self._is_over = threading.Event(), threading.Event()
        self._renewed_s = self._swept_s = self._logged_s = -math.inf

    def call(self) -> None:
        """Have it look at once whether there is something to do."""
        self._called.set()

    @contextmanager
    def running(self) -> Iterator[None]:
        """Do jobs in a thread until the end; what is begun then is done at the next start."""
        thread = threading.Thread(target=self._run, name="jobs", daemon=True)
        thread.start()
        try:
            yield
        finally:
            self._is_over.set()
            self.call()
            thread.join()

    def step(self) -> None:
        """Do whatever is to be done now; never wait for a child."""
        for child in list(self.children):
            self._look_after(child)
        if time.monotonic() - self._renewed_s > (_RENEW_EVERY_S if self.children else _IDLE_S):
            self._renew()
        if time.monotonic() - self._swept_s > _SWEEP_EVERY_S:
            self._sweep()
        while (job := self._claim()) is not None:
            self._start(job)

    def _run(self) -> None:
        while not self._is_over.is_set():
            pause_s = _BUSY_S if self.children else _IDLE_S
            if not self._does(self.step):
                pause_s = _AFTER_FAILURE_S
            self._called.wait(pause_s)
            self._called.clear()
        for child in self.children:
            child.end()
            self._does(partial(self._give_back, child.job, uncounted=True))

    def _does(self, act: Callable[[], object]) -> bool:
        """Do something, and go on whatever becomes of it: nobody would start this thread again."""
        try:
            act()
        except NotKept as error:
            if time.monotonic() - self._logged_s > _LOG_EVERY_S:
                self._logged_s = time.monotonic()
                _log.error("Printing waits: the database did not answer as it should (%s)", error)
            return False
        except Exception as error:  # noqa: BLE001 - it is logged with its places
            note_failure("the jobs", error)
            return False
        return True

    def _start(self, job: Job) -> None:
        url = self._store.url.render_as_string(hide_password=False)
        try:
            part = self._prints.begin(job.id, job.attempts)
            self.children.append(start_child(job, part, url, self._limits))
        except OSError as error:
            self._give_up(job, _tell(error))

    def _look_after(self, child: Child) -> None:
        has_ended = child.has_ended
        child.listen()
        if has_ended:
            self._end(child)
        elif child.is_late:
            child.process.kill()
            child.answer = {"problem": word_message(TOO_LONG)}

    def _end(self, child: Child) -> None:
        """Note what came of a child's job."""
        job, answer = child.job, child.answer
        if answer is None and child.process.returncode in _OWN_ENDS:
            self._give_up(job, TOO_LARGE)
        elif answer is None:
            # It was killed, by a person or because the whole machine wants memory.
            self._give_back(job)
        elif "problem" in answer:
            self._give_up(job, answer["problem"])
        else:
            self._finish(child, answer["class_version"])
        child.clear()
        self.children.remove(child)

    def _finish(self, child: Child, class_version: int) -> None:
        # First the file, then the word that it is there: cut off between, it is printed again.
        try:
            if child.part.exists():
                self._prints.keep(child.part, child.job.id)
        except OSError as error:
            self._give_up(child.job, _tell(error))
            return
        with self._writing() as session:
            is_ours = job_leases.finish(
                session,
                child.job.id,
                self.owner,
                at=self._clock(),
                class_version=class_version,
                edition=__version__,
            )
            if is_ours:
                jobs.remove_replaced(session, child.job)
        # With the row its file goes, and that of a print that was cancelled at the last moment.
        self._remove_files()

    def _give_up(self, job: Job, problem: Words) -> None:
        with self._writing() as session:
            job_leases.give_up(
                session, job.id, self.owner, at=self._clock(), problem=word_message(problem)
            )

    def _give_back(self, job: Job, *, uncounted: bool = False) -> None:
        with self._writing() as session:
            job_leases.give_back(session, job.id, self.owner, uncounted=uncounted)
            job_leases.give_up_all(session, self._clock(), word_message(CUT_OFF))

    def _renew(self) -> None:
        """Keep the leases, and end the children of jobs that are no longer ours."""
        self._renewed_s = time.monotonic()
        if not self.children:
            return
        with self._store.open_session(writing=False) as session:
            held = job_leases.find_held(session, self.owner)
        for child in [child for child in self.children if child.job.id not in held]:
            child.end()
            self.children.remove(child)
        if self.children:
            percents = {child.job.id: child.percent for child in self.children}
            with self._writing() as session:
                job_leases.renew(session, self.owner, percents, self._clock())

    def _claim(self) -> Job | None:
        now = self._clock()
        with self._store.open_session(writing=False) as session:
            if not job_leases.is_waiting(session, now):
                return None
            most = 1 if sessions.is_any_running(session) else self._cores
        if len(self.children) >= most:
            return None
        with self._writing() as session:
            return job_leases.claim(session, self.owner, now)

    def _sweep(self) -> None:
        """Remove what is old, and end what was cut off too often."""
        self._swept_s, now = time.monotonic(), self._clock()
        with self._writing() as session:
            job_leases.give_up_all(session, now, word_message(CUT_OFF))
            jobs.remove_ended(session, now - KEPT_FOR)
        self._remove_files()

    def _remove_files(self) -> None:
        with self._store.open_session(writing=False) as session:
            kept = jobs.ids_with_files(session)
        try:
            self._prints.remove_all_but(kept)
        except OSError as error:
            # What is left over can be removed another time; what waits is printed now.
            note_failure("old prints", error)

    def _writing(self) -> AbstractContextManager[Session]:
        return self._store.open_session(writing=True, turn=_TURN)


def _tell(error: OSError) -> Message:
    return Message(
        "prints.print_cannot_be_begun_or_kept", reason=(error.strerror or str(error)).lower()
    )
