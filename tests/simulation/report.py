"""The tables of RESULTS.md: how well the diagnosis does on drawn groups.

Run: python -m tests.simulation.report [--groups 222] [--kept FILE] [--minutes 7] [--write]
`--groups` is the number of each of nine causes in a cell (222 make 2,000 groups a cell, which takes
hours); `--kept` a file in which judged groups are kept and found again, so that it can be done
in pieces: with `--minutes` it stops in time and says that it is to be started again; `--write` puts
the tables into RESULTS.md in the place of those that are there.
Seeds of the report differ from those that thresholds were set on (1000, 9000).
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from time import monotonic

from tests.simulation.classrooms import Telling
from tests.simulation.judged import Cell, Judged, judge_cell
from tests.simulation.scores import list_misses, score
from tests.simulation.worlds import Stage, World

SEED = 9100
TRIALS = (12, 24)
TELLINGS = (Telling.POSITIONS, Telling.POINTS)
RESULTS = Path(__file__).with_name("RESULTS.md")
LINE = "<!-- Everything below this line is written by the report. -->"
COLUMNS = (
    "trials", "told as", "after", "device said: none", "use of some", "fading", "steady",
    "offset", "scatter", "load", "mechanism", "speaks", "right then", "likeliest is right",
    "calibration",
)  # fmt: skip
CAUSES = (
    "none", "use_some", "use_all_fading", "use_all_steady", "device_offset", "device_scatter",
    "load", "mechanism",
)  # fmt: skip


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the tables as Markdown, or write them into RESULTS.md."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--groups", type=int, default=222)
    parser.add_argument("--kept", type=Path, default=None)
    parser.add_argument("--minutes", type=float, default=float("inf"))
    parser.add_argument("--write", action="store_true")
    given = parser.parse_args(arguments)
    until = monotonic() + 60 * given.minutes
    cells = _judge_all(given.groups, given.kept, until)
    if cells is None:
        sys.stdout.write("Time is up: start the same command again, it goes on from there.\n")
        return
    lines = list(tell_report(cells, given.groups))
    if given.write:
        write_tables(RESULTS, lines)
    else:
        sys.stdout.write("\n".join(lines) + "\n")


def write_tables(path: Path, lines: Iterable[str]) -> None:
    """Replace what stands below the line of a file; the words above it stay as they are."""
    above = path.read_text("utf-8").split(LINE)[0]
    path.write_text(f"{above}{LINE}\n\n" + "\n".join(lines) + "\n", encoding="utf-8")


def _judge_all(groups: int, kept: Path | None, until: float) -> dict[Cell, list[Judged]] | None:
    cells = {}
    for world in World:
        for trials in TRIALS:
            for telling in TELLINGS:
                cell = (world, trials, telling)
                judged = judge_cell(cell, groups, SEED, kept=kept, until=until)
                if judged is None:
                    return None
                cells[cell] = judged
    return cells


def tell_report(cells: dict[Cell, list[Judged]], groups: int) -> Iterator[str]:
    """Return the report line by line."""
    misses = []
    for world in World:
        yield f"**World {world.value}** ({groups} groups of each cause in a cell)"
        yield ""
        yield f"| {' | '.join(COLUMNS)} |"
        yield "|---" * len(COLUMNS) + "|"
        for (of_world, trials, telling), judged in cells.items():
            if of_world is not world:
                continue
            for stage in Stage:
                found = score([entry for entry in judged if entry.stage == stage.value])
                figures = (
                    *(found.device[cause] for cause in CAUSES),
                    found.spoken, found.right, found.accuracy, found.calibration,
                )  # fmt: skip
                told = " | ".join(f"{figure:.3f}" for figure in figures)
                yield f"| {trials} | {telling.value} | {stage.value} | {told} |"
                missed = list_misses(found, world, stage, positions=telling is Telling.POSITIONS)
                misses += [
                    f"* World {world.value}, {trials} {telling.value}, {stage.value}: {miss}."
                    for miss in missed
                ]
        yield ""
    yield "**Goals missed**, caps and floors of naming beyond the 95 % Wilson bound"
    yield ""
    yield from misses or ["None."]
    yield ""
    yield "**The proposed test beside others** (the likeliest reading is the true one)"
    yield ""
    yield "| world | trials | told as | none | six more own | always guests 4 | as proposed |"
    yield "|---" * 7 + "|"
    for (world, trials, telling), judged in cells.items():
        figures = [score(part).accuracy for part in _choices(judged)]
        told = " | ".join(f"{figure:.3f}" for figure in figures)
        yield f"| {world.value} | {trials} | {telling.value} | {told} |"
    yield ""


def _choices(judged: Sequence[Judged]) -> tuple[list[Judged], ...]:
    """Return the groups before any contrast, and after four launches of one or another."""
    by_stage = {stage: [entry for entry in judged if entry.stage == stage.value]
                for stage in Stage}  # fmt: skip
    after = {"guests": Stage.GUESTS_4, "their_device": Stage.THEIRS_4, "exchange": Stage.EXCHANGE_4}
    before = by_stage[Stage.BEFORE]
    proposed = [
        by_stage[after[entry.next_test]][at] if entry.next_test in after else entry
        for at, entry in enumerate(before)
    ]
    return before, by_stage[Stage.MORE_6], by_stage[Stage.GUESTS_4], proposed


if __name__ == "__main__":
    main()
