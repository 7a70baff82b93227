"""The portfolio from the teacher's browser: asked for, waited for, opened."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest
from flask.testing import FlaskClient

from journal.domain.errors import DiskFull
from journal.jobs.prints import PRINTS
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import tell_story
from tests.jobs.printing import do_all, new_dispatcher
from tests.services.trial_entries import entry_of, log


class Desk:
    """The teacher's browser at a group's portfolio."""

    def __init__(
        self,
        teacher: FlaskClient,
        store: Store,
        clock: StandingClock,
        room: Classroom,
        folder: Path,
    ) -> None:
        """Ask for nothing yet."""
        self.teacher, self.store, self.clock, self.room = teacher, store, clock, room
        self.folder = folder
        self.home = f"/groups/{room.group_ids[0]}/portfolio"

    def asks(self) -> str:
        """Tap "Portfolio"; return the page that it leads to."""
        answer = self.teacher.get(f"{self.home}.pdf", follow_redirects=True)
        assert (200, "text/html") == (answer.status_code, answer.mimetype)
        return answer.text

    def sees(self) -> str:
        """Return the page of the print."""
        answer = self.teacher.get(self.home)
        assert 200 == answer.status_code
        return answer.text

    def prints(self, **limits: float) -> None:
        """Let the dispatcher do what waits."""
        do_all(new_dispatcher(self.store, self.folder, self.clock, **limits))  # type: ignore[arg-type]


@pytest.fixture
def desk(
    teacher: FlaskClient,
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    instance: Path,
) -> Desk:
    """Return the desk of a class with a trial."""
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    return Desk(teacher, store, clock, classroom, instance / PRINTS)


def _link(page: str) -> str:
    found = re.search(r'href="([^"]+portfolio\.pdf[^"]*)"', page)
    assert found is not None
    return found.group(1).replace("&amp;", "&")


def test_the_teacher_gets_a_pdf(
    teacher: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom, instance: Path
) -> None:
    """One tap, a page that waits, and a PDF that opens, with the group's own words in it."""
    story = tell_story(store, clock, classroom)
    desk = Desk(teacher, store, clock, classroom, instance / PRINTS)
    waits = desk.asks()
    assert "is being made" in waits
    # Without a script the page loads itself anew; with one it asks each second.
    assert '<noscript><meta http-equiv="refresh" content="3"></noscript>' in waits
    assert 'hx-trigger="every 1s"' in waits
    desk.prints()
    ready = desk.sees()
    assert "is ready" in ready
    assert "http-equiv" not in ready
    assert "hx-trigger" not in ready
    for address in (_link(ready), f"/groups/{story.group_id}/portfolio.pdf"):
        answer = teacher.get(address)
        assert (200, "application/pdf") == (answer.status_code, answer.mimetype)
        named = answer.headers["Content-Disposition"]
        assert named.startswith("inline; filename=portfolio-1-")
    pages = pypdf.PdfReader(io.BytesIO(answer.data)).pages
    assert "A rail that pushes straight." in " ".join(page.extract_text() for page in pages)


def test_no_request_waits_for_paper(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is rendered in a request, however often the page is asked."""

    def render(*_: object) -> bytes:
        raise AssertionError

    monkeypatch.setattr("journal.printing.papers.print_paper", render)
    monkeypatch.setattr("journal.jobs.portfolios.print_portfolio", render)
    for _ in range(3):
        assert "is being made" in desk.asks()


def test_what_has_not_changed_is_there_at_once(desk: Desk) -> None:
    """And after a trial it is printed anew, while the one before can still be opened."""
    desk.asks()
    desk.prints()
    first = desk.teacher.get(f"{desk.home}.pdf")
    assert "application/pdf" == first.mimetype
    log(desk.store, desk.clock, desk.room.tablets[0], entry_of(desk.room, desk.clock))
    behind = desk.sees()
    assert "Something has changed in the class since it was begun." in behind
    assert "Print it as it is now" in behind
    waits = desk.asks()
    assert "is being made" in waits
    assert first.data == desk.teacher.get(_link(waits)).data
    desk.prints()
    assert first.data != desk.teacher.get(f"{desk.home}.pdf").data


def test_a_page_that_asks_by_itself_hears_only_what_is_new(desk: Desk) -> None:
    """204 while nothing has changed, then the part of the page that did."""
    mark = re.search(r"seen=(\w+)", desk.asks())
    assert mark is not None
    address = f"{desk.home}?seen={mark.group(1)}"
    assert 204 == desk.teacher.get(address).status_code
    desk.prints()
    news = desk.teacher.get(address)
    assert 200 == news.status_code
    assert news.text.lstrip().startswith('<section id="print"')
    assert "is ready" in news.text


def test_what_could_not_be_printed_is_told_and_tried_again(desk: Desk) -> None:
    """The sentence says why; the button begins it anew."""
    desk.asks()
    desk.prints(seconds=0.0)
    stopped = desk.sees()
    assert "could not be printed" in stopped
    assert "It took longer than one print may take." in stopped
    assert "Try again" in stopped
    assert 303 == desk.teacher.post(desk.home).status_code
    assert "is being made" in desk.sees()
    desk.prints()
    assert "is ready" in desk.sees()


def test_a_print_can_be_cancelled(desk: Desk) -> None:
    """Then nothing is made until it is asked for again."""
    desk.asks()
    assert 303 == desk.teacher.post(f"{desk.home}/cancel").status_code
    assert "was cancelled" in desk.sees()
    desk.prints()
    assert "Print the portfolio" in desk.sees()
    assert not list(desk.folder.glob("*"))


def test_a_print_whose_file_is_gone_is_made_again(desk: Desk) -> None:
    """A restored copy of the journal has the rows and not the files."""
    desk.asks()
    desk.prints()
    for path in desk.folder.iterdir():
        path.unlink()
    assert "There is no print" in desk.sees()
    assert "is being made" in desk.asks()
    desk.prints()
    assert "application/pdf" == desk.teacher.get(f"{desk.home}.pdf").mimetype


def test_the_line_is_told(desk: Desk) -> None:
    """How many prints are before this one."""
    desk.asks()
    other = desk.teacher.get(
        f"/groups/{desk.room.group_ids[1]}/portfolio.pdf", follow_redirects=True
    )
    assert "One print is before it." in other.text


def test_a_full_disk_refuses_a_new_print_in_words(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The row cannot be kept: 507, and what was printed before can still be opened."""
    desk.asks()
    desk.prints()
    log(desk.store, desk.clock, desk.room.tablets[0], entry_of(desk.room, desk.clock))

    def is_full(*_: object, **__: object) -> None:
        raise DiskFull

    monkeypatch.setattr("journal.store.jobs.add_job", is_full)
    assert 507 == desk.teacher.get(f"{desk.home}.pdf").status_code
    assert "application/pdf" == desk.teacher.get(f"{desk.home}.pdf?last=yes").mimetype


def test_a_tablet_gets_none(tablet: FlaskClient, classroom: Classroom) -> None:
    """The portfolio is printed by the teacher."""
    answer = tablet.get(f"/groups/{classroom.group_ids[0]}/portfolio.pdf")
    assert 403 == answer.status_code
