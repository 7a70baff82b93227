"""A whole lesson in a real browser: one teacher, three groups on touch screens, one portfolio."""

from __future__ import annotations

import io
from pathlib import Path

from playwright.sync_api import Browser
from pypdf import PdfReader

from tests.browser.people import Student, Teacher
from tests.browser.rooms import open_server

CLASS = [
    "Ada", "Ben", "Cleo", "Dara",
    "Eli", "Finn", "Gia", "Hal",
    "Ines", "Jon", "Kai", "Lea",
]  # fmt: skip
#: Where a group's launches land, in mm from the aim point.
LOW = [(-20, -300), (30, -280), (10, -250), (-40, -290), (20, -270), (0, -310)]
HIGHER = [(10, -40), (-20, 30), (30, -60), (0, 20), (-10, -30), (20, 10)]


def test_a_whole_lesson(chromium: Browser, tmp_path: Path) -> None:
    """From signing in to the printed portfolio; the overview is never loaded anew."""
    with open_server(tmp_path / "instance") as address:
        teacher = Teacher(chromium, address)
        teacher.signs_in()
        teacher.makes_a_class("4C", CLASS)
        teacher.deals_groups()
        teacher.opens_the_challenge("Beyond the ditch")
        word = teacher.makes_a_lesson_word()
        names = _groups_of(teacher)
        assert 3 == len(names)

        tablets = {group: Student(chromium, address) for group in names}
        teacher.starts_a_session()
        for group, tablet in tablets.items():
            tablet.comes_in(word, group, names[group][0])
            tablet.builds_first()
            tablet.goes_to_test()
            tablet.reads_that_launching_waits()
        teacher.opens_the_gate()
        for tablet in tablets.values():
            tablet.sees_the_panel_open_by_itself()
        teacher.looks_at_the_overview()

        improving, stalling, borrowing = names
        _launch_in_turn(tablets[improving], names[improving], LOW)
        teacher.sees("Launcher 1, first build: 6 trials.")
        tablets[improving].makes_the_next_launcher(
            "Bands", "2", "The dart fell down before the tree.", "It will hit higher."
        )
        tablets[improving].goes_to_test()
        _launch_in_turn(tablets[improving], names[improving], HIGHER)
        teacher.sees("Launcher 2, 2 bands: 6 trials.")
        assert "Launcher 2" in tablets[improving].reads_the_finding()

        _launch_in_turn(tablets[borrowing], names[borrowing], LOW[:2])
        borrower, owner = names[borrowing][:2]
        tablets[borrowing].borrows_for(borrower, owner)
        tablets[borrowing].launches(borrower, 40, 60)

        _launch_in_turn(tablets[stalling], names[stalling], LOW)
        tablets[stalling].says_we_are_stuck()
        first = tablets[stalling].answers("They all hit low.")
        second = tablets[stalling].answers("It was the same before.")
        assert first != second
        teacher.sees_first(stalling)
        teacher.says_i_am_here("They will measure where each dart hits.")

        text = _text_of(teacher.prints_the_portfolio(stalling, tmp_path))
        for told in (stalling, "They all hit low.", first, "Beyond the ditch"):
            assert " ".join(told.split()) in text
        text = _text_of(teacher.prints_the_portfolio(improving, tmp_path))
        for told in ("The dart fell down before the tree.", "It will hit higher.", "Launcher 2"):
            assert told in text
        assert [] == teacher.told
        assert [] == [line for tablet in tablets.values() for line in tablet.told]


def _groups_of(teacher: Teacher) -> dict[str, list[str]]:
    """Return the members of each group, as the class page lists them."""
    rows = teacher.page.locator(".strip").all()
    return {
        row.locator(".strip-name b").last.inner_text(): [
            name.strip() for name in row.locator(".strip-members").inner_text().split(",")
        ]
        for row in rows
    }


def _launch_in_turn(tablet: Student, members: list[str], places: list[tuple[int, int]]) -> None:
    for index, (right_mm, up_mm) in enumerate(places):
        tablet.launches(members[index % len(members)], right_mm, up_mm)


def _text_of(pdf: bytes) -> str:
    """Return the text of a PDF with every gap as one space."""
    reader = PdfReader(io.BytesIO(pdf))
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())
