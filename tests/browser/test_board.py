"""The board on a projector: what is read from where, and that all of it is there at once."""

from __future__ import annotations

import io
import re

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from journal.domain.actors import OPERATOR, Actor, Role
from journal.domain.sessions import GateCheck
from journal.records.work import open_work
from journal.services.lesson_words import make_lesson_word
from journal.services.sessions import end_session, keep_texts, open_gate, start_session
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.factories.groups import GroupFactory

pytestmark = pytest.mark.browser

WIDTH, HEIGHT = 1280, 720
#: Twelve groups of which one has all names; lines as long as they may be.
NICKNAMES = [("Ada", "Ben", "Cleo")] + [(f"No{number}",) for number in range(11)]
PLAN = "Look at our hits of the week before.\nChange one thing and then test it ok\nClean up"
#: The size of the letters of each text that is seen, with what it says.
SIZES = """() => [...document.querySelectorAll("main *")]
  .filter((part) => [...part.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
  .filter((part) => part.checkVisibility() && !part.closest("svg"))
  .map((part) => [part.className || part.tagName, parseFloat(getComputedStyle(part).fontSize),
                  part.textContent.trim()])"""
LARGE = ("board-word", "board-minutes")


@pytest.fixture
def room(store: Store, clock: StandingClock) -> Classroom:
    """Return a class of twelve groups in a lesson with everything that a board can show."""
    # The names are numbered on over all tests, and a longer one would be cut.
    GroupFactory.reset_sequence(0)
    with open_work(store, OPERATOR, clock=clock) as work:
        made = make_classroom(work.session, clock(), nicknames=NICKNAMES)
    with open_work(store, made.teacher, clock=clock) as work:
        end_session(work, made.session_id)
        started = start_session(
            work, made.class_id, challenge_id=made.challenge_id, distance="2 m", lanes="1"
        )
        open_gate(work, started.id, list(GateCheck))
        make_lesson_word(work, made.class_id)
        keep_texts(work, started.id, PLAN, "")
    return made


@pytest.fixture
def board(room: Classroom, open_tablet: OpenTablet) -> Page:
    """Return the projector."""
    actor = Actor(role=Role.BOARD, school_id=room.school_id, class_id=room.class_id)
    page = open_tablet(actor)
    page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
    page.goto(f"/classes/{room.class_id}/board")
    expect(page.locator("[data-lane=open]")).to_be_visible()
    return page


def test_everything_is_read_from_the_last_row_without_scrolling(board: Page) -> None:
    """Lane, word and minutes are a twelfth of the height, all else a twenty-fifth."""
    sizes = board.evaluate(SIZES)
    large = {name.split()[0]: size for name, size, _ in sizes if name.startswith(LARGE)}
    lane = board.locator(".lane-now span:visible b").evaluate(
        "(part) => parseFloat(getComputedStyle(part).fontSize)"
    )
    assert set(LARGE) == set(large)
    assert min(*large.values(), lane) >= HEIGHT / 12
    assert [] == [text for _, size, text in sizes if size < HEIGHT / 25]
    assert len(sizes) > 20
    shown = board.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.scrollHeight]"
    )
    assert [WIDTH, HEIGHT] == shown


def test_no_two_things_lie_over_each_other(board: Page) -> None:
    """Head, address, word, code, groups, today and lane each have a place of their own."""
    parts = (".board-head", ".where", ".the-word", ".codes", ".who", ".today", ".board-lane")
    boxes = {part: board.locator(part).bounding_box() for part in parts}
    for part, box in boxes.items():
        assert box is not None, part
        for other in parts[parts.index(part) + 1 :]:
            against = boxes[other]
            assert against is not None, other
            apart_across = box["x"] + box["width"] <= against["x"] + 1 or (
                against["x"] + against["width"] <= box["x"] + 1
            )
            apart_down = box["y"] + box["height"] <= against["y"] + 1 or (
                against["y"] + against["height"] <= box["y"] + 1
            )
            assert apart_across or apart_down, (part, other)
    for part in ("li .name", ".today li", ".board-word", ".address"):
        for place in board.locator(part).all():
            assert place.evaluate("(it) => it.scrollWidth <= it.clientWidth + 1"), part


def test_a_square_of_the_code_is_large_enough_for_two_metres(board: Page) -> None:
    """8 px of 720: 8 mm on a picture that is 72 cm high."""
    box = board.locator(".codes svg").first.bounding_box()
    squares = board.locator(".codes svg").first.evaluate("(svg) => svg.viewBox.baseVal.width / 8")
    assert box is not None
    assert box["width"] / squares >= 8


def test_the_place_of_a_group_fills_in_when_its_tablet_comes(
    board: Page, room: Classroom, open_tablet: OpenTablet
) -> None:
    """Dashed before, the group's own pattern after, without anybody loading the page."""
    expect(board.locator("li.in")).to_have_count(0)
    open_tablet(room.tablets[1])
    place = board.locator("li.in")
    expect(place).to_have_count(1)
    expect(place).to_contain_text("2")
    assert "solid" in place.locator(".place").evaluate("(it) => getComputedStyle(it).borderStyle")
    other = board.locator("li.not-yet .place").first
    assert "dashed" in other.evaluate("(it) => getComputedStyle(it).borderStyle")


def test_printed_it_is_one_sheet_with_a_large_code(board: Page) -> None:
    """Address, code and word; a square of the code is 5.8 mm or more."""
    board.emulate_media(media="print")
    board.set_viewport_size({"width": 733, "height": 1062})
    assert board.locator(".address").first.is_visible()
    assert board.locator(".board-word").is_visible()
    assert not board.locator(".room").is_visible()
    box = board.locator(".codes svg").first.bounding_box()
    squares = board.locator(".codes svg").first.evaluate("(svg) => svg.viewBox.baseVal.width / 8")
    assert box is not None
    assert box["width"] / squares / 96 * 25.4 >= 5.8
    board.emulate_media(media=None)
    sheet = PdfReader(io.BytesIO(board.pdf(prefer_css_page_size=True)))
    assert 1 == len(sheet.pages)
    assert re.search(r"[a-z]+-[a-z]+-\d{3}", sheet.pages[0].extract_text())
