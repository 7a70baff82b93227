"""The page of trials on the screens that it is used on: nothing stands under the lane."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenTablet
from tests.factories.classrooms import Classroom

pytestmark = pytest.mark.browser

#: A tablet lying and standing, and the screen of a small laptop.
SIZES = [(1024, 768), (768, 1024), (1280, 800)]
#: A finger finds a zone of the panel down to about this width of the drawing.
LEAST_PANEL_PX = 380


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_practice_and_counted_stand_above_the_lane(
    classroom: Classroom, open_tablet: OpenTablet, width: int, height: int
) -> None:
    """Before a name is tapped nothing has to be scrolled, and the panel is large all the same."""
    page = open_tablet(classroom.tablets[0])
    page.set_viewport_size({"width": width, "height": height})
    page.goto(f"/groups/{classroom.group_ids[0]}/trials/new")
    expect(page.locator(".kinds")).to_be_visible()

    assert bottom(page, ".foot") <= top(page, "footer.lane")
    panel = page.locator("#place").bounding_box()
    assert panel is not None
    assert panel["width"] >= LEAST_PANEL_PX


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_last_row_can_be_scrolled_into_view(
    classroom: Classroom, open_tablet: OpenTablet, width: int, height: int
) -> None:
    """Also with a dart to choose and a trial to take back the last row comes out from the lane."""
    page = open_tablet(classroom.tablets[0])
    page.set_viewport_size({"width": width, "height": height})
    page.goto(f"/groups/{classroom.group_ids[0]}/trials/new")
    page.locator(".tester .tile").first.tap()
    page.locator(".out", has_text="Not on the wall").tap()
    expect(page.locator("#newest")).to_contain_text("Trial 1 is in")
    page.evaluate("scrollTo(0, document.documentElement.scrollHeight)")

    assert bottom(page, ".foot") <= top(page, "footer.lane")


def bottom(page: Page, selector: str) -> float:
    """Return where an element ends on the screen."""
    box = page.locator(selector).bounding_box()
    assert box is not None
    return box["y"] + box["height"]


def top(page: Page, selector: str) -> float:
    """Return where an element begins on the screen."""
    box = page.locator(selector).bounding_box()
    assert box is not None
    return box["y"]
