"""What the diagnosis says of drawn groups, world by world and stage by stage, kept in a file.

In: a world, how many trials, how they are told. Out: `Judged`, one a group and stage. All takes
hours, so what was judged is appended to a file and found there again.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from time import monotonic

from journal.analysis.diagnosis.diagnose import Grouped, group, join, present_causes
from journal.analysis.diagnosis.frame import frame_of_side
from journal.analysis.diagnosis.next_tests import choose_next_test
from journal.analysis.diagnosis.posterior import find_posterior
from journal.analysis.diagnosis.trials import collect_trials
from journal.domain.outcomes import MORE_IS_BETTER
from tests.simulation.classrooms import Telling
from tests.simulation.worlds import PRIORS, Room, Stage, World, draw_rooms

FRAME = frame_of_side(600.0)
#: Causes that are the use's; an own part is one of them while parts were never exchanged.
USES = frozenset({"use_some", "use_all_fading", "use_all_steady", "own_part"})

#: One cell of the report: world, own trials, how they are told.
Cell = tuple[World, int, Telling]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One group at one stage."""

    cause: str
    causes: tuple[str, ...]
    stage: str
    joint: dict[str, float]
    next_test: str | None

    @property
    def truth(self) -> str:
        """Return none, device, use or both."""
        causes = set(self.causes)
        if not causes:
            return "none"
        if causes <= USES:
            # An exchanged part is a thing of its own, told with the device.
            exchanged = self.stage.startswith("exchange") and causes == {"own_part"}
            return "device" if exchanged else "use"
        return "both" if causes & USES else "device"

    @property
    def said(self) -> str:
        """Return what the journal says by its present thresholds."""
        joint = {Grouped(name): chance for name, chance in self.joint.items()}
        return group(joint).value


def judge(room: Room, stage: Stage, telling: Telling) -> Judged:
    """Return what the model holds of a group at a stage."""
    trial_set = collect_trials(room.tell(stage, telling), FRAME, MORE_IS_BETTER, None)
    sets = find_posterior(trial_set, FRAME)
    joint = join(sets)
    proposed = choose_next_test(present_causes(sets), max(joint.values()), trial_set)
    return Judged(
        cause=room.cause,
        causes=tuple(sorted(room.causes)),
        stage=stage.value,
        joint={name.value: round(chance, 4) for name, chance in joint.items()},
        next_test=None if proposed is None else proposed.kind.value,
    )


def judge_cell(
    cell: Cell,
    groups: int,
    seed: int,
    *,
    stages: Iterable[Stage] = tuple(Stage),
    kept: Path | None = None,
    until: float = float("inf"),
) -> list[Judged] | None:
    """Return `groups` of each cause at each stage; None where time (`until`) was up before.

    Groups that stand in `kept` already are found there; the others are added to it.
    """
    world, trials, telling = cell
    known = read_kept(kept, cell, seed)
    found: list[Judged] = []
    stages = tuple(stages)
    for cause in PRIORS:
        for number, room in enumerate(draw_rooms(world, cause, seed, groups, trials)):
            own = known.get((cause, number))
            if own is None:
                if monotonic() > until:
                    return None
                own = [judge(room, stage, telling) for stage in stages]
                if kept is not None:
                    _append(kept, cell, seed, cause, number, own)
            found += own
    return found


def read_kept(kept: Path | None, cell: Cell, seed: int) -> dict[tuple[str, int], list[Judged]]:
    """Return the judged groups of a cell in a file, by cause and number."""
    if kept is None or not kept.exists():
        return {}
    found = defaultdict(list)
    with kept.open(encoding="utf-8") as file:
        for line in file:
            key, cause, number, judged = json.loads(line)
            if key == _key_of(cell, seed):
                found[cause, number] = [
                    Judged(**entry | {"causes": tuple(entry["causes"])}) for entry in judged
                ]
    return dict(found)


def _append(
    kept: Path, cell: Cell, seed: int, cause: str, number: int, judged: Sequence[Judged]
) -> None:
    line = json.dumps([_key_of(cell, seed), cause, number, [asdict(entry) for entry in judged]])
    with kept.open("a", encoding="utf-8") as file:
        file.write(line + "\n")


def _key_of(cell: Cell, seed: int) -> str:
    world, trials, telling = cell
    return f"{world.value} {trials} {telling.value} {seed}"
