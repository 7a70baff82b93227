"""How long the findings of a large group take, cold and again, beside a plain reading of them.

A group of 12 revisions by four students: 30 trials of zone points, 30 hits, and 45 measures in .1
mm, which cannot be counted out. Cold: a process that has seen no trial yet, as `journal serve`
leaves it when it has started; what that gets ready in the background is `import`. Again: another
request for the same trials. The limit is what nobody can do without: summing each revision's values
over the same records. Run: python -m tests.bench.group_findings
"""

from __future__ import annotations

import argparse
import json
import math
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from journal.analysis.permutation.shift_shuffles import get_ready
from journal.domain.actors import OPERATOR
from journal.domain.group_records import GroupRecord
from journal.domain.trials import Place
from journal.findings.group_findings import find_for_group
from journal.findings.voices import TEACHER_BAND
from journal.records.work import open_work
from journal.store import migrate
from journal.store.engine import Store
from tests.bench.lines import tell
from tests.factories.classrooms import make_classroom
from tests.factories.group_records import Told, record_with

REVISIONS, STUDENTS = 12, 4
TRIALS = {"zones": 30, "hits": 30, "fine": 45}
#: Wall times on the machine at hand, reported; the ratio to the bare sums is what has to hold.
COLD_GOAL_MS, AGAIN_GOAL_MS = 200.0, 20.0
MOST_TIMES_BARE = 60.0
#: Zones of the ready panel with their points.
ZONES = (("blaze", 8.0), ("bark", 4.0), ("trunk", 2.0))
NAMES = (("Ada", "Ben", "Cleo", "Dara"), ("Eli", "Finn", "Gia"))


def main() -> None:
    """Measure in fresh processes and print one JSON line."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    parser.add_argument("--once", choices=tuple(TRIALS))
    given = parser.parse_args()
    if given.once:
        sys.stdout.write(json.dumps(measure(given.once)) + "\n")
        return
    rounds = 2 if given.short else 7
    middle: dict[str, float] = {}
    for kind in TRIALS:
        runs = [_once(kind) for _ in range(rounds)]
        for name in runs[0]:
            middle[f"{kind}_{name}"] = median(run[name] for run in runs)
    more = {name: round(figure, 3) for name, figure in middle.items()}
    tell(
        "group_findings",
        middle["zones_again_ms"],
        "ms",
        limit=middle["zones_bare_ms"],
        goal=MOST_TIMES_BARE,
        more_is_better=False,
        goals_ms={"cold": COLD_GOAL_MS, "again": AGAIN_GOAL_MS},
        **more,
    )


def measure(kind: str) -> dict[str, float]:
    """Return milliseconds: cold, again, and the bare sums."""
    record = _record(kind)
    start = time.perf_counter()
    if kind == "fine":
        get_ready()
    import_ms = 1000 * (time.perf_counter() - start)
    cold_ms = _time_ms(record)
    unwanted = {"scipy"} if kind == "fine" else {"scipy", "numpy"}
    if unwanted & set(sys.modules):
        message = "A numerical library was imported."
        raise SystemExit(message)
    again_ms = min(_time_ms(record) for _ in range(5))
    start = time.perf_counter()
    for state in record.parts[:1]:
        for revision in state.revisions:
            values = [trial.value for trial in record.trials if revision.id in trial.revision_ids]
            math.fsum(value for value in values if value is not None)
    bare_ms = 1000 * (time.perf_counter() - start)
    return {
        "cold_ms": cold_ms,
        "again_ms": again_ms,
        "bare_ms": bare_ms,
        "import_ms": import_ms,
    }


def _time_ms(record: GroupRecord) -> float:
    start = time.perf_counter()
    find_for_group(record, TEACHER_BAND)
    return 1000 * (time.perf_counter() - start)


def _once(kind: str) -> dict[str, float]:
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.group_findings", "--once", kind],
        check=True,
        capture_output=True,
        text=True,
    )
    found: dict[str, float] = json.loads(done.stdout)
    return found


def _record(kind: str) -> GroupRecord:
    with tempfile.TemporaryDirectory() as folder:
        store = Store(f"sqlite:///{Path(folder) / 'bench.sqlite3'}", durable=False)
        migrate.upgrade(store.engine)
        with open_work(store, OPERATOR) as work:
            room = make_classroom(work.session, work.now(), nicknames=NAMES)
        record = record_with(store, room, _trials(kind))
        store.close()
    return record


def _trials(kind: str) -> list[Told]:
    draw = random.Random(11)
    told = []
    for revision in range(1, REVISIONS + 1):
        for turn in range(TRIALS[kind]):
            zone, value = draw.choice(ZONES)
            if kind == "fine":
                value = round(draw.gauss(300 + 5 * revision, 60), 1)
            hit = (draw.gauss(20, 110), draw.gauss(-60, 110)) if kind == "hits" else (None, None)
            told.append(
                Told(
                    value=value,
                    zone=zone,
                    place=Place.PANEL,
                    revision=revision,
                    student=turn % STUDENTS,
                    x_mm=hit[0],
                    y_mm=hit[1],
                )
            )
    return told


if __name__ == "__main__":
    main()
