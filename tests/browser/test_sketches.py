"""A sketch on a tablet: drawn with a finger, sent, and seen again beside its rung."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Page, expect

from journal.domain.sketches import MOST_POINTS
from journal.records.work import open_work
from journal.services.ladders import start_climb
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

pytestmark = pytest.mark.browser

Place = tuple[float, float]


def _draw(page: Page, *places: Place) -> None:
    """Move one finger over the area; places are parts of its width and height."""
    box = page.locator("#draw-area").bounding_box()
    assert box is not None
    points = [
        {"x": box["x"] + right * box["width"], "y": box["y"] + down * box["height"]}
        for right, down in places
    ]
    finger = page.context.new_cdp_session(page)
    for index, point in enumerate(points):
        kind = "touchMove" if index else "touchStart"
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [point]})
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def _strokes(page: Page) -> list[list[list[int]]]:
    return json.loads(page.input_value("[name=sketch]") or "[]")


def test_a_child_draws_an_answer_with_a_finger(
    open_tablet: OpenTablet, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Two strokes, one taken back and drawn again; all cleared and brought back; then sent."""
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, classroom.group_ids[0])
    page = open_tablet(classroom.tablets[0])
    page.goto(f"/groups/{classroom.group_ids[0]}/ladder")
    page.get_by_role("button", name="Add a sketch").tap()
    for name in ("Undo", "Clear", "Done"):
        box = page.get_by_role("button", name=name).bounding_box()
        assert box is not None
        assert box["height"] >= 48
        assert box["y"] + box["height"] <= 768
    # A straight line of many points needs two; a finger that leaves the area stays at its edge.
    _draw(page, *((0.1 + step / 250, 0.5) for step in range(100)))
    _draw(page, (0.5, 0.5), (0.5, 1.3))
    assert [[[100, 300], [496, 300]], [[500, 300], [500, 600]]] == _strokes(page)
    page.get_by_role("button", name="Undo").tap()
    assert 1 == len(_strokes(page))
    _draw(page, (0.5, 0.2), (0.7, 0.4), (0.5, 0.6))
    page.get_by_role("button", name="Clear").tap()
    assert [] == _strokes(page)
    page.get_by_role("button", name="Undo").tap()
    assert 2 == len(_strokes(page))
    page.get_by_role("button", name="Done").tap()
    expect(page.locator("#drawn polyline")).to_have_count(2)
    page.get_by_role("button", name="Keep our answer").tap()
    earlier = page.locator(".ladder .done").get_by_role("img", name="Sketch by")
    expect(earlier.locator("path")).to_have_count(2)
    assert [] == _strokes(page)


def test_a_refused_sketch_is_drawn_again(
    open_tablet: OpenTablet, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What came back stands in the area; a scribble without end stays within what is kept."""
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, classroom.group_ids[0])
    page = open_tablet(classroom.tablets[0])
    page.goto(f"/groups/{classroom.group_ids[0]}/ladder")
    page.get_by_role("button", name="Add a sketch").tap()
    _draw(page, (0.2, 0.2), (0.8, 0.8))
    page.get_by_role("button", name="Done").tap()
    page.fill("textarea[name=words]", "a" * 700)
    page.get_by_role("button", name="Keep our answer").tap()
    expect(page.get_by_role("alert")).to_contain_text("What you wrote is still here.")
    expect(page.locator("#drawn polyline")).to_have_count(1)
    assert [[[200, 120], [800, 480]]] == _strokes(page)
    # Strokes that left the area, as another program could send them, come back at its edge.
    page.fill("textarea[name=words]", "")
    sent = "field => { field.value = '[[[200, 120], [800, 900]]]' }"
    page.locator("[name=sketch]").evaluate(sent)
    page.get_by_role("button", name="Keep our answer").tap()
    expect(page.get_by_role("alert")).to_contain_text("The sketch leaves the drawing area.")
    assert [[[200, 120], [800, 600]]] == _strokes(page)
    page.get_by_role("button", name="Change the sketch").tap()
    # As many events as a finger makes in minutes, sent by a script to save them.
    page.evaluate(
        """() => {
          const area = document.getElementById("draw-area");
          area.setPointerCapture = () => {};
          const box = area.getBoundingClientRect();
          const tell = (kind, x, y) => area.dispatchEvent(new PointerEvent(kind, {
            pointerId: 9,
            clientX: box.left + x * box.width,
            clientY: box.top + y * box.height,
          }));
          tell("pointerdown", 0, 0);
          for (let i = 0; i < 9000; i += 1) tell("pointermove", (i * 0.618) % 1, (i * 0.414) % 1);
          tell("pointerup", 0, 0);
        }"""
    )
    assert 2 == len(_strokes(page))
    assert sum(map(len, _strokes(page))) <= MOST_POINTS
