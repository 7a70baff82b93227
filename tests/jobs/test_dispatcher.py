"""Jobs done by real children: what comes of them, whatever is killed or changed meanwhile."""

from __future__ import annotations

import io
import os
import time
from datetime import timedelta
from pathlib import Path

import pypdf
import pytest

from journal.content.messages import word_message
from journal.domain.jobs import KEPT_FOR, LEASE, MOST_ATTEMPTS, Job, JobState
from journal.domain.stages import NoteEntry, NoteKind
from journal.jobs.children import TOO_LARGE
from journal.jobs.dispatcher import CUT_OFF, TOO_LONG, Dispatcher
from journal.jobs.print_child import DISK_FULL
from journal.records.work import open_work
from journal.services.portfolios import ask_for_print, cancel_print, find_print
from journal.services.sessions import end_session
from journal.services.stages import keep_note
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import tell_story
from tests.jobs.printing import do_all, new_dispatcher
from tests.services.trial_entries import entry_of, log

LATE_THOUGHT = NoteEntry(kind=NoteKind.PROBLEM, words="A late thought.")


class Desk:
    """A teacher who asks for prints, and the dispatcher that makes them."""

    def __init__(self, store: Store, clock: StandingClock, room: Classroom, folder: Path) -> None:
        """Begin with nothing printed."""
        self.store, self.clock, self.room, self.folder = store, clock, room, folder

    def dispatcher(self, **limits: float) -> Dispatcher:
        """Return a new dispatcher, as after a start of the server."""
        return new_dispatcher(self.store, self.folder, self.clock, **limits)  # type: ignore[arg-type]

    def asks(self, group: int = 0) -> None:
        """Ask for a group's portfolio."""
        with open_work(self.store, self.room.teacher, clock=self.clock) as work:
            ask_for_print(work, self.room.group_ids[group])

    def job(self, group: int = 0) -> Job:
        """Return what was asked for last."""
        with open_work(self.store, self.room.teacher, writing=False, clock=self.clock) as work:
            found = find_print(work, self.room.group_ids[group]).last
        assert found is not None
        return found

    def files(self) -> list[str]:
        """Return the names in the folder of prints."""
        return sorted(path.name for path in self.folder.iterdir()) if self.folder.exists() else []

    def text(self) -> str:
        """Return the words of the only print."""
        (path,) = self.folder.glob("*.pdf")
        reader = pypdf.PdfReader(io.BytesIO(path.read_bytes()))
        return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


@pytest.fixture
def desk(store: Store, clock: StandingClock, classroom: Classroom, tmp_path: Path) -> Desk:
    """Return the desk of a class with a trial."""
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    return Desk(store, clock, classroom, tmp_path / "prints")


def test_a_portfolio_is_printed_in_a_child(
    store: Store, clock: StandingClock, classroom: Classroom, tmp_path: Path
) -> None:
    """The group's words stand in a file that only its owner may read; nothing else is left."""
    tell_story(store, clock, classroom)
    desk = Desk(store, clock, classroom, tmp_path / "prints")
    desk.asks()
    assert 1 == do_all(desk.dispatcher())
    job = desk.job()
    assert (JobState.DONE, 100, 1) == (job.state, job.percent, job.attempts)
    assert [f"{job.id}.pdf"] == desk.files()
    assert 0o700 == desk.folder.stat().st_mode & 0o777
    assert 0o600 == (desk.folder / f"{job.id}.pdf").stat().st_mode & 0o777
    assert "A rail that pushes straight." in desk.text()


def test_one_child_in_a_lesson_and_one_a_core_otherwise(desk: Desk) -> None:
    """Two groups: one after the other while children work, side by side when they do not."""
    for group in (0, 1):
        desk.asks(group)
    assert 1 == do_all(desk.dispatcher())
    with open_work(desk.store, desk.room.teacher, clock=desk.clock) as work:
        end_session(work, desk.room.session_id)
    for group in (0, 1):
        desk.asks(group)
    assert 2 == do_all(desk.dispatcher())


def test_the_print_carries_what_was_logged_when_it_began(desk: Desk) -> None:
    """What changes meanwhile stands in the next one, and the first one says that it is behind."""
    desk.asks()
    dispatcher = desk.dispatcher()
    dispatcher.step()
    (child,) = dispatcher.children
    ends = time.monotonic() + 60
    while not child.percent and time.monotonic() < ends:
        child.listen()
        time.sleep(0.02)
    with open_work(desk.store, desk.room.tablets[0], clock=desk.clock) as work:
        keep_note(work, desk.room.group_ids[0], LATE_THOUGHT)
    do_all(dispatcher)
    with open_work(desk.store, desk.room.teacher, writing=False, clock=desk.clock) as work:
        found = find_print(work, desk.room.group_ids[0])
    assert JobState.DONE is desk.job().state
    assert "A late thought." not in desk.text()
    assert not found.is_unchanged
    desk.asks()
    do_all(desk.dispatcher())
    assert "A late thought." in desk.text()


def test_a_killed_child_is_begun_again(desk: Desk) -> None:
    """Once is made up for; each time in turn ends with a sentence, and trying again works."""
    desk.asks()
    dispatcher = desk.dispatcher()
    dispatcher.step()
    dispatcher.children[0].process.kill()
    do_all(dispatcher)
    assert (JobState.DONE, 2) == (desk.job().state, desk.job().attempts)

    desk.asks()
    for _ in range(MOST_ATTEMPTS):
        dispatcher.step()
        (child,) = dispatcher.children
        child.process.kill()
        child.process.wait()
        dispatcher._look_after(child)
    assert (JobState.FAILED, word_message(CUT_OFF)) == (desk.job().state, desk.job().problem)
    desk.asks()
    do_all(dispatcher)
    assert JobState.DONE is desk.job().state
    assert 1 == len(desk.files())


def test_another_server_goes_on_where_one_was_killed(desk: Desk) -> None:
    """Nobody renews its lease: when that is over, the next server prints."""
    desk.asks()
    gone = desk.dispatcher()
    gone.step()
    (child,) = gone.children
    next_one = desk.dispatcher()
    assert 0 == do_all(next_one)
    # A killed process leaves an end of the pipe behind that says so.
    assert child.process.stdin is not None
    child.process.stdin.close()
    assert 1 == child.process.wait(timeout=60)
    desk.clock.move(seconds=LEASE.total_seconds() + 1)
    do_all(next_one)
    assert (JobState.DONE, 2) == (desk.job().state, desk.job().attempts)
    assert [f"{desk.job().id}.pdf"] == desk.files()
    child.clear()


def test_a_server_that_stops_gives_its_job_back(desk: Desk) -> None:
    """No child is left running, and the next start begins at once."""
    desk.asks()
    stopped = desk.dispatcher()
    with stopped.running():
        ends = time.monotonic() + 60
        while not stopped.children and time.monotonic() < ends:
            time.sleep(0.01)
        (child,) = stopped.children
    assert child.process.returncode is not None
    if desk.job().state is not JobState.DONE:
        assert (JobState.QUEUED, 0) == (desk.job().state, desk.job().attempts)
    do_all(desk.dispatcher())
    assert JobState.DONE is desk.job().state


def test_a_cancelled_print_ends_its_child(desk: Desk) -> None:
    """Nothing of it is left in the folder."""
    desk.asks()
    dispatcher = desk.dispatcher()
    dispatcher.step()
    (child,) = dispatcher.children
    with open_work(desk.store, desk.room.teacher, clock=desk.clock) as work:
        cancel_print(work, desk.room.group_ids[0])
    dispatcher._renew()
    assert (child.process.returncode, dispatcher.children) == (-9, [])
    assert JobState.CANCELLED is desk.job().state
    assert [] == desk.files()


def test_a_print_cancelled_at_the_last_moment_leaves_nothing(desk: Desk) -> None:
    """The child is done already when the teacher cancels."""
    desk.asks()
    dispatcher = desk.dispatcher()
    dispatcher.step()
    dispatcher.children[0].process.wait(timeout=120)
    with open_work(desk.store, desk.room.teacher, clock=desk.clock) as work:
        cancel_print(work, desk.room.group_ids[0])
    do_all(dispatcher)
    assert JobState.CANCELLED is desk.job().state
    assert [] == desk.files()


@pytest.mark.parametrize(
    ("limits", "told"),
    [({"seconds": 0.0}, word_message(TOO_LONG)), ({"memory_mb": 240}, word_message(TOO_LARGE))],
)
def test_a_child_has_limits(desk: Desk, limits: dict[str, float], told: str) -> None:
    """Of time and of memory: the teacher reads which one, and that there is another way."""
    desk.asks()
    do_all(desk.dispatcher(**limits))
    assert (JobState.FAILED, told) == (desk.job().state, desk.job().problem)
    assert [] == desk.files()


def test_a_full_disk_is_told(desk: Desk) -> None:
    """The file cannot be written; /dev/full answers as a full disk does."""
    desk.asks()
    desk.folder.mkdir()
    (desk.folder / f"{desk.job().id}.1.part").symlink_to("/dev/full")
    do_all(desk.dispatcher())
    assert (JobState.FAILED, word_message(DISK_FULL)) == (desk.job().state, desk.job().problem)
    assert [] == desk.files()
    desk.asks()
    do_all(desk.dispatcher())
    assert JobState.DONE is desk.job().state


@pytest.mark.failures
def test_a_folder_that_cannot_be_made_is_told(desk: Desk) -> None:
    """Something else lies in its place: a sentence instead of a thread that ends."""
    desk.folder.write_text("a file")
    desk.asks()
    do_all(desk.dispatcher())
    assert JobState.FAILED is desk.job().state
    assert "not a directory" in desk.job().problem or "file exists" in desk.job().problem


def test_a_child_that_cannot_begin_is_told(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """The journal's own program is damaged: the attempts end, with a sentence for the teacher."""
    broken = _broken_python(desk.folder.parent)
    monkeypatch.setattr("journal.jobs.children.sys.executable", str(broken))
    desk.asks()
    do_all(desk.dispatcher())
    assert (JobState.FAILED, word_message(CUT_OFF)) == (desk.job().state, desk.job().problem)


def _broken_python(folder: Path) -> Path:
    """Return a program that ends at once, as a Python does whose modules are gone."""
    path = folder / "python"
    path.write_text("#!/bin/sh\nexit 1\n")
    path.chmod(0o755)
    return path


def test_prints_go_when_replaced_or_old(desk: Desk) -> None:
    """One file a group; none after some days; what no job knows of is swept away."""
    for _ in range(2):
        desk.asks()
        do_all(desk.dispatcher())
        assert [f"{desk.job().id}.pdf"] == desk.files()
    (desk.folder / "left-behind.3.part").write_bytes(b"%PDF")
    desk.clock.time += KEPT_FOR - timedelta(minutes=1)
    do_all(desk.dispatcher())
    assert [f"{desk.job().id}.pdf"] == desk.files()
    desk.clock.time += timedelta(minutes=2)
    do_all(desk.dispatcher())
    assert [] == desk.files()


def test_a_child_gives_way_to_tablets(desk: Desk) -> None:
    """Its priority is below that of the server, in the same session."""
    desk.asks()
    dispatcher = Dispatcher(desk.store, desk.dispatcher()._prints, clock=desk.clock)
    dispatcher.step()
    (child,) = dispatcher.children
    below = os.getpriority(os.PRIO_PROCESS, child.process.pid) - os.getpriority(os.PRIO_PROCESS, 0)
    session = os.getsid(child.process.pid)
    child.end()
    # The lowest priority there is has 19, and these tests may run with a low one themselves.
    assert min(10, 19 - os.getpriority(os.PRIO_PROCESS, 0)) == below
    assert os.getsid(0) == session
