"""Who launches what, when: old and new in turn, so that practice cannot pass for a better device.

Comes in: the students present. Goes out: a schedule A B B A (every second student B A A B), with
equal turns and another student first in each round; and a schedule for exchanging own parts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from journal.domain.errors import Invalid
from journal.domain.messages import Message

#: Trials a student; two make one pair.
DEFAULT_TRIALS = 8
#: One trial in its lane, walking and measuring included. Common practice, no source.
SECONDS_A_TRIAL = 45
LEAST_STUDENTS_TO_EXCHANGE = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One trial of the plan; the two trials of a pair follow each other."""

    number: int
    student: str
    #: What is used: a revision, or an own part.
    uses: str
    pair: int


def plan_swap(
    students: Sequence[str],
    old: str,
    new: str,
    trials: int = DEFAULT_TRIALS,
) -> tuple[Turn, ...]:
    """Plan turns of `students` with an old and a new revision, A B B A.

    `trials` is the number for each student. Raises Invalid where turns cannot be equal.
    """
    return _plan(students, dict.fromkeys(students, (old, new)), trials)


def plan_exchange(own_parts: Mapping[str, str], trials: int = DEFAULT_TRIALS) -> tuple[Turn, ...]:
    """Plan turns with one's own part and that of the next student.

    `own_parts` holds each student's part, `trials` is the number for each student. Each part is
    then used by two students and each student uses two parts, in turn. Raises Invalid with fewer
    than two students, or where turns cannot be equal.
    """
    students = list(own_parts)
    if len(students) < LEAST_STUDENTS_TO_EXCHANGE:
        raise Invalid.at("students", Message("swap_plan.two_students_are_needed_to_exchange_parts"))
    lent = dict(zip(students, [*students[1:], students[0]], strict=True))
    uses = {student: (own_parts[student], own_parts[lent[student]]) for student in students}
    return _plan(students, uses, trials)


def _plan(
    students: Sequence[str], uses: Mapping[str, tuple[str, str]], trials: int
) -> tuple[Turn, ...]:
    _require_equal_turns(students, trials)
    turns: list[Turn] = []
    for pair in range(trials // 2):
        first = pair % len(students)
        # Another student begins each round, so that nobody always has the freshest device.
        for student in (*students[first:], *students[:first]):
            place = students.index(student)
            first_use, second_use = uses[student]
            order = (first_use, second_use) if (pair + place) % 2 == 0 else (second_use, first_use)
            turns += [
                Turn(number=len(turns) + step, student=student, uses=use, pair=pair + 1)
                for step, use in enumerate(order, start=1)
            ]
    return tuple(turns)


def _require_equal_turns(students: Sequence[str], trials: int) -> None:
    if not students:
        raise Invalid.at("students", Message("swap_plan.nobody_is_present"))
    if len(set(students)) < len(students):
        raise Invalid.at("students", Message("swap_plan.student_is_named_twice"))
    if trials < 4 or trials % 4:  # noqa: PLR2004
        message = Message("swap_plan.turns_a_b_b_a_come_in_fours")
        raise Invalid.at("trials", message)
