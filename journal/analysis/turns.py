"""Whether old and new were tried in turn (A B B A), and which trials then form pairs.

Comes in: records of two revisions. Goes out: pairs of neighbouring trials of one student.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.analysis.records import TrialRecord, by_student


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnPair:
    """Two neighbouring trials of one student, one with each revision."""

    student: str
    old: TrialRecord
    new: TrialRecord
    old_first: bool

    @property
    def difference(self) -> float | None:
        """Return new minus old; None where one of them has no value that counts."""
        old, new = self.old.measured, self.new.measured
        return None if old is None or new is None else new - old


def turn_pairs(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> list[TurnPair] | None:
    """Return the pairs of neighbours of every student who tried both; None if turns were not kept.

    Turns were kept where every student's trials fall into neighbouring pairs of one old and one
    new, and old came first as often as new, give or take one, for each student and in all. A
    misfire holds its place; where that breaks the turns (a re-test), they are looked at without it.
    """
    with_misfires = _pairs_of(old, new)
    if with_misfires is not None:
        return with_misfires
    return _pairs_of(
        [record for record in old if record.measured is not None],
        [record for record in new if record.measured is not None],
    )


def whole_pairs(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> list[TurnPair] | None:
    """Return the pairs of neighbours of a swap test, however often each order came.

    Children leave, pairs lose a trial: what is whole counts, though one order then comes more
    often. None where only one order came, or where some student's trials do not fall into
    neighbours of one old and one new.
    """
    olds, news = by_student(old), by_student(new)
    pairs: list[TurnPair] = []
    for student in olds:
        own = _pairs_of_student(student, olds[student], news.get(student, []))
        if own is None:
            return None
        pairs += own
    return pairs if len({pair.old_first for pair in pairs}) > 1 else None


def lead_of(pairs: Sequence[TurnPair]) -> int:
    """Return in how many more of `pairs` old came first than new."""
    return sum(1 if pair.old_first else -1 for pair in pairs)


def _pairs_of(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> list[TurnPair] | None:
    olds, news = by_student(old), by_student(new)
    pairs: list[TurnPair] = []
    for student in olds:
        if student not in news:
            continue
        own = _pairs_of_student(student, olds[student], news[student])
        if own is None or abs(lead_of(own)) > 1:
            return None
        pairs += own
    if not pairs or abs(lead_of(pairs)) > 1 or len({pair.old_first for pair in pairs}) == 1:
        return None
    return pairs


def _pairs_of_student(
    student: str, old: Sequence[TrialRecord], new: Sequence[TrialRecord]
) -> list[TurnPair] | None:
    if len(old) != len(new):
        return None
    marked = [(record, True) for record in old] + [(record, False) for record in new]
    rows = sorted(marked, key=lambda row: row[0].order)
    pairs = []
    for (first, first_is_old), (second, second_is_old) in zip(rows[::2], rows[1::2], strict=True):
        if first_is_old == second_is_old:
            return None
        pairs.append(
            TurnPair(
                student=student,
                old=first if first_is_old else second,
                new=second if first_is_old else first,
                old_first=first_is_old,
            )
        )
    return pairs
