"""What in the data supports a diagnosis: keys with students and figures, worded elsewhere.

In: records, the set of trials, each student's spread, and how probable each cause is.
Out: `Reason`s, the plainest first. They describe; they name no remedy.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from statistics import median

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.diagnosis.students import StudentSpread
from journal.analysis.diagnosis.trials import Evidence, TrialSet
from journal.analysis.handling import changed_with_handling
from journal.analysis.records import TrialRecord, by_revision, in_order, own_trials

#: Fewer trials than this give no finding, as in `diagnose.py`.
FEWEST_TRIALS = 4
#: A cause is described from this probability on. Set by hand, well below `LEAST_TO_SPEAK`: a reason
#: shows what can be seen, it does not name the cause.
LEAST_TO_DESCRIBE = 0.3
#: A student's centre counts as off the aim point from this share of half the panel's shorter side
#: on (105 mm on a panel of 600 mm; set by hand, below the least offset of the prior, 120 mm).
OFF_SHARE = 0.35
#: A student's scatter stands out from this many times the median of the others' on (set by hand;
#: the least factor of the prior is 2.2).
WIDE_TIMES = 1.7


#: So many first trials of each member, in the first session with the first revision, are learning
#: (common practice, no source: the very same device fails first and works later).
LEARNING_TRIALS = 2
#: sin 22.5 degrees: a direction within 22.5 degrees of an axis has one side, else two.
_SIN_22_5 = 0.3826834323650898


class ReasonKey(StrEnum):
    """What is described."""

    TOO_FEW_TRIALS = "too_few_trials"
    ALL_MISFIRED = "all_misfired"
    ONLY_MISFIRES_SPEAK = "only_misfires_speak"
    ONE_STUDENT = "one_student"
    NO_POSITIONS = "no_positions"
    DISTANCES_DIFFER = "distances_differ"
    #: Students gather off the aim point on one side; `others` do not.
    SAME_SIDE = "same_side"
    SCATTER_OF_ALL = "scatter_of_all"
    STUDENT_WIDE = "student_wide"
    STUDENT_OFF = "student_off"
    LOWER_WITH_AMOUNT = "lower_with_amount"
    WORSE_WITH_AMOUNT = "worse_with_amount"
    MISFIRES = "misfires"
    #: Each used the own part only: it and its student's use are one finding.
    OWN_PART_NEVER_EXCHANGED = "own_part_never_exchanged"
    OWN_PART_FOLLOWS = "own_part_follows"
    USE_FOLLOWS = "use_follows"
    HANDLING_CHANGED = "handling_changed"
    #: Nobody of the group has launched yet.
    ONLY_GUESTS = "only_guests"
    #: The first tries of the first revision in the first session.
    LEARNING = "learning"
    GUESTS = "guests"
    THEIR_DEVICE = "their_device"
    #: Working it out failed.
    NOT_WORKED_OUT = "not_worked_out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One thing that can be seen in the data."""

    key: ReasonKey
    students: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    revisions: tuple[str, ...] = ()
    #: low, high, left, right, or two of them; empty where no side is known.
    sides: tuple[str, ...] = ()
    #: Lengths in mm, counts, probabilities, by name.
    figures: Mapping[str, float] = field(default_factory=dict)

    def as_json(self) -> dict[str, object]:
        """Return what is known as plain values."""
        document: dict[str, object] = {"key": self.key.value}
        for name in ("students", "others", "revisions", "sides"):
            if values := getattr(self, name):
                document[name] = list(values)
        return document | {name: round(value, 3) for name, value in self.figures.items()}


def find_reasons(
    records: Sequence[TrialRecord],
    trial_set: TrialSet,
    students: Mapping[str, StudentSpread],
    present: Mapping[Cause, float],
    frame: Frame,
) -> tuple[Reason, ...]:
    """Return what supports the causes that are probable, and what limits the diagnosis.

    `trial_set` is made of the same `records`; `students` holds each student's spread in mm,
    `present` the probability of each cause, empty where there are too few trials; `frame` is the
    panel's.
    """
    own = own_trials(records)
    limits = _find_limits(records, own, trial_set)
    if not present:
        return tuple(limits)
    half_mm = min(frame.right_mm - frame.left_mm, frame.top_mm - frame.bottom_mm) / 2
    reasons = []
    revisions = tuple(by_revision(own))

    def is_worth(*causes: Cause) -> bool:
        return sum(present.get(cause, 0.0) for cause in causes) >= LEAST_TO_DESCRIBE

    if is_worth(Cause.DEVICE_OFFSET, Cause.USE_ALL_FADING, Cause.USE_ALL_STEADY):
        reasons += _find_same_side(students, half_mm, revisions)
    if is_worth(Cause.DEVICE_SCATTER):
        scatters = [
            spread.scatter_mm for spread in students.values() if spread.scatter_mm is not None
        ]
        if scatters:
            figures = {"least_mm": min(scatters), "most_mm": max(scatters)}
            reasons.append(Reason(key=ReasonKey.SCATTER_OF_ALL, figures=figures))
    if is_worth(Cause.USE_SOME, Cause.OWN_PART):
        reasons += _find_apart(students, half_mm)
        reasons += _find_parts(records, trial_set, present)
    if is_worth(Cause.LOAD) and trial_set.has_load:
        reasons += _find_load(trial_set, frame)
    if is_worth(Cause.MECHANISM):
        figures = {"count": trial_set.misfires, "n": trial_set.count}
        reasons.append(Reason(key=ReasonKey.MISFIRES, figures=figures))
    changed = changed_with_handling(own)
    reasons += [Reason(key=ReasonKey.HANDLING_CHANGED, revisions=pair) for pair in changed]
    return (*reasons, *limits)


def _find_limits(
    records: Sequence[TrialRecord], own: Sequence[TrialRecord], trial_set: TrialSet
) -> list[Reason]:
    if trial_set.count < FEWEST_TRIALS:
        if any(record.guest for record in records) and not own:
            return [Reason(key=ReasonKey.ONLY_GUESTS, figures={"n": len(records)})]
        return [Reason(key=ReasonKey.TOO_FEW_TRIALS, figures={"n": trial_set.count})]
    limits = []
    if trial_set.misfires == trial_set.count:
        limits.append(Reason(key=ReasonKey.ALL_MISFIRED, figures={"n": trial_set.count}))
    elif trial_set.evidence is Evidence.MISFIRES:
        limits.append(Reason(key=ReasonKey.ONLY_MISFIRES_SPEAK))
    elif trial_set.evidence is not Evidence.POSITIONS:
        limits.append(Reason(key=ReasonKey.NO_POSITIONS))
    limits += _find_contrasts(records, own)
    names = {record.student for record in own}
    if len(names) == 1:
        limits.append(Reason(key=ReasonKey.ONE_STUDENT, students=tuple(filter(None, names))))
    if len({record.distance_mm for record in own}) > 1:
        limits.append(Reason(key=ReasonKey.DISTANCES_DIFFER))
    return limits


def _find_contrasts(records: Sequence[TrialRecord], own: Sequence[TrialRecord]) -> list[Reason]:
    """Return what stands apart from the usual trials: first tries, guests, other devices."""
    counts = (
        (ReasonKey.LEARNING, _count_early(own)),
        (ReasonKey.GUESTS, sum(record.guest for record in records)),
        (ReasonKey.THEIR_DEVICE, sum(bool(record.owner) for record in records)),
    )
    return [Reason(key=key, figures={"n": count}) for key, count in counts if count]


def _count_early(own: Sequence[TrialRecord]) -> int:
    """Return how many trials of a first revision in the first session were the first tries of all.

    They stand for learning, whatever the device is like. 0 where all of the trials are such.
    """
    first = in_order(own)[0]
    begun = [r for r in own if (r.revision, r.session) == (first.revision, first.session)]
    early = LEARNING_TRIALS * len({record.student for record in begun})
    return early if early < len(begun) else 0


def _find_same_side(
    students: Mapping[str, StudentSpread], half_mm: float, revisions: tuple[str, ...]
) -> list[Reason]:
    off = {name: spread for name, spread in students.items() if _is_off(spread, half_mm)}
    if not off:
        return []
    offsets = [spread.offset_mm for spread in off.values() if spread.offset_mm is not None]
    placed = [(spread.x_mm, spread.y_mm) for spread in off.values()]
    known = [(x, y) for x, y in placed if x is not None and y is not None]
    sides = _sides_of(sum(x for x, _ in known), sum(y for _, y in known)) if known else ()
    return [
        Reason(
            key=ReasonKey.SAME_SIDE,
            students=tuple(off),
            others=tuple(name for name in students if name not in off),
            revisions=revisions,
            sides=sides,
            figures={"offset_mm": median(offsets)},
        )
    ]


def _find_apart(students: Mapping[str, StudentSpread], half_mm: float) -> list[Reason]:
    """Return who scatters, or gathers off the aim point, unlike the others."""
    reasons = []
    for name, spread in students.items():
        rest = [
            other.scatter_mm
            for label, other in students.items()
            if label != name and other.scatter_mm is not None
        ]
        if (
            spread.scatter_mm is not None
            and rest
            and spread.scatter_mm >= WIDE_TIMES * median(rest)
        ):
            figures = {"scatter_mm": spread.scatter_mm, "others_mm": median(rest)}
            reasons.append(Reason(key=ReasonKey.STUDENT_WIDE, students=(name,), figures=figures))
    off = [name for name, spread in students.items() if _is_off(spread, half_mm)]
    if 0 < len(off) < len(students):
        for name in off:
            spread = students[name]
            reasons.append(
                Reason(
                    key=ReasonKey.STUDENT_OFF,
                    students=(name,),
                    others=tuple(other for other in students if other not in off),
                    sides=()
                    if spread.x_mm is None or spread.y_mm is None
                    else _sides_of(spread.x_mm, spread.y_mm),
                    figures={"offset_mm": spread.offset_mm or 0.0},
                )
            )
    return reasons


def _find_parts(
    records: Sequence[TrialRecord], trial_set: TrialSet, present: Mapping[Cause, float]
) -> list[Reason]:
    if not any(record.own_part for record in records):
        return []
    if not trial_set.is_exchanged:
        return [Reason(key=ReasonKey.OWN_PART_NEVER_EXCHANGED)]
    own, use = present.get(Cause.OWN_PART, 0.0), present.get(Cause.USE_SOME, 0.0)
    key = ReasonKey.OWN_PART_FOLLOWS if own > use else ReasonKey.USE_FOLLOWS
    return [Reason(key=key, figures={"own_part": own, "use": use})]


def _find_load(trial_set: TrialSet, frame: Frame) -> list[Reason]:
    """Return by how much hits lie lower, or else results are worse, for each unit of the amount."""
    by_height = trial_set.evidence is Evidence.POSITIONS
    grouped: dict[str, list[tuple[float, float]]] = {}
    for trial in trial_set.trials:
        reading = trial.hit[1] if by_height and trial.hit is not None else trial.value
        if reading is not None and (not by_height or trial.hit is not None):
            grouped.setdefault(trial.student, []).append((trial.load, reading))
    over = under = 0.0
    for pairs in grouped.values():
        load = sum(pair[0] for pair in pairs) / len(pairs)
        reading = sum(pair[1] for pair in pairs) / len(pairs)
        over += sum((pair[0] - load) * (pair[1] - reading) for pair in pairs)
        under += sum((pair[0] - load) ** 2 for pair in pairs)
    if under == 0:
        return []
    # Height and points fall where a load weighs on them, distances grow.
    worse = over / under if trial_set.evidence is Evidence.MEASURES else -over / under
    if worse <= 0:
        return []
    worse *= trial_set.load_scale
    if by_height:
        figures = {"drop_mm": worse * frame.unit_mm}
        return [Reason(key=ReasonKey.LOWER_WITH_AMOUNT, figures=figures)]
    figures = {"loss": worse if trial_set.evidence is Evidence.POINTS else worse * frame.unit_mm}
    return [Reason(key=ReasonKey.WORSE_WITH_AMOUNT, figures=figures)]


def _is_off(spread: StudentSpread, half_mm: float) -> bool:
    return spread.offset_mm is not None and spread.offset_mm >= OFF_SHARE * half_mm


def _sides_of(x: float, y: float) -> tuple[str, ...]:
    """Return the sides that carry more than sin 22.5 degrees of a direction."""
    size = (x * x + y * y) ** 0.5
    if size == 0:
        return ()
    upward = "high" if y > 0 else "low"
    across = "right" if x > 0 else "left"
    return tuple(side for side, part in ((upward, y), (across, x)) if abs(part) > _SIN_22_5 * size)
