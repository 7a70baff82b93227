"""Groups at a panel whose cause is known, with contrasts: one world of ours and three that are not.

In: a world, a cause, a seed. Out: `Room`s, told as trial records at each stage of a comparison.
`OWN` draws from the priors of the model (analysis/diagnosis/causes.py). Nothing was tuned on the
others: A has Laplace noise and children who tire; B a skill that jumps once and trials that hang
together; C two causes at once, guests with habits of 40 mm, and a second revision that helps.
All values are invented. Lengths in units of 100 mm from the aim point, on a panel of 600 mm.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from math import hypot, pi

import numpy as np

from journal.analysis.records import TrialRecord
from journal.domain.trials import Place
from tests.simulation.classrooms import HALF_PANEL_MM, Telling, points_at

SIZES = (3, 4, 5)
UNIT_MM = 100.0
#: Prior of each main cause in a world, as the model has it.
PRIORS = {
    "none": 0.25, "device_offset": 0.14, "device_scatter": 0.08, "load": 0.06, "mechanism": 0.06,
    "own_part": 0.05, "use_some": 0.12, "use_all_fading": 0.14, "use_all_steady": 0.10,
}  # fmt: skip
#: Causes of which "device" is never to be said.
BLAMELESS = ("none", "use_some", "use_all_fading", "use_all_steady")


class World(StrEnum):
    """Where groups come from."""

    OWN = "own"
    A = "A"
    B = "B"
    C = "C"


class Stage(StrEnum):
    """What was launched after the group's own trials."""

    BEFORE = "before"
    GUESTS_4 = "guests 4"
    GUESTS_8 = "guests 8"
    THEIRS_4 = "their device 4"
    THEIRS_8 = "their device 8"
    EXCHANGE_4 = "exchange 4"
    MORE_6 = "six more own"


@dataclass(slots=True, kw_only=True)
class Room:
    """One group: its fault and its people, drawn once; launches are drawn stage by stage."""

    world: World
    cause: str
    causes: frozenset[str]
    seed: int
    size: int
    scatter: np.ndarray
    pull: np.ndarray
    device: np.ndarray
    older: np.ndarray
    shared: np.ndarray
    fade: tuple[str, float]
    wider_at_first: float
    extra: float
    slope: float
    misfire: float
    carriers: dict[int, tuple[float, np.ndarray]]
    in_parts: bool
    noise: str
    attempts: int
    jump_at: int
    habits: np.ndarray
    guest_scatter: np.ndarray
    drift: dict[int, np.ndarray] = field(default_factory=dict)

    def tell(self, stage: Stage, telling: Telling) -> list[TrialRecord]:
        """Return the records up to a stage; own trials are the same at every stage."""
        self.drift = {}
        rng = np.random.default_rng(self.seed)
        launched = [(at % self.size, at % self.size, False) for at in range(self.attempts)]
        later = [(at % self.size) for at in range(self.attempts, self.attempts + 8)]
        count = int(stage.value.rpartition(" ")[2]) if stage.value[-1].isdigit() else 0
        if stage is Stage.MORE_6:
            launched += [(student, student, False) for student in later[:6]]
        elif stage in {Stage.THEIRS_4, Stage.THEIRS_8}:
            launched += [(student, student, True) for student in later[:count]]
        elif stage is Stage.EXCHANGE_4:
            # The first two use each other's part, in turn.
            launched += [(at % 2, 1 - at % 2, False) for at in range(count)]
        records = [
            self._launch(rng, telling, at + 1, student, at / self.size, theirs=theirs, part=part)
            for at, (student, part, theirs) in enumerate(launched)
        ]
        if stage in {Stage.GUESTS_4, Stage.GUESTS_8}:
            order = len(records)
            records += [self._guest(rng, telling, order + at + 1, at % 2) for at in range(count)]
        return records

    def _left(self, practice: float, launched: float) -> float:
        shape, size = self.fade
        if shape == "exp":
            return float(np.exp(-practice / size))
        if shape == "power":
            return float((1 + practice) ** -size)
        if shape == "jump":
            return 1.0 if launched < self.jump_at else size
        return 1.0

    def _noise(self, rng: np.random.Generator, person: int, scale: float) -> np.ndarray:
        if self.noise == "laplace":
            return rng.laplace(0, 1, 2) / np.sqrt(2) * scale
        if self.noise in {"heavy", "calm"}:
            width = np.sqrt(3 / rng.chisquare(3)) / (np.sqrt(3) if self.noise == "calm" else 1)
            return rng.normal(0, 1, 2) * width * scale
        fresh = rng.normal(0, 1, 2)
        if self.noise == "together":
            last = self.drift.get(person)
            fresh = fresh if last is None else 0.4 * last + np.sqrt(1 - 0.16) * fresh
            self.drift[person] = fresh
        return fresh * scale

    def _launch(
        self,
        rng: np.random.Generator,
        telling: Telling,
        order: int,
        student: int,
        practice: float,
        *,
        theirs: bool,
        part: int,
    ) -> TrialRecord:
        first = self.world is World.C and order <= self.attempts // 2
        left = self._left(practice, practice * self.size)
        tired = max(0.0, practice - 3) if self.world is World.A else 0.0
        wide, pulled = self.carriers.get(part if self.in_parts else student, (1.0, np.zeros(2)))
        scale = self.scatter[student] * wide * (1 + self.wider_at_first * left) * (1 + 0.08 * tired)
        place = self.pull[student] + pulled + self.shared * left - np.array([0, 0.06 * tired])
        if not theirs:
            scale = hypot(scale, self.extra)
            place = place + (self.older if first else self.device)
        amount = int(rng.integers(1, 9))
        place = place - np.array([0, self.slope * max(0, amount - 2)])
        at = place + self._noise(rng, student, scale)
        misfired = not theirs and rng.random() < self.misfire
        return _tell(
            telling, at, misfired, order=order, revision="r1" if first else "r2",
            student=f"s{student + 1}", own_part=f"d{part + 1}", amount=float(amount),
            owner="Rook" if theirs else "",
        )  # fmt: skip

    def _guest(
        self, rng: np.random.Generator, telling: Telling, order: int, guest: int
    ) -> TrialRecord:
        amount = int(rng.integers(1, 9))
        scale = hypot(self.guest_scatter[guest], self.extra)
        place = self.device + self.habits[guest]
        place = place - np.array([0, self.slope * max(0, amount - 2)])
        at = place + self._noise(rng, 100 + guest, scale)
        return _tell(
            telling, at, rng.random() < self.misfire, order=order, revision="r2",
            student=f"g{guest + 1}", own_part=f"e{guest + 1}", amount=float(amount), guest=True,
        )  # fmt: skip


def _tell(telling: Telling, at: np.ndarray, misfired: bool, **known: object) -> TrialRecord:  # noqa: FBT001
    x_mm, y_mm = float(at[0] * UNIT_MM), float(at[1] * UNIT_MM)
    on_panel = max(abs(x_mm), abs(y_mm)) <= HALF_PANEL_MM
    hit = telling is Telling.POSITIONS and on_panel and not misfired
    value = None
    if not misfired and telling is Telling.MEASURES:
        value = hypot(x_mm, y_mm) if on_panel else HALF_PANEL_MM
    elif not misfired:
        value = points_at(x_mm, y_mm)
    return TrialRecord(
        x_mm=x_mm if hit else None,
        y_mm=y_mm if hit else None,
        value=value,
        place=None if misfired else Place.PANEL if on_panel else Place.WALL,
        misfire="slipped" if misfired else None,
        **known,  # type: ignore[arg-type]
    )


def draw_rooms(world: World, cause: str, seed: int, count: int, attempts: int) -> list[Room]:
    """Draw `count` groups of a world with this main cause, `attempts` own trials each."""
    rng = np.random.default_rng([seed, attempts, *map(ord, f"{world} {cause}")])
    return [_draw(rng, world, cause, attempts) for _ in range(count)]


def _vector(rng: np.random.Generator, low: float, high: float, *, sinks: bool = True) -> np.ndarray:
    angle = rng.uniform(-pi, pi)
    if sinks and rng.random() < 0.7:
        angle = -pi / 2 + rng.uniform(-pi / 4, pi / 4)
    return rng.uniform(low, high) * np.array([np.cos(angle), np.sin(angle)])


def _draw(rng: np.random.Generator, world: World, cause: str, attempts: int) -> Room:
    size = int(rng.choice(SIZES))
    causes = {cause} - {"none"}
    if world is World.C and rng.random() < 0.5:
        causes |= {_second(rng, cause)} - {""}
    device = rng.normal(0, 0.2, 2)
    shared, fade, wider = np.zeros(2), ("level", 1.0), 0.0
    if "device_offset" in causes:
        device = _vector(rng, 1.2, 2.6)
    if "use_all_steady" in causes:
        shared = _vector(rng, 1.2, 2.6)
    if "use_all_fading" in causes:
        fade = _draw_fade(rng, world)
        kind = rng.random()
        if kind < 0.8:
            shared = _vector(rng, 1.2, 2.6)
        wider = 0.0 if kind < 0.5 else 0.8 if kind < 0.8 else 1.5
    carriers = {}
    if causes & {"use_some", "own_part"}:
        for carrier in rng.choice(size, int(rng.integers(1, 3)), replace=False):
            poor = (float(rng.uniform(2.2, 3.5)), np.zeros(2))
            if rng.random() < 0.5:
                poor = (1.0, _vector(rng, 1.2, 2.2, sinks=False))
            carriers[int(carrier)] = poor
    older = device + (_vector(rng, 1.2, 1.8) if world is World.C else 0.0)
    noise = {World.A: "laplace", World.B: "together", World.C: "normal"}.get(world)
    return Room(
        world=world,
        cause=cause,
        causes=frozenset(causes),
        seed=int(rng.integers(1 << 31)),
        size=size,
        scatter=0.9 * np.exp(rng.normal(0, 0.25, size)),
        pull=rng.normal(0, 0.25, (size, 2)),
        device=device,
        older=older,
        shared=shared,
        fade=fade,
        wider_at_first=wider,
        extra=float(rng.uniform(1.1, 2.0)) if "device_scatter" in causes else 0.0,
        slope=float(rng.uniform(0.15, 0.40)) if "load" in causes else 0.0,
        misfire=float(rng.uniform(0.25, 0.5)) if "mechanism" in causes else 0.03,
        carriers=carriers,
        in_parts="own_part" in causes,
        noise=noise or str(rng.choice(["normal", "heavy", "calm"], p=[0.5, 0.25, 0.25])),
        attempts=attempts,
        jump_at=int(rng.uniform(0.25, 0.75) * attempts),
        habits=rng.normal(0, 0.40 if world in {World.A, World.C} else 0.30, (2, 2)),
        guest_scatter=0.9 * np.exp(rng.normal(0, 0.25, 2)),
    )


def _draw_fade(rng: np.random.Generator, world: World) -> tuple[str, float]:
    if world is World.B:
        return ("jump", 0.1)
    if world is World.A:
        return ("power", float(rng.choice([0.6, 0.9])))
    shapes = (("exp", 2.0), ("exp", 4.2), ("exp", 9.0), ("power", 0.45), ("power", 0.75),
              ("power", 1.05))  # fmt: skip
    return shapes[int(rng.integers(len(shapes)))]


def _second(rng: np.random.Generator, cause: str) -> str:
    """Return a second cause that leaves the main reading as it is: use, or device."""
    if cause in {"use_all_fading", "use_all_steady"}:
        return "use_some"
    if cause == "use_some":
        return "use_all_fading"
    if cause == "device_offset":
        return str(rng.choice(["device_scatter", "load", "mechanism"]))
    return ""
