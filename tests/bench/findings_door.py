"""How `journal findings` goes through a long table: groups a second, memory, and how both grow.

The limit is reading the same table row by row and adding the values up.
Run: python -m tests.bench.findings_door [--short]
"""

from __future__ import annotations

import csv
import random
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.lines import tell

#: Ten times as many groups take at most this many times as long for each group.
GOAL = 1.3
SMALL, LARGE = 100, 10_000
SHORT_LARGE = 1_000
TRIALS = 24
POINTS = (0, 1, 2, 4, 8)


def main() -> None:
    """Measure and print one line: seconds a group of a long table beside those of a short one."""
    large = SHORT_LARGE if "--short" in sys.argv else LARGE
    with tempfile.TemporaryDirectory() as folder:
        few = write_table(Path(folder) / "few.csv", SMALL)
        many = write_table(Path(folder) / "many.csv", large)
        # The short one first, so that the highest memory seen after it is the long one's.
        few_s = time_door(few)
        few_mb = memory_mb()
        many_s = time_door(many)
        raw_s = time_raw(many)
    tell(
        "findings_door",
        many_s / large * 1000,
        "ms a group",
        limit=few_s / SMALL * 1000,
        goal=GOAL,
        more_is_better=False,
        groups=large,
        groups_per_s=round(large / many_s, 1),
        memory_mb=round(memory_mb(), 1),
        memory_mb_of_100_groups=round(few_mb, 1),
        raw_read_s=round(raw_s, 3),
        whole_s=round(many_s, 2),
    )


def write_table(path: Path, groups: int) -> Path:
    """Write a table of zone points: each group has two revisions, three children, 24 trials."""
    chance = random.Random(groups)
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["group", "revision", "student", "order", "value"])
        for group in range(groups):
            for order in range(TRIALS):
                revision = 1 + order * 2 // TRIALS
                child = f"Child {order % 3}"
                points = chance.choice(POINTS)
                writer.writerow([f"Group {group}", revision, child, order, points])
    return path


def time_door(path: Path) -> float:
    """Return the seconds that the terminal door takes for a table."""
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "journal", "findings", str(path), "--json"],
        stdout=subprocess.DEVNULL,
        check=True,
    )
    return time.perf_counter() - start


def time_raw(path: Path) -> float:
    """Return the seconds that reading alone takes."""
    start = time.perf_counter()
    with path.open(newline="", encoding="utf-8") as file:
        sum(float(row["value"]) for row in csv.DictReader(file))
    return time.perf_counter() - start


def memory_mb() -> float:
    """Return the most memory that a child has had so far."""
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


if __name__ == "__main__":
    main()
