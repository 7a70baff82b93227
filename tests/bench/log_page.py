"""What the page that logs trials costs, beside its own statements and text in a bare application.

CPU of a whole request through Flask's test client. The limit sends the page's statements by the
driver alone, reads all rows, and answers with the page as it was; the two take turns in one
process. Run: python -m tests.bench.log_page [--short]
"""

from __future__ import annotations

import argparse
import sqlite3
import statistics
import tempfile
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from flask import Flask

from tests.bench.journeys import Room, cpu_ms, make_room
from tests.bench.lines import tell

#: What it was when it was first measured, and a tenth more.
GOAL = 28.0


def main() -> None:
    """Measure and print one JSON line."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    rounds = 4 if parser.parse_args().short else 15
    pages, limits = [], []
    with tempfile.TemporaryDirectory() as name:
        room = make_room(Path(name))
        address = f"{room.home}/trials/new"
        text, sent = _list_statements(room, address)
        bare = _bare_app(Path(name), text, sent).test_client()
        for _ in range(rounds):
            limits.append(cpu_ms(lambda: bare.get("/")))
            pages.append(cpu_ms(lambda: room.tablet.get(address)))
        room.store.close()
    tell(
        "log_page", statistics.median(pages), "ms", limit=statistics.median(limits),
        goal=GOAL, more_is_better=False, statements=len(sent), text_kb=round(len(text) / 1000, 1),
    )  # fmt: skip


def _list_statements(room: Room, address: str) -> tuple[str, list[tuple[str, Any]]]:
    """Return the page and the statements that it sends."""
    sent: list[tuple[str, Any]] = []

    def note(*args: Any) -> None:
        if args[2].startswith("SELECT"):
            sent.append((args[2], args[3]))

    sa.event.listen(room.store.engine, "before_cursor_execute", note)
    answer = room.tablet.get(address)
    sa.event.remove(room.store.engine, "before_cursor_execute", note)
    assert answer.status_code == 200
    return answer.text, sent


def _bare_app(folder: Path, text: str, sent: list[tuple[str, Any]]) -> Flask:
    app = Flask("bare")
    connection = sqlite3.connect(folder / "journal.sqlite3")

    @app.get("/")
    def get() -> str:
        for statement, values in sent:
            connection.execute(statement, values).fetchall()
        return text

    return app


if __name__ == "__main__":
    main()
