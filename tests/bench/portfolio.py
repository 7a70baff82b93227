"""How long a portfolio takes, beside what the renderer alone needs for the same sheets.

The journal's side is a group's record read, worked out, drawn, put into a sheet and printed. The
limit is WeasyPrint with the finished sheet and a font of the machine instead of ours. Each in a
process of its own, in turns, as prints are made (`jobs/children.py`); CPU time, without importing.
Run: python -m tests.bench.portfolio [--short]
"""

from __future__ import annotations

import argparse
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from weasyprint import HTML

from journal.domain.actors import OPERATOR
from journal.jobs.portfolios import print_portfolio
from journal.portfolio.gathering import gather_portfolio
from journal.portfolio.pages import PortfolioPage
from journal.printing import rendering  # noqa: F401 - imported before the time is taken
from journal.printing.papers import render_paper
from journal.records.work import open_work
from journal.store import classes, groups, migrate
from journal.store.engine import Store
from tests.bench.lines import tell
from tests.conftest import StandingClock
from tests.factories.classrooms import make_classroom
from tests.factories.stories import tell_story

GOAL = 1.5
SIDES = ("bare", "journal")


def main() -> None:
    """Measure and print one JSON line, or print once for it."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    parser.add_argument("--side", choices=SIDES)
    parser.add_argument("--folder", type=Path)
    given = parser.parse_args()
    if given.side:
        print(_measure(given.side, given.folder))  # noqa: T201 - for the measuring process
        return
    took: dict[str, list[float]] = {side: [] for side in SIDES}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        _fill(folder)
        for _ in range(2 if given.short else 5):
            for side in SIDES:
                took[side].append(_ask(side, folder))
        size = (folder / "portfolio.pdf").stat().st_size
    tell(
        "portfolio", statistics.median(took["journal"]), "s",
        limit=statistics.median(took["bare"]), goal=GOAL, more_is_better=False,
        size_kb=round(size / 1000),
    )  # fmt: skip


def _fill(folder: Path) -> None:
    """Tell a group's whole story; keep its sheet without our fonts."""
    clock, store = StandingClock(), _open(folder)
    migrate.upgrade(store.engine)
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock())
    tell_story(store, clock, room)
    sheet = render_paper("portfolio.html", _gather(store))
    bare = re.sub(r"@font-face \{.*?\}", "", sheet, flags=re.DOTALL).replace("Andika", "sans-serif")
    (folder / "bare.html").write_text(bare, encoding="utf-8")
    store.close()


def _ask(side: str, folder: Path) -> float:
    command = [sys.executable, "-m", "tests.bench.portfolio", "--side", side]
    done = subprocess.run(
        [*command, "--folder", str(folder)], capture_output=True, text=True, check=True
    )
    return float(done.stdout)


def _measure(side: str, folder: Path) -> float:
    """Return the CPU time in s that one print takes."""
    began = time.process_time()
    if side == "bare":
        sheet = (folder / "bare.html").read_text(encoding="utf-8")
        HTML(string=sheet).write_pdf(pdf_variant="pdf/ua-1")
        return time.process_time() - began
    store = _open(folder)
    printed = print_portfolio(_gather(store))
    took_s = time.process_time() - began
    (folder / "portfolio.pdf").write_bytes(printed)
    store.close()
    return took_s


def _open(folder: Path) -> Store:
    return Store(f"sqlite:///{folder / 'bench.sqlite3'}", durable=False)


def _gather(store: Store) -> PortfolioPage:
    with open_work(store, OPERATOR, writing=False, clock=StandingClock()) as work:
        (school_class,) = classes.all_classes(work.session)
        group = groups.groups_of_class(work.session, school_class.id)[0]
        return gather_portfolio(work, group.id)


if __name__ == "__main__":
    main()
