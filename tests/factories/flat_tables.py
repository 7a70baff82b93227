"""Tables of trials in which much is the same: constant, sparse, exchanged, mostly zero."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st

from journal.analysis.records import TrialRecord
from tests.factories.group_records import Told

#: One child always hits one zone, another one a different zone: nine trials over four revisions.
#: The walk of the shares came to variances whose matrix lost a pivot to rounding.
ONE_ZONE_A_CHILD = (
    *((3, 1, 2.0), (2, 0, 4.0), (3, 0, 4.0), (3, 1, 2.0), (1, 1, 2.0)),
    *((1, 1, 2.0), (3, 1, 2.0), (4, 1, 2.0), (2, 1, 2.0)),
)
_POINTS = st.sampled_from([0.0, 2.0, 4.0, 8.0])
_PLACES = st.tuples(st.integers(1, 4), st.integers(0, 2))


@st.composite
def flat_tables(draw: st.DrawFn) -> list[Told]:
    """Return trials whose result hangs on little: the child, the cell, or nothing at all."""
    kind = draw(st.sampled_from(["constant", "child", "cell", "exchanged", "mostly_zero"]))
    places = draw(st.lists(_PLACES, min_size=1, max_size=16))
    known: dict[object, float] = {}
    told = []
    for revision, student in places:
        own_part = draw(st.integers(0, 2)) if kind == "exchanged" else student
        key = {"child": student, "cell": (revision, student), "exchanged": own_part}.get(kind, 0)
        if key not in known:
            known[key] = draw(_POINTS)
        value = draw(st.sampled_from([0.0] * 9 + [8.0])) if kind == "mostly_zero" else known[key]
        told.append(Told(value=value, revision=revision, student=student, own_part=own_part))
    return told


def one_zone_a_child() -> list[Told]:
    """Return the nine trials that once brought the group's page down."""
    return [
        Told(value=value, revision=revision, student=student)
        for revision, student, value in ONE_ZONE_A_CHILD
    ]


def as_records(told: Sequence[Told]) -> list[TrialRecord]:
    """Return the same trials as the analysis takes them."""
    return [
        TrialRecord(
            order=order,
            revision=str(one.revision),
            student=str(one.student),
            own_part="" if one.own_part is None else str(one.own_part),
            value=one.value,
        )
        for order, one in enumerate(told, start=1)
    ]


def as_rows(told: Sequence[Told], group: str) -> list[str]:
    """Return the same trials as rows of a file: group, revision, student, own_part, value."""
    return [
        f"{group},{one.revision},{one.student},{one.own_part},{one.value}".replace("None", "")
        for one in told
    ]
