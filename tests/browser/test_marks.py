"""Marks beside names, where a group of five has least room."""

from __future__ import annotations

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.classes import GradeBand
from journal.records.work import open_work
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.conftest import StandingClock
from tests.factories.classrooms import make_classroom

NAMES = ("Amos", "Gwen", "Matteo", "Rui", "Tess")
#: Lines of text in each name's tile, the count of trials aside.
LINES = """(tiles) => tiles.map((tile) => {
  const range = document.createRange();
  range.selectNodeContents(tile.querySelector("span").firstChild);
  return new Set([...range.getClientRects()].map((box) => Math.round(box.top))).size;
})"""
#: How far the words of each tile reach beyond it, in px.
BEYOND = """(tiles) => tiles.map((tile) => {
  const range = document.createRange();
  range.selectNodeContents(tile.querySelector("span"));
  return range.getBoundingClientRect().right - tile.getBoundingClientRect().right;
})"""


@pytest.mark.parametrize("band", list(GradeBand))
def test_five_names_stand_beside_their_marks(
    store: Store, clock: StandingClock, open_tablet: OpenTablet, band: GradeBand
) -> None:
    """No name is broken, each has its mark, and the last one is above the caution line."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), band=band, nicknames=(NAMES,))
    page = open_tablet(room.tablets[0])
    page.goto(f"/groups/{room.group_ids[0]}/trials/new")
    tiles = page.locator(".testers .tile")
    assert [1] * 5 == tiles.evaluate_all(LINES)
    assert all(beyond < 0 for beyond in tiles.evaluate_all(BEYOND))
    marks = page.locator(".testers .mark use").evaluate_all(
        "(uses) => uses.map((one) => one.getAttribute('href').split('#')[1])"
    )
    assert [f"member-{strokes}" for strokes in range(1, 6)] == marks
    heights = tiles.evaluate_all("(all) => all.map((one) => one.getBoundingClientRect().height)")
    assert all(height >= 48 for height in heights)
    lane_top = page.locator("footer.lane").bounding_box()
    last = tiles.last.bounding_box()
    assert lane_top is not None
    assert last is not None
    assert last["y"] + last["height"] < lane_top["y"]


def test_a_swatch_stays_small(store: Store, clock: StandingClock, open_tablet: OpenTablet) -> None:
    """A group's pattern stands beside its number and name, and takes no more room than they."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock())
    open_tablet(room.tablets[0])
    page = open_tablet(room.teacher)
    for path in ("", "/counted"):
        page.goto(f"/classes/{room.class_id}{path}")
        widths = page.locator(".swatch").evaluate_all(
            "(all) => all.map((one) => one.getBoundingClientRect().width)"
        )
        assert widths
        assert all(20 <= width <= 40 for width in widths), path
