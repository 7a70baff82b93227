"""Handling: what changes when the same student uses the same revision in another way.

In: trial records and the direction. Out: for each two ways of handling a comparison within student
and device, and the ways that nobody used alike; and which changes of revision came along with a
change of handling. A change of recorded handling is use, and is said as such.

A record's handling is a choice ("full"), or several with names ("hand=right; pull=full"): then one
is looked at while the others stay the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from journal.analysis.compare import Comparison, cut_at_look, measure
from journal.analysis.comparisons import settle
from journal.analysis.looks import Course
from journal.analysis.records import TrialRecord, by_revision, by_student
from journal.analysis.verdicts import Verdict
from journal.domain.outcomes import Direction


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingContrast:
    """One choice beside another, each student with each device compared with themselves."""

    #: What was chosen, such as "pull"; "" where it has no name.
    name: str
    #: `old` and `new` are the choices in order of appearance; nothing else differs but time.
    comparison: Comparison
    #: Students who used both.
    students: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingApart:
    """Two choices that no student used with one device and all else alike."""

    name: str
    first: str
    second: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingFinding:
    """What can be said of the ways of handling, and what cannot."""

    #: Whether any trial by a known student has its handling recorded.
    recorded: bool
    contrasts: tuple[HandlingContrast, ...]
    apart: tuple[HandlingApart, ...]


#: What stands for ways of handling that could not be looked at.
NO_HANDLING = HandlingFinding(recorded=False, contrasts=(), apart=())


def contrast_handlings(
    records: Sequence[TrialRecord], direction: Direction, steps: Sequence[int] | None = None
) -> HandlingFinding:
    """Compare each two choices that some student used with one revision, own part and place.

    With `steps` they are looked at each time the comparison has reached a further one of these
    numbers of trials, and every look is paid for; without, once, on all. They are adjusted for one
    another by Holm, as all contrasts are shown together.
    """
    sides = [
        (record, choices)
        for record in records
        if record.student and (choices := split_handling(record.handling))
    ]
    measured, students, apart = [], [], []
    for name in dict.fromkeys(name for _, choices in sides for name in choices):
        if len({choices.get(name) for _, choices in sides}) == 1:
            continue
        pairs = [
            (record.student, _in_cell(record, choices, name))
            for record, choices in sides
            if choices.get(name)
        ]
        cells = [cell for _, cell in pairs]
        owners = {cell.student: student for student, cell in pairs}
        by_choice = {
            choice: own
            for choice, own in by_revision(cells).items()
            if any(record.measured is not None for record in own)
        }
        for first, second in combinations(by_choice, 2):
            old, new = _shared(by_choice[first], by_choice[second])
            if not old:
                apart.append(HandlingApart(name=name, first=first, second=second))
                continue
            comparison = _measure(old, new, direction, steps)
            measured.append((name, comparison))
            students.append(len({owners[record.student] for record in old}))
    settled = settle([comparison for _, comparison in measured], direction)
    return HandlingFinding(
        recorded=bool(sides),
        contrasts=tuple(
            HandlingContrast(name=name, comparison=comparison, students=count)
            for (name, _), comparison, count in zip(measured, settled, students, strict=True)
        ),
        apart=tuple(apart),
    )


def split_handling(handling: str) -> dict[str, str]:
    """Return the choices in a record's `handling` by name; "" is the name of one without a name."""
    parts = [part.strip() for part in handling.split(";")]
    named = [part.partition("=") for part in parts if part]
    return {
        name.strip() if equals else "": choice.strip() if equals else name.strip()
        for name, equals, choice in named
    }


def changed_with_handling(records: Sequence[TrialRecord]) -> tuple[tuple[str, str], ...]:
    """Return neighbouring revisions that share no handling: device and use changed together."""
    used = {
        revision: {record.handling for record in members}
        for revision, members in by_revision(records).items()
    }
    labels = list(used)
    return tuple((old, new) for old, new in pairwise(labels) if not used[old] & used[new])


#: Between the fields of a cell's name; stands in no text that a person typed.
_BETWEEN = "\x1f"


def _in_cell(record: TrialRecord, choices: dict[str, str], name: str) -> TrialRecord:
    """Return the record as one of a choice, by a student in one cell of all that stays the same."""
    others = (f"{key}={choices[key]}" for key in sorted(choices) if key != name)
    alike = (
        record.student,
        record.revision,
        record.own_part,
        record.panel,
        "" if record.distance_mm is None else f"{record.distance_mm:g}",
        *others,
    )
    return replace(record, revision=choices[name], student=_BETWEEN.join(alike), handling="")


def _shared(
    old: Sequence[TrialRecord], new: Sequence[TrialRecord]
) -> tuple[list[TrialRecord], list[TrialRecord]]:
    """Return the records of cells in which both choices have a value that counts."""
    cells = [
        {
            cell
            for cell, members in by_student(side).items()
            if any(record.measured is not None for record in members)
        }
        for side in (old, new)
    ]
    both = cells[0] & cells[1]
    return [trial_record for trial_record in old if trial_record.student in both], [
        trial_record for trial_record in new if trial_record.student in both
    ]


def _measure(
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    direction: Direction,
    steps: Sequence[int] | None,
) -> Comparison:
    """Measure up to the last look, on the cells that then hold both choices."""
    step: int | None = None
    course: Course = ()
    if steps is not None:
        cut_old, cut_new, step, course = cut_at_look(old, new, steps)
        cut_old, cut_new = _shared(cut_old, cut_new)
        if cut_old:
            old, new = cut_old, cut_new
    # These would go over pairs of trials with different devices.
    comparison = replace(
        measure(old, new, direction, None),
        hodges_lehmann=None,
        cliff_delta=None,
        pairs=None,
        step=step,
        course=course,
        misfires=None,
    )
    waits = course is None and comparison.verdict.tests
    return replace(comparison, verdict=Verdict.HINT) if waits else comparison
