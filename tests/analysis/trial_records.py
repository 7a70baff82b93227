"""Short ways to write trial records in tests."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from hypothesis import strategies as st

from journal.analysis.permutation.strata import Stratum
from journal.analysis.records import TrialRecord


def trials(
    revision: str, values: Iterable[float | None], *, student: str = "", start: int = 1, **more: Any
) -> list[TrialRecord]:
    """Return one trial a value, in order; None stands for a misfire."""
    return [
        TrialRecord(
            order=order,
            revision=revision,
            student=student,
            value=value,
            misfire="slipped" if value is None else None,
            **more,
        )
        for order, value in enumerate(values, start=start)
    ]


def turns(pattern: str, values: Sequence[float | None], *, student: str = "") -> list[TrialRecord]:
    """Return trials in the order of a pattern of revisions such as ABBA."""
    return [
        record
        for order, (revision, value) in enumerate(zip(pattern, values, strict=True), start=1)
        for record in trials(revision, [value], student=student, start=order)
    ]


#: Points of zones, whole millimetres, tenths: what is measured in a classroom.
MEASURES = st.one_of(
    st.sampled_from([0.0, 1.0, 2.0, 4.0, 8.0]),
    st.integers(0, 300).map(float),
    st.integers(-200, 200).map(lambda tenths: tenths / 10),
)


def strata(most: int = 4, students: int = 3) -> st.SearchStrategy[list[Stratum]]:
    """Return strata of a few students with at least one value a side."""
    values = st.lists(MEASURES, min_size=1, max_size=most).map(tuple)
    return st.lists(st.builds(Stratum, values, values), min_size=1, max_size=students)
