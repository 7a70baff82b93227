"""Room limits: more floor for older students, and what is not known is not judged."""

from __future__ import annotations

from journal.analysis.room_limits import report_room
from journal.content.safety_limits import read_safety_limits
from journal.domain.classes import GradeBand


def test_older_students_need_more_floor() -> None:
    """20 students need 900 ft2 in the lower bands and 1200 ft2 in the upper one."""
    limits = read_safety_limits()
    young = report_room(students=20, teachers=1, band=GradeBand.TWO, limits=limits, floor_ft2=1000)
    old = report_room(
        students=20, teachers=1, band=GradeBand.SIX_TO_EIGHT, limits=limits, floor_ft2=1000
    )
    assert (young.needed_floor_ft2, young.too_little_floor) == (900, False)
    assert (old.needed_floor_ft2, old.too_little_floor) == (1200, True)


def test_an_unknown_floor_is_not_judged() -> None:
    """Without the room's size there is only the need."""
    found = report_room(students=20, teachers=1, band=GradeBand.TWO, limits=read_safety_limits())
    assert found.too_little_floor is None
