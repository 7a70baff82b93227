"""Limits that a school edits: dated, sourced, and with their earlier values kept."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.content.safety_limits import read_safety_limits
from journal.domain.errors import Invalid, NotFound
from journal.domain.safety_limits import Evidence, LimitKey
from journal.records.work import open_work
from journal.screens.desk.limits import LimitsPage, prepare_limits
from journal.services.safety_limits import limits_of_school
from journal.store.engine import Store
from journal.store.safety_limits import limit_edits_of_school
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.screens.desk.test_energy import CALM, KEY, codes_of, edit, look
from tests.sentences import raises


def look_at_limits(store: Store, clock: StandingClock, room: Classroom) -> LimitsPage:
    """Return the page of limits."""
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        return prepare_limits(work, room.class_id)


def test_a_schools_own_limit_takes_the_place_of_the_published_one(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """It is dated, sourced, and named as the school's; going back brings the published one."""
    edit(store, clock, classroom, {f"{KEY}.value": "0,01", f"{KEY}.source": " District  rule 7 "})
    line = next(
        limit for limit in look_at_limits(store, clock, classroom).limits if limit.key == KEY
    )
    assert ("0.01 J", "0.08 J", True) == (line.shown, line.published, line.is_own)
    assert "District rule 7. Entered by the school on 4 March 2030." == line.source
    assert ["E1"] == codes_of(look(store, clock, classroom, CALM))
    edit(store, clock, classroom, {"published": "1"})
    assert [] == codes_of(look(store, clock, classroom, CALM))


def test_earlier_values_stay_in_the_record(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Three edits are three lines, the newest counts."""
    for value in ("0.05", "0.04"):
        edit(store, clock, classroom, {f"{KEY}.value": value, f"{KEY}.source": "Rule"})
    edit(store, clock, classroom, {"published": "1"})
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        edits = limit_edits_of_school(work.session, classroom.school_id)
        limits = limits_of_school(work, classroom.school_id)
        elsewhere = limits_of_school(work, uuid4())
    assert [0.05, 0.04, None] == [one.value for one in edits]
    assert Evidence.SCHOOL is not limits.limits[LimitKey.REVIEW_ENERGY_J].evidence
    assert read_safety_limits() == elsewhere


@pytest.mark.parametrize(
    ("value", "source", "fields"),
    [
        ("0", "Rule", [f"{KEY}.value"]),
        ("nan", "Rule", [f"{KEY}.value"]),
        ("1e9", "Rule", [f"{KEY}.value"]),
        ("0.05", " ", [f"{KEY}.source"]),
        ("much", "x" * 301, [f"{KEY}.value", f"{KEY}.source"]),
    ],
)
def test_a_limit_that_cannot_be_taken_is_refused(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    value: str,
    source: str,
    fields: list[str],
) -> None:
    """A number above 0 with its source, or nothing is kept."""
    with pytest.raises(Invalid) as caught:
        edit(store, clock, classroom, {f"{KEY}.value": value, f"{KEY}.source": source})
    assert fields == list(caught.value.by_field())
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        assert () == limit_edits_of_school(work.session, classroom.school_id)


def test_a_limit_that_there_is_not_is_not_found(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Its name is in the sentence."""
    with raises(NotFound, match="loudness"):
        edit(store, clock, classroom, {"key": "loudness"})
