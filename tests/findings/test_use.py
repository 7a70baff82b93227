"""Device, use, or both: shares with their intervals, or the reason why they cannot be told."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from journal.analysis.technique import ShareReason
from journal.content.rounding import show_part
from journal.findings.group_findings import find_for_group
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, record_with, told_values

#: Points of one revision, and of a clearly higher one.
LOW, HIGH = [1.0, 1, 2, 1, 2, 1, 2, 1], [8.0, 8, 4, 8, 8, 4, 8, 8]


def _crossed(*, exchanged: bool) -> list[Told]:
    draw = random.Random(7)
    return [
        Told(
            value=float(draw.choice([0, 1, 2, 4, 8])),
            revision=revision,
            student=student,
            own_part=(student + turn) % 3 if exchanged else None,
        )
        for revision in (1, 2, 3)
        for student in range(3)
        for turn in range(4)
    ]


def test_an_own_part_bound_to_its_child_is_said_and_an_exchange_offered(
    store: Store, classroom: Classroom
) -> None:
    """Until parts change hands, dart and handling are one and the same in the data."""
    bound = find_for_group(record_with(store, classroom, _crossed(exchanged=False))).use
    assert bound.offers_exchange
    assert any(
        "cannot be told apart until they are exchanged" in sentence for sentence in bound.sentences
    )
    assert "Use and own part together" in [line.name for line in bound.lines]
    told_apart = find_for_group(record_with(store, classroom, _crossed(exchanged=True))).use
    assert not told_apart.offers_exchange
    assert {"Own part", "Use (who used it)"} <= {line.name for line in told_apart.lines}
    assert 100 == pytest.approx(sum(line.in_100 for line in told_apart.lines), abs=3)


def test_intervals_of_shares_come_on_demand(store: Store, classroom: Classroom) -> None:
    """They hold their share, and the same trials give the same ones."""
    record = record_with(store, classroom, _crossed(exchanged=False))
    assert all(line.interval_in_100 is None for line in find_for_group(record).use.lines)
    lines = find_for_group(record, with_intervals=True).use.lines
    assert lines == find_for_group(record, with_intervals=True).use.lines
    for line in lines:
        assert line.interval_in_100 is not None
        assert line.interval_in_100[0] <= line.in_100 <= line.interval_in_100[1]


@pytest.mark.parametrize(
    ("told", "reason"),
    [
        ([], ShareReason.TOO_FEW_TRIALS),
        ([*told_values(LOW, 1), *told_values(HIGH, 2)], ShareReason.ONE_STUDENT),
        (told_values(LOW, 1, students=3), ShareReason.ONE_REVISION),
        ([replace(one, student=None) for one in told_values(LOW)], ShareReason.NO_STUDENT_KNOWN),
        (
            [*told_values([4.0] * 6, 1, students=2), *told_values([4.0] * 6, 2, students=2)],
            ShareReason.ALL_EQUAL,
        ),
    ],
)
def test_what_cannot_be_separated_says_why(
    store: Store, classroom: Classroom, told: list[Told], reason: ShareReason
) -> None:
    """No share is shown, and the first sentence holds the reason."""
    use = find_for_group(record_with(store, classroom, told)).use
    assert reason is use.shares.reason
    assert () == use.lines
    assert use.sentences[0].startswith(("Cannot say, because", "Cannot separate"))


def test_the_table_of_students_and_revisions_has_means_and_counts(
    store: Store, classroom: Classroom
) -> None:
    """Who did not try a revision has a dash there."""
    told = [*told_values([1, 2, 3, 4], 1, students=2), *told_values([8.0], 2)]
    table = find_for_group(record_with(store, classroom, told)).use.table
    assert ("Student", "Launcher 1", "Launcher 2") == table.header
    assert (("Ada", "2.0 (2)", "8.0 (1)"), ("Ben", "3.0 (2)", "–")) == table.rows


def test_a_share_that_is_there_is_never_shown_as_none() -> None:
    """Only what came out at nothing reads 0."""
    assert ("under 1", "0", "1", "53") == (
        show_part(0.0007, 0),
        show_part(0.0, 0),
        show_part(0.006, 1),
        show_part(0.53, 53),
    )


def test_shares_of_a_page_read_so(store: Store, classroom: Classroom) -> None:
    """Each line is told by its share, not by what it was rounded to."""
    use = find_for_group(record_with(store, classroom, _crossed(exchanged=True))).use
    kept = (use.shares.device, use.shares.own_part, use.shares.use, use.shares.fit)
    shares = [share for share in (*kept, use.shares.consistency) if share is not None]
    told = [show_part(share, line.in_100) for share, line in zip(shares, use.lines, strict=True)]
    assert told == [line.shown for line in use.lines]


def test_each_share_has_its_own_name(store: Store, classroom: Classroom) -> None:
    """What comes out the same again is named last."""
    lines = find_for_group(record_with(store, classroom, _crossed(exchanged=True))).use.lines
    names = [line.name for line in lines]
    assert "Device (its revision)" == names[0]
    assert "The same again" == names[-1]
    assert len(names) == len(set(names))
