"""Reading goes on where nothing can be written: the disk is full, or another program writes."""

from __future__ import annotations

import html
import os
import re
import shutil
import sqlite3
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from uuid import uuid4

import pytest
import sqlalchemy as sa
from flask.testing import FlaskClient

from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

#: A page that waits for a writer takes five seconds.
PROMPT_S = 2.5
PROBLEM_JSON = "application/problem+json"


@contextmanager
def another_program_writes(store: Store) -> Iterator[None]:
    """Hold the lock of the database file, as an import at the terminal does."""
    with closing(sqlite3.connect(str(store.url.database), isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


def _read_all(teacher: FlaskClient, tablet: FlaskClient, room: Classroom) -> list[tuple[int, bool]]:
    """Load pages of teacher and tablet; return the status of each and whether it came promptly."""
    group, lesson = room.group_ids[0], room.session_id
    pages = [
        (teacher, "/classes"),
        (teacher, f"/classes/{room.class_id}"),
        (teacher, f"/classes/{room.class_id}/overview"),
        (teacher, f"/classes/{room.class_id}/overview/now"),
        (teacher, f"/sessions/{lesson}"),
        (teacher, f"/groups/{group}/journal"),
        (tablet, f"/groups/{group}/journal"),
        (tablet, f"/groups/{group}/trials/new"),
        (teacher, f"/groups/{group}/findings"),
        (teacher, f"/api/groups/{group}/findings"),
    ]
    told = []
    for browser, page in pages:
        started = time.monotonic()
        answer = browser.get(page)
        told.append((answer.status_code, time.monotonic() - started < PROMPT_S))
    return told


def _put_trial(tablet: FlaskClient, room: Classroom, clock: StandingClock) -> tuple[int, str]:
    body = {
        "revision_ids": [str(one) for one in room.revisions_for(0, 0)],
        "student_id": str(room.student_ids[0][0]),
        "kind": "practice",
        "logged_at": clock().isoformat(),
        "x_mm": 10.0,
        "y_mm": -5.0,
    }
    answer = tablet.put(f"/api/trials/{uuid4()}", json=body)
    return answer.status_code, answer.mimetype


def test_reading_waits_for_no_writer(
    store: Store,
    clock: StandingClock,
    teacher: FlaskClient,
    tablet: FlaskClient,
    classroom: Classroom,
) -> None:
    """Every page comes at once while another program holds the file; an entry gets 503."""
    if not store.is_sqlite:
        pytest.skip("a server has no file to hold; its turns are tested in tests/races")
    promptly = [(200, True)] * len(_read_all(teacher, tablet, classroom))
    clock.move(minutes=2)
    with another_program_writes(store):
        assert promptly == _read_all(teacher, tablet, classroom)
        assert (503, PROBLEM_JSON) == _put_trial(tablet, classroom, clock)
    assert (201, "application/json") == _put_trial(tablet, classroom, clock)


def test_a_form_can_be_sent_again_as_it_was_written(
    store: Store, teacher: FlaskClient, nobody: FlaskClient
) -> None:
    """The page that says "nothing was kept" holds what was written; a password it never holds."""
    if not store.is_sqlite:
        pytest.skip("a server has no file to hold; its turns are tested in tests/races")
    name = 'Seven "B" & co'
    form = {"name": name, "band": "6-8", "language": "en", "retention_date": "2030-07-01"}
    with another_program_writes(store):
        told = teacher.post("/classes/new?from=list", data=form)
        secret = nobody.post("/teacher", data={"sign_in_name": "demo", "password": "oak and elm"})
    assert [503] * 2 == [told.status_code, secret.status_code]
    assert 'action="/classes/new?from=list"' in told.text
    held = re.findall(r'type="hidden" name="(?!csrf)(\w+)" value="([^"]*)"', told.text)
    assert form == {key: html.unescape(value) for key, value in held}
    assert "What you wrote is still here." not in secret.text
    assert "oak and elm" not in secret.text
    kept = teacher.post("/classes/new", data={key: html.unescape(one) for key, one in held})
    assert 303 == kept.status_code
    assert html.escape(name, quote=False).split()[0] in teacher.get("/classes").text


def test_a_lane_that_could_not_be_closed_is_to_be_closed_by_voice(
    store: Store, teacher: FlaskClient, classroom: Classroom
) -> None:
    """By the switch or by a near-miss; to open it, the lines are ticked anew."""
    if not store.is_sqlite:
        pytest.skip("a server has no file to hold; its turns are tested in tests/races")
    session, group = f"/sessions/{classroom.session_id}", f"/groups/{classroom.group_ids[0]}"
    with another_program_writes(store):
        for sent in (f"{session}/lane/close", f"{group}/near-misses"):
            told = teacher.post(sent)
            assert 503 == told.status_code
            assert "close it by voice now" in told.text
            assert "What you wrote is still here." in told.text
        opened = teacher.post(f"{session}/gate", data={"checks": ["goggles"]})
        assert 503 == opened.status_code
        assert "What you wrote is still here." not in opened.text


def test_writers_that_wait_leave_threads_to_read_with(
    store: Store, clock: StandingClock, tablet: FlaskClient, classroom: Classroom
) -> None:
    """Of eight writers, one waits for the other program; the rest are told so and go."""
    if not store.is_sqlite:
        pytest.skip("a server has no file to hold; its turns are tested in tests/races")
    _put_trial(tablet, classroom, clock)
    start, took = threading.Barrier(8), []

    def put(browser: FlaskClient) -> int:
        start.wait()
        started = time.monotonic()
        status, _ = _put_trial(browser, classroom, clock)
        took.append(time.monotonic() - started)
        return status

    browsers = [_copy(tablet) for _ in range(8)]
    with another_program_writes(store), ThreadPoolExecutor(8) as pool:
        assert [503] * 8 == list(pool.map(put, browsers))
        assert 1 == sum(one > PROMPT_S for one in took), took
        took.clear()
        # Now it is known that another program writes, and nobody waits any longer.
        assert [503] * 8 == list(pool.map(put, browsers))
        assert not [one for one in took if one > PROMPT_S]
    assert 201 == _put_trial(tablet, classroom, clock)[0]


def _copy(browser: FlaskClient) -> FlaskClient:
    copy = browser.application.test_client()
    cookie = browser.get_cookie("journal_sign_in")
    assert cookie is not None
    copy.set_cookie(cookie.key, cookie.value)
    return copy


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """Return a disk of 2 MB: a real one where the tests may mount, else none."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mounted = (
        os.geteuid() == 0
        and subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", folder],
            check=False,
            capture_output=True,
        ).returncode
        == 0
    )
    yield folder
    if mounted:
        subprocess.run(["umount", "--lazy", folder], check=True)


@pytest.fixture
def store(store: Store, disk: Path, request: pytest.FixtureRequest) -> Iterator[Store]:
    """Return the usual store; for a test of a full disk one whose file lies on the small disk."""
    if "fill_disk" not in request.fixturenames:
        yield store
        return
    if not store.is_sqlite:
        pytest.skip("a server has a disk of its own")
    path = disk / "journal.sqlite3"
    shutil.copyfile(str(store.url.database), path)
    small = Store(f"sqlite:///{path}")
    yield small
    small.close()


@pytest.fixture
def fill_disk(store: Store, disk: Path) -> Callable[[], None]:
    """Return a function that leaves no room on the disk."""

    def fill() -> None:
        if os.path.ismount(disk):
            with suppress(OSError), (disk / "photos").open("wb", buffering=0) as file:
                while True:
                    file.write(bytes(4096))
        else:

            @sa.event.listens_for(store.engine, "begin")
            def leave_no_page(connection: sa.Connection) -> None:
                # The largest size that SQLite takes is the present one.
                connection.exec_driver_sql("PRAGMA max_page_count=1")

    return fill


def test_reading_goes_on_with_a_full_disk(
    store: Store,
    clock: StandingClock,
    teacher: FlaskClient,
    tablet: FlaskClient,
    classroom: Classroom,
    fill_disk: Callable[[], None],
    caplog: pytest.LogCaptureFixture,
) -> None:
    """Pages come, for hours; entries get 507 in the one shape, and the log one line."""
    promptly = [(200, True)] * len(_read_all(teacher, tablet, classroom))
    fill_disk()
    assert {(507, PROBLEM_JSON)} == {_put_until_refused(tablet, classroom, clock)}
    for _ in range(4):
        # Twice the time after which an unused sign-in ends.
        clock.move(minutes=45)
        assert promptly == _read_all(teacher, tablet, classroom)
        assert (507, PROBLEM_JSON) == _put_trial(tablet, classroom, clock)
    assert 1 == len([line for line in caplog.messages if "disk is full" in line])
    assert not [record for record in caplog.records if record.exc_info]


def _put_until_refused(
    tablet: FlaskClient, room: Classroom, clock: StandingClock
) -> tuple[int, str]:
    """Log until there is no room in the pages that the database has already."""
    for _ in range(400):
        answer = _put_trial(tablet, room, clock)
        if answer[0] != 201:
            return answer
    return answer
