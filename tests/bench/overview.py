"""How long the class overview takes, beside the time that its own statements need.

Classes of 6 and of 12 groups with 1,000 and 24,000 trials. First: nothing is kept yet. Unchanged:
asked again without a change. Changed: one group has logged one more trial. The limit is what nobody
can do without: the same statements, sent to the same file by the driver alone and read to the end.
With few trials that is less than a millisecond and the ratio large; the time itself is to be seen.
This file runs in a work tree of an older commit too. Run: python -m tests.bench.overview
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import sqlalchemy as sa

from journal.domain.actors import OPERATOR
from journal.domain.trials import Place, TrialKind, TrialState
from journal.records.work import open_work
from journal.screens.desk.overviews import prepare_overview
from journal.store import migrate
from journal.store.engine import Store
from journal.store.trials import TrialRevisionRow, TrialRow
from tests.bench.lines import tell
from tests.factories.classrooms import Classroom, make_classroom

GROUPS = (6, 12)
TRIALS = (1_000, 24_000)
#: Times the bare statements, where nothing changed and there are many trials.
MOST_TIMES_BARE = 1.5
#: Zones of the ready panel with their points.
ZONES = (("blaze", 8.0), ("bark", 4.0), ("trunk", 2.0))

Sent = list[tuple[str, Any]]


def main() -> None:
    """Measure each size and print one JSON line for it."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    short = parser.parse_args().short
    for groups in GROUPS[:1] if short else GROUPS:
        for trials in TRIALS:
            _measure(groups, trials, rounds=3 if short else 7)


def _measure(groups: int, trials: int, *, rounds: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.sqlite3"
        store = Store(f"sqlite:///{path}", durable=False)
        migrate.upgrade(store.engine)
        began = datetime.now(UTC) - timedelta(hours=12)
        names = [[f"{name}{number}" for name in ("A", "B", "C")] for number in range(groups)]
        with open_work(store, OPERATOR) as work:
            room = make_classroom(work.session, began, nicknames=names)
        _log(store, room, began, trials)
        first_ms, _ = _look(store, room)
        unchanged, bare = [], []
        for _ in range(rounds):
            took_ms, sent = _look(store, room)
            unchanged.append(took_ms)
            bare.append(_send_bare(path, sent))
        changed = []
        for number in range(rounds):
            _log(store, room, began + timedelta(hours=10, minutes=number), 1)
            changed.append(_look(store, room)[0])
        store.close()
    tell(
        "overview",
        min(unchanged),
        "ms",
        limit=min(bare),
        goal=MOST_TIMES_BARE,
        more_is_better=False,
        groups=groups,
        trials=trials,
        statements=len(sent),
        first_ms=round(first_ms, 1),
        one_group_changed_ms=round(min(changed), 1),
    )


def _look(store: Store, room: Classroom) -> tuple[float, Sent]:
    """Return how long an overview took, in ms, and the statements that it sent."""
    with _listed(store) as sent, open_work(store, room.teacher, writing=False) as work:
        start = time.perf_counter()
        prepare_overview(work, room.class_id)
        took_ms = 1000 * (time.perf_counter() - start)
    return took_ms, sent


@contextmanager
def _listed(store: Store) -> Iterator[Sent]:
    sent: Sent = []

    def note(*given: Any) -> None:
        if given[2].startswith("SELECT"):
            sent.append((given[2], given[3]))

    sa.event.listen(store.engine, "before_cursor_execute", note)
    try:
        yield sent
    finally:
        sa.event.remove(store.engine, "before_cursor_execute", note)


def _send_bare(path: Path, sent: Sent) -> float:
    with closing(sqlite3.connect(path)) as connection:
        # Not what this connection read for the first time is measured, but the statements.
        for _ in range(2):
            start = time.perf_counter()
            for statement, values in sent:
                connection.execute(statement, values).fetchall()
            took_ms = 1000 * (time.perf_counter() - start)
    return took_ms


def _log(store: Store, room: Classroom, began: datetime, trials: int) -> None:
    """Keep trials of all groups in turn, as the service would after checking each."""
    draw = random.Random(11)
    rows, links = [], []
    for number in range(trials):
        group = number % len(room.group_ids)
        zone, value = draw.choice(ZONES)
        at = began + timedelta(seconds=number + 1)
        trial_id = uuid4()
        rows.append(
            {
                "id": trial_id,
                "school_id": room.school_id,
                "group_id": room.group_ids[group],
                "session_id": room.session_id,
                "student_id": room.student_ids[group][number % 3],
                "kind": TrialKind.PRACTICE,
                "state": TrialState.MEASURED,
                "handling": {},
                "place": Place.PANEL,
                "x_mm": draw.gauss(20, 110),
                "y_mm": draw.gauss(-60, 110),
                "zone": zone,
                "value": value,
                "distance_mm": 2500,
                "panel": "",
                "logged_at": at,
                "received_at": at,
                "content_hash": "0" * 64,
            }
        )
        links += [
            {"school_id": room.school_id, "trial_id": trial_id, "revision_id": revision_id}
            for revision_id in room.revisions_for(group, number % 3)
        ]
    with open_work(store, OPERATOR) as work:
        work.session.execute(sa.insert(TrialRow), rows)
        work.session.execute(sa.insert(TrialRevisionRow), links)


if __name__ == "__main__":
    main()
