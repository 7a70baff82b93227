"""How long a diagnosis takes: a group of 24 trials, and 1,000 groups by the terminal door.

The raw limit is Python's own `exp`: as many calls as one group needs at the least, in the same run.
Run: python -m tests.bench.diagnosis [--short]
"""

from __future__ import annotations

import argparse
import csv
import math
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from journal.analysis.diagnosis.diagnose import diagnose
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER
from tests.bench.lines import tell
from tests.simulation.classrooms import Classroom, Telling, draw_classrooms, told_as

GOAL_MS = 20.0
GOAL_SECONDS = 20.0
#: Beside 10,000 exponentials, each of which is a step of the integral.
GOAL_RATIO = 40.0
RAW_CALLS = 10_000
HEAD = "group,revision,student,order,x_mm,y_mm,place,amount,misfire"


def main() -> None:
    """Measure and print one JSON line."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    short = parser.parse_args().short
    rooms = draw_classrooms(77, 60 if short else 300, 24)
    raw_ms = statistics.median(_time_raw() for _ in range(20))
    told = {telling.value.replace(" ", "_"): _time_groups(rooms, telling) for telling in Telling}
    groups = 100 if short else 1000
    seconds = _time_door(draw_classrooms(78, groups, 24))
    slowest = max(told.values())
    tell(
        "diagnosis",
        slowest,
        "ms",
        limit=raw_ms,
        goal=GOAL_RATIO,
        more_is_better=False,
        group_ms={name: round(ms, 2) for name, ms in told.items()},
        goal_ms=GOAL_MS,
        door_groups=groups,
        door_seconds=round(seconds, 2),
        goal_seconds=GOAL_SECONDS * groups / 1000,
    )


def _time_raw() -> float:
    begun = time.perf_counter()
    for at in range(RAW_CALLS):
        math.exp(-at / RAW_CALLS)
    return 1000 * (time.perf_counter() - begun)


def _time_groups(rooms: list[Classroom], telling: Telling) -> float:
    """Return the median of a group in ms, the first ones left out: they fill the tables."""
    direction = LESS_IS_BETTER if telling is Telling.MEASURES else MORE_IS_BETTER
    laps = []
    for room in rooms:
        records = told_as(room, telling)
        begun = time.perf_counter()
        diagnose(records, direction=direction)
        laps.append(1000 * (time.perf_counter() - begun))
    return statistics.median(laps[10:])


def _time_door(rooms: list[Classroom]) -> float:
    with tempfile.TemporaryDirectory() as name:
        file = Path(name, "trials.csv")
        with file.open("w", encoding="utf-8", newline="") as out:
            writer = csv.writer(out)
            writer.writerow(HEAD.split(","))
            for number, room in enumerate(rooms):
                for one in told_as(room, Telling.POSITIONS):
                    cells = (one.x_mm, one.y_mm, one.place, one.amount, one.misfire)
                    known = (f"group {number}", one.revision, one.student, one.order)
                    writer.writerow([*known, *cells])
        starter = "from journal.cli.main import main; main()"
        command = [sys.executable, "-c", starter, "diagnose", str(file), "--json"]
        begun = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        return time.perf_counter() - begun


if __name__ == "__main__":
    main()
