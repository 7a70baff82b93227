"""The tables of RESULTS.md: how well the diagnosis and the stall watch do on drawn groups.

Run: python -m tests.simulation.report [--groups 4000] [--sampled 0] [--kept FILE] [--write]
`--sampled` compares that many groups of each cell with the best possible, which takes a
fifth of a second a group; `--kept` is a file in which these samples are kept and found again;
`--write` puts the tables into RESULTS.md in the place of those that are there.
Seeds of the report differ from those that thresholds were set on (1000 to 1999).
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from journal.analysis.diagnosis.diagnose import Grouped
from tests.simulation.best import ENOUGH, find_best
from tests.simulation.causes import CAUSE_SETS, GROUPED
from tests.simulation.classrooms import Classroom, Telling, draw_classrooms
from tests.simulation.exchange import share_told_apart
from tests.simulation.limits import Limits, find_limits
from tests.simulation.measures import (
    Chances,
    Measures,
    diagnose_sets,
    join_sets,
    measure,
    say,
    share_blamed,
)
from tests.simulation.plateaus import tell_stalls

SEED = 9000
ATTEMPTS = (6, 12, 24)
GENERATORS: dict[str, dict[str, Any]] = {
    "First generator": {},
    "First generator, three revisions in blocks": {"revisions": 3},
    "Second generator": {"second": True},
    "Second generator, tails of the same standard deviation": {"second": True, "calm": True},
}
DRAWS = 512
RESULTS = Path(__file__).with_name("RESULTS.md")
LINE = "<!-- Everything below this line is written by the report. -->"


@dataclass(frozen=True, slots=True, kw_only=True)
class Distance:
    """The shipped model beside the best possible, both by what the best one holds for true."""

    groups: int
    best: float
    shipped: float
    best_grouped: float
    shipped_grouped: float
    best_brier: float
    shipped_brier: float
    #: Of the cause sets that matter, those with an effective sample of at least 200.
    effective: float
    #: What the best posterior says by the journal's own rule, and what no rule exceeds.
    spoken: float
    named: float
    limits: Limits


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the tables as Markdown, or write them into RESULTS.md."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--groups", type=int, default=4000)
    parser.add_argument("--sampled", type=int, default=0)
    parser.add_argument("--kept", type=Path, default=None)
    parser.add_argument("--write", action="store_true")
    given = parser.parse_args(arguments)
    if given.write and not given.sampled:
        parser.error("--write needs --sampled: RESULTS.md has the table beside the best possible.")
    if given.write:
        write_tables(RESULTS, tell_report(given.groups, given.sampled, given.kept))
        return
    for line in tell_report(given.groups, given.sampled, given.kept):
        sys.stdout.write(line + "\n")
        sys.stdout.flush()


def write_tables(path: Path, lines: Iterable[str]) -> None:
    """Replace what stands below the line of a file; the words above it stay as they are."""
    above = path.read_text("utf-8").split(LINE)[0]
    path.write_text(f"{above}{LINE}\n\n" + "\n".join(lines) + "\n", encoding="utf-8")


def tell_report(groups: int, sampled: int, kept: Path | None) -> Iterator[str]:
    """Return the report line by line."""
    samples = _read(kept)
    for name, kind in GENERATORS.items():
        yield f"**{name}** ({groups} groups a cell, half as many only use, and nothing)"
        yield ""
        yield (
            "| trials | told as | cause set | grouped | Brier | calibration | of presence | speaks "
            "| right then | device, only use | device, nothing | device named |"
        )
        yield "|---" * 12 + "|"
        for attempts in ATTEMPTS:
            yield from _tell_generator(kind, groups, attempts)
        yield ""
    if sampled:
        yield "**Beside the best possible** (first generator)"
        yield ""
        yield (
            "| trials | told as | groups | cause set: best | shipped | grouped: best | shipped "
            "| Brier: best | shipped | samples of 200 | speaks: best | limit | named: best "
            "| limit |"
        )
        yield "|---" * 14 + "|"
        for attempts in ATTEMPTS:
            rooms = draw_classrooms(SEED + attempts, groups, attempts)[:sampled]
            for telling in Telling:
                one = measure_distance(rooms, telling, attempts, samples, kept)
                yield (
                    f"| {attempts} | {telling.value} | {one.groups} | {one.best:.3f} "
                    f"| {one.shipped:.3f} | {one.best_grouped:.3f} | {one.shipped_grouped:.3f} "
                    f"| {one.best_brier:.3f} | {one.shipped_brier:.3f} | {one.effective:.3f} "
                    f"| {one.spoken:.3f} | {one.limits.spoken:.3f} "
                    f"| {one.named:.3f} | {one.limits.named:.3f} |"
                )
        yield ""
    yield "**Own parts** (24 trials, positions; a poor use, or a poor own part, of one or two)"
    yield ""
    yield share_told_apart(SEED, max(50, groups // 4))
    yield ""
    yield from tell_stalls(groups)


def _tell_generator(kind: dict[str, Any], groups: int, attempts: int) -> Iterator[str]:
    seed = SEED + attempts
    rooms = draw_classrooms(seed, groups, attempts, **kind)
    # Of the rooms drawn with any cause too few have only use, or nothing, for a rare wrong word.
    blameless = [
        draw_classrooms(seed + more, (groups + 1) // 2, attempts, causes=causes, **kind)
        for more, causes in ((100, frozenset({"use"})), (200, frozenset[str]()))
    ]
    for telling in Telling:
        scored = [(room.causes, diagnose_sets(room, telling)) for room in rooms]
        found = measure(scored, attempts)
        use, nothing = (share_blamed(drawn, telling) for drawn in blameless)
        yield _row(attempts, telling, replace(found, blamed_use=use, blamed_none=nothing))


def measure_distance(
    rooms: Sequence[Classroom],
    telling: Telling,
    attempts: int,
    samples: dict[str, tuple[list[float], list[int]]],
    kept: Path | None,
) -> Distance:
    """Sample the best possible for each group and set the shipped model beside it.

    What counts as true is the best posterior itself, which removes most of the chance in it.
    """
    figures, effective, joints = [], [], []
    for number, room in enumerate(rooms):
        key = f"{attempts} {telling.value} {number}"
        if key not in samples:
            sampled = find_best(room, telling, number, DRAWS)
            samples[key] = (
                [sampled.chances[causes] for causes in CAUSE_SETS],
                [round(one) for one in sampled.effective.values()],
            )
            if kept is not None:
                with kept.open("a", encoding="utf-8") as file:
                    file.write(json.dumps([key, *samples[key]]) + "\n")
        chances, sizes = samples[key]
        effective += sizes
        best = dict(zip(CAUSE_SETS, chances, strict=True))
        joints.append(join_sets(best))
        figures.append(_compare(best, room, telling))
    means = np.mean(figures, axis=0)
    said = [say(joint, attempts) for joint in joints]
    device = [joint["device"] for joint in joints]
    return Distance(
        groups=len(rooms),
        best=means[0],
        shipped=means[1],
        best_grouped=means[2],
        shipped_grouped=means[3],
        best_brier=means[4],
        shipped_brier=means[5],
        effective=float(np.mean(np.array(effective) >= ENOUGH)),
        spoken=float(np.mean([word != Grouped.CANNOT_TELL for word in said])),
        named=sum(p for p, word in zip(device, said, strict=True) if word == Grouped.DEVICE)
        / sum(device),
        limits=find_limits(joints),
    )


def _compare(best: Chances, room: Classroom, telling: Telling) -> list[float]:
    ours = diagnose_sets(room, telling)
    joint, own = join_sets(best), join_sets(ours)
    squares = [
        sum(
            joint[truth] * sum((said[name] - (name == truth)) ** 2 for name in GROUPED)
            for truth in GROUPED
        )
        for said in (joint, own)
    ]
    return [
        max(best.values()),
        best[max(ours, key=lambda causes: ours[causes])],
        max(joint.values()),
        joint[max(own, key=lambda name: own[name])],
        *squares,
    ]


def _row(attempts: int, telling: Telling, one: Measures) -> str:
    figures = (
        one.accuracy, one.grouped, one.brier, one.calibration, one.presence, one.spoken, one.right,
        one.blamed_use, one.blamed_none, one.named,
    )  # fmt: skip
    told = " | ".join(f"{figure:.3f}" for figure in figures)
    return f"| {attempts} | {telling.value} | {told} |"


def _read(kept: Path | None) -> dict[str, tuple[list[float], list[int]]]:
    if kept is None or not kept.exists():
        return {}
    lines = kept.read_text(encoding="utf-8").splitlines()
    return {key: (chances, sizes) for key, chances, sizes in map(json.loads, lines)}


if __name__ == "__main__":
    main()
