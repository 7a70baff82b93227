"""The portfolio on paper: its text, its tags, its silence.

Read with pypdf and pikepdf, two general PDF libraries; what must be tagged is named by ISO 14289-1
(PDF/UA-1), clauses 7.1, 7.2 and 7.3 (from memory).
"""

from __future__ import annotations

import io
import logging
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pikepdf
import pypdf
import pytest

from journal.charts.sketches import draw_sketch
from journal.domain.actors import OPERATOR
from journal.domain.sketches import Sketch
from journal.jobs.portfolios import print_portfolio
from journal.pictures.answer_quotes import AnswerQuote
from journal.pictures.chains import ChainLink
from journal.portfolio.gathering import gather_portfolio
from journal.portfolio.pages import AskedQuestion, PortfolioPage
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import make_classroom
from tests.factories.stories import tell_story


class Ear(logging.Handler):
    """Keeps every record of a logger."""

    def __init__(self) -> None:
        super().__init__()
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep the message."""
        self.heard.append(record.getMessage())


@dataclass(frozen=True)
class Paper:
    """A printed portfolio, with the page it was printed from and what the renderer said."""

    page: PortfolioPage
    printed: bytes
    heard: list[str]


@pytest.fixture(scope="module")
def papers(migrated_file: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Paper, Paper]:
    """Print two groups once: one with a whole story, one that has done nothing yet."""
    path = tmp_path_factory.mktemp("papers") / "journal.sqlite3"
    shutil.copyfile(migrated_file, path)
    store, clock = Store(f"sqlite:///{path}", durable=False), StandingClock()
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock())
    tell_story(store, clock, room)
    made = []
    for group_id in room.group_ids:
        with open_work(store, room.teacher, writing=False, clock=clock) as work:
            made.append(_print(gather_portfolio(work, group_id)))
    store.close()
    return made[0], made[1]


@pytest.fixture
def paper(papers: tuple[Paper, Paper]) -> Paper:
    """Return the portfolio of the group with the story."""
    return papers[0]


@pytest.fixture
def bare_paper(papers: tuple[Paper, Paper]) -> Paper:
    """Return the portfolio of the group without trials and notes."""
    return papers[1]


def test_the_whole_story_is_on_paper(paper: Paper) -> None:
    """Every chapter in its order with the group's own words; the renderer has nothing to say."""
    assert [] == paper.heard
    text = _text(paper.printed)
    chapters = [
        "Beyond the ditch", "The task", "Our way", "Launcher 1. 4 March", "Where it hit",
        "Made from", "Beside Launcher 1", "Finding.", "Our other parts", "Questions we were asked",
        "Looking back", "Session, time", "Assessment", "3-5-ETS1-3",
    ]  # fmt: skip
    sheets = [_flat(sheet.extract_text()) for sheet in _sheets(paper.printed)]
    # Within a page the order of painting says nothing, so pages are compared.
    places = [
        next((number for number, sheet in enumerate(sheets) if chapter in sheet), -1)
        for chapter in chapters
    ]
    assert -1 not in places
    assert sorted(places) == places
    for words in ("The tree stands on the far side.", "More push for the dart.", "Together 1.20"):
        assert words in text


def test_every_page_but_the_cover_has_number_heads_and_caution(paper: Paper) -> None:
    """Group left, challenge right, the caution below, pages counted from the cover."""
    pages = _sheets(paper.printed)
    cover = _flat(pages[0].extract_text())
    assert 1 == cover.count(paper.page.cover.challenge_title)
    for number, sheet in enumerate(pages[1:], start=2):
        text = _flat(sheet.extract_text())
        for words in (
            paper.page.cover.group_name,
            paper.page.cover.challenge_title,
            paper.page.cover.caution,
        ):
            assert words in text
        assert re.search(rf"\b{number}\b", text)


def test_no_heading_stands_alone_at_the_foot_of_a_page(paper: Paper) -> None:
    """Something follows each heading on its own page, above the caution line."""
    headings = {"Looking back", "Questions we were asked", "Our other parts", "What the trials say"}
    for sheet in _sheets(paper.printed)[1:]:
        lines = [line.strip() for line in sheet.extract_text().splitlines() if line.strip()]
        matter = [
            line
            for line in lines
            if line != paper.page.cover.caution and not line.strip().isdigit()
        ]
        assert matter[-1] not in headings


def test_it_can_be_read_aloud(paper: Paper) -> None:
    """Tagged, with language and title; every figure has words instead of its picture."""
    with pikepdf.open(io.BytesIO(paper.printed)) as document:
        assert "en" == str(document.Root.Lang)
        assert bool(document.Root.MarkInfo.Marked)
        assert paper.page.title == str(document.docinfo["/Title"])
        with document.open_metadata() as metadata:
            assert "1" == metadata["pdfuaid:part"]
        figures = [tag for tag in _tags(document.Root.StructTreeRoot) if tag.get("/S") == "/Figure"]
        assert len(figures) > 10
        assert [] == [tag for tag in figures if not str(tag.get("/Alt", "")).strip()]


def test_a_group_without_trials_prints_what_it_has(bare_paper: Paper) -> None:
    """No chapter without matter, no picture without a trial."""
    assert [] == bare_paper.heard
    text = _text(bare_paper.printed)
    for words in ("The task", "First build", "Assessment"):
        assert words in text
    for words in (
        "Every trial",
        "Where it hit",
        "Looking back",
        "Questions",
        "Finding",
        "Through the",
    ):
        assert words not in text


def test_a_sketch_is_printed_with_words_for_who_listens(bare_paper: Paper) -> None:
    """A drawing under its question, on the sheet of its revision too; no empty quote anywhere."""
    sketch = Sketch(strokes=(((100, 500), (400, 200)), ((600, 300),)))
    drawing = draw_sketch(sketch, group="Kite")
    answers = (AnswerQuote(words="", drawing=drawing), AnswerQuote(words="Said to our teacher."))
    asked = tuple(
        AskedQuestion(question="What?", language="en", answer=answer, who="The group", when="Today")
        for answer in answers
    )
    cause = (ChainLink(head="We saw", words="", drawing=drawing),)
    spread = replace(bare_paper.page.spreads[0], cause=cause)
    paper = _print(replace(bare_paper.page, asked=asked, spreads=(spread,)))
    assert [] == paper.heard
    text = _text(paper.printed)
    assert "Said to our teacher." in text
    assert "“”" not in text
    with pikepdf.open(io.BytesIO(paper.printed)) as document:
        alternatives = [str(tag.get("/Alt", "")) for tag in _tags(document.Root.StructTreeRoot)]
    assert 2 == sum("Sketch by Kite" in alternative for alternative in alternatives)


def test_names_cannot_write_markup(bare_paper: Paper) -> None:
    """A name full of signs is printed as it was written."""
    odd = replace(bare_paper.page.cover, group_name='<b>"Kite" & co</b>')
    text = _text(_print(replace(bare_paper.page, cover=odd)).printed)
    assert '<b>"Kite" & co</b>' in text


def _print(page: PortfolioPage) -> Paper:
    """Print a page and listen to the renderer."""
    ear, logger = Ear(), logging.getLogger("weasyprint")
    logger.addHandler(ear)
    printed = print_portfolio(page)
    logger.removeHandler(ear)
    return Paper(page, printed, ear.heard)


def _text(printed: bytes) -> str:
    return _flat(" ".join(sheet.extract_text() for sheet in _sheets(printed)))


def _sheets(printed: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(printed)).pages)


def _flat(text: str) -> str:
    return " ".join(text.split())


def _tags(tag: Any) -> Iterator[Any]:
    """Walk the tree of tags."""
    if not isinstance(tag, pikepdf.Dictionary):
        return
    yield tag
    children = tag.get("/K", [])
    for child in children if isinstance(children, pikepdf.Array) else [children]:
        yield from _tags(child)
