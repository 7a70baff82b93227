"""A group: the strokes of its members' marks."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid4

from hypothesis import given
from hypothesis import strategies as st

from journal.domain.groups import MOST_MEMBERS, Group, Member

START = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)


def _group(*times: tuple[UUID, int, int | None]) -> Group:
    """Make a group of students with the minute they joined and the one they left."""
    members = tuple(
        Member(
            student_id=student_id,
            nickname=f"Child {index}",
            joined_at=START + timedelta(minutes=joined),
            left_at=None if left is None else START + timedelta(minutes=left),
        )
        for index, (student_id, joined, left) in enumerate(times)
    )
    return Group(
        id=uuid4(), school_id=uuid4(), class_id=uuid4(), number=1, name="Heron", members=members
    )


def test_strokes_follow_the_order_of_joining() -> None:
    """The first member has one stroke, the fifth has five."""
    ids = [uuid4() for _ in range(5)]
    assert [1, 2, 3, 4, 5] == list(_group(*((one, 0, None) for one in ids)).strokes.values())


def test_nobodys_mark_changes_when_somebody_leaves() -> None:
    """Who stays keeps the strokes, who comes gets the lowest free number."""
    first, second, third, new = (uuid4() for _ in range(4))
    assert {first: 1, second: 2, third: 3, new: 1} == _group(
        (first, 0, 10), (second, 0, None), (third, 0, None), (new, 20, None)
    ).strokes


def test_who_comes_back_keeps_the_strokes_where_they_are_free() -> None:
    """Gone for a lesson, and known by the same mark after it."""
    first, second, new = uuid4(), uuid4(), uuid4()
    back = _group((first, 0, None), (second, 0, 10), (second, 20, None))
    assert {first: 1, second: 2} == back.strokes
    taken = _group((first, 0, None), (second, 0, 10), (new, 15, None), (second, 20, None))
    assert {first: 1, new: 2, second: 3} == taken.strokes


@given(st.lists(st.tuples(st.integers(0, 7), st.integers(0, 50), st.integers(1, 50)), max_size=20))
def test_present_members_never_share_strokes(visits: list[tuple[int, int, int]]) -> None:
    """However children come and go, at most five at a time, the present ones differ."""
    ids = [UUID(int=number) for number in range(8)]
    there: dict[int, int] = {}
    times: list[tuple[UUID, int, int | None]] = []
    for student, joined, stay in sorted(visits, key=lambda each: each[1]):
        now = {one for one, left in there.items() if left > joined}
        if student in now or len(now) == MOST_MEMBERS:
            continue
        there[student] = joined + stay
        times.append((ids[student], joined, joined + stay))
    end = max((joined for _, joined, _ in times), default=0)
    group = _group(*((one, joined, None if left > end else left) for one, joined, left in times))
    shown = [group.strokes[member.student_id] for member in group.present_members]
    assert len(set(shown)) == len(shown)
    assert set(shown) <= set(range(1, MOST_MEMBERS + 1))
