"""A launch beside published limits: codes with their sources, and nothing that clears."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from uuid import uuid4

import pytest

from journal.content.safety_limits import read_safety_limits
from journal.domain.actors import Actor
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.domain.safety_limits import LimitKey
from journal.records.work import open_work
from journal.screens.desk.energy import EnergyPage, prepare_energy
from journal.screens.desk.limits import prepare_limits
from journal.services.safety_limits import edit_limit
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import make_bridge_room

KEY = LimitKey.REVIEW_ENERGY_J.value
CALM = {
    "sent": "1",
    "mass_g": "2",
    "speed_m_s": "4",
    "tip_diameter_mm": "12",
    "tip_kind": "soft",
    "tip": "felt",
}


def look(
    store: Store, clock: StandingClock, room: Classroom, entered: dict[str, str]
) -> EnergyPage:
    """Return the teacher's page."""
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        return prepare_energy(work, room.class_id, entered)


def edit(store: Store, clock: StandingClock, room: Classroom, entered: dict[str, str]) -> None:
    """Edit one limit as the teacher."""
    with open_work(store, room.teacher, clock=clock) as work:
        edit_limit(work, room.class_id, {"key": KEY, **entered})


def codes_of(page: EnergyPage) -> list[str]:
    """Return the codes of a page; notices have none."""
    return [line.code for line in page.codes if line.code]


def texts_of(page: EnergyPage) -> Iterator[str]:
    """Yield every sentence of a page."""
    yield from (page.scope, page.below_all, *page.open_lines, *page.room_lines)
    for line in page.codes:
        yield from (line.words, line.source)


def test_the_scope_stands_there_always(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Before anything is entered, with codes, and below every limit."""
    scope = read_safety_limits().scope
    for entered in ({}, CALM, CALM | {"speed_m_s": "40"}):
        assert scope == look(store, clock, classroom, entered).scope


def test_below_every_limit_the_line_promises_nothing(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Eye protection and local rules still apply."""
    page = look(store, clock, classroom, CALM)
    assert ([], ()) == (codes_of(page), page.open_lines)
    assert "Eye protection" in page.below_all
    assert "0.0160 J" == page.figures[1].value


def test_energy_to_review_tells_the_contact_at_its_limit(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """6.38 mm at .08 J within 2500 J/m2 (ASTM F963-17, secondary source), wider as its root.

    2 g at 9.5 m/s are .09025 J; the contact's width need not be known. From a distance alone the
    energy is a least value, and so is the width.
    """
    label = "Round contact at 2500 J/m²"
    for change in ({}, {"tip_diameter_mm": ""}):
        page = look(store, clock, classroom, CALM | {"speed_m_s": "9.5"} | change)
        told = {figure.label: figure.value for figure in page.figures}
        assert f"{6.38 * (0.09025 / 0.08) ** 0.5:.2f} mm across" == told[label]
    far = look(store, clock, classroom, CALM | {"speed_m_s": "", "range_m": "15"})
    assert f"{label}, at least" == far.figures[-1].label
    calm = look(store, clock, classroom, CALM)
    assert label not in {figure.label for figure in calm.figures}


@pytest.mark.parametrize(
    "left_out", [{"speed_m_s": "", "range_m": "2"}, {"tip_diameter_mm": ""}, {"tip_kind": ""}]
)
def test_what_is_not_known_keeps_the_line_away(
    store: Store, clock: StandingClock, classroom: Classroom, left_out: dict[str, str]
) -> None:
    """Without speed, contact or kind of tip some limits were not compared: that is said instead."""
    page = look(store, clock, classroom, CALM | left_out)
    assert "" == page.below_all
    assert 1 == len(page.open_lines)


def test_a_speed_that_could_not_reach_the_distance_clears_nothing(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """4 m/s reaches 1.6 m at most (v^2 / g): with 3 m one of the two is a slip."""
    page = look(store, clock, classroom, CALM | {"range_m": "3"})
    assert "" == page.below_all
    assert "less than the distance needs" in page.open_lines[0]
    assert () == look(store, clock, classroom, CALM | {"range_m": "1.5"}).open_lines


@pytest.mark.parametrize(
    ("entered", "codes"),
    [
        ({"mass_g": ""}, ["E0"]),
        ({"speed_m_s": "", "range_m": ""}, ["E0"]),
        ({"speed_m_s": "9.5"}, ["E1"]),
        ({"speed_m_s": "9.5", "mark_diameter_mm": "6"}, ["E1", "E2", "E3"]),
        ({"speed_m_s": "6", "tip_diameter_mm": "5"}, ["E3"]),
        ({"speed_m_s": "9.5", "tip_kind": "rigid"}, ["E1", "E4"]),
        ({"speed_m_s": "23", "tip_diameter_mm": "25"}, ["E1", "E5"]),
        ({"pointed": "1"}, ["E6"]),
        ({"tip_diameter_mm": "3.5", "speed_m_s": "1"}, ["E6"]),
        ({"tip": "other"}, ["E6"]),
        ({"under_threes_present": "1", "width_mm": "31", "length_mm": "57"}, ["E7"]),
        ({"under_threes_present": "1", "width_mm": "44", "ball": "1"}, ["E7"]),
        ({"under_threes_present": "1", "width_mm": "32", "length_mm": "57"}, []),
    ],
)
def test_each_code_comes_when_it_is_due(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    entered: dict[str, str],
    codes: list[str],
) -> None:
    """A code stands there when its limit is passed, and not before.

    ASTM F963-17 (.08 J, 2500 J/m2, secondary source), Duma et al. 2005 (1503 J/m2), EN 71-1 in an
    older edition (.08 and .5 J), 16 CFR 1501.4 and 1500.18; 4 mm is common practice, no source.
    """
    page = look(store, clock, classroom, CALM | entered)
    assert codes == codes_of(page)
    assert not codes or "" == page.below_all


def test_every_line_names_where_its_limit_comes_from(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Source, how it is known, and since when; the small ball has its own."""
    entered = {
        "tip_kind": "rigid",
        "speed_m_s": "30",
        "under_threes_present": "1",
        "width_mm": "20",
    }
    page = look(store, clock, classroom, CALM | entered)
    assert all(" on 25 November 2026" in line.source for line in page.codes)
    assert "1501.4" in page.codes[-1].source
    ball = look(store, clock, classroom, CALM | entered | {"ball": "1"})
    assert "1500.18" in ball.codes[-1].source


def test_the_two_notices_are_told(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """A short projectile with a suction cup, and a long range with energy."""
    page = look(
        store,
        clock,
        classroom,
        CALM | {"suction_cup": "1", "length_mm": "40", "speed_m_s": "9.5", "range_m": "5"},
    )
    told = " ".join(line.words for line in page.codes if not line.code)
    assert "57 mm" in told
    assert "eyes or face" in told


def test_no_text_says_that_a_launch_is_harmless(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The word is nowhere, whatever is entered; the name of a standard is no promise."""
    for entered in ({}, CALM, CALM | {"speed_m_s": "40", "tip_kind": "rigid", "pointed": "1"}):
        for text in texts_of(look(store, clock, classroom, entered)):
            words = text.lower().replace("toys safety standard", "").split()
            assert not [
                word for word in words if word.strip(".,:;") in {"safe", "unsafe", "safely"}
            ]


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({"mass_g": "heavy"}, "mass_g"),
        ({"mass_g": "0"}, "mass_g"),
        ({"speed_m_s": "inf"}, "speed_m_s"),
        ({"range_m": "-2"}, "range_m"),
        ({"teachers": "0"}, "teachers"),
        ({"floor_ft2": "nan"}, "floor_ft2"),
    ],
)
def test_a_quantity_that_cannot_be_taken_is_refused(
    store: Store, clock: StandingClock, classroom: Classroom, entered: dict[str, str], field: str
) -> None:
    """The sentence stands beside its field."""
    with pytest.raises(Invalid) as caught:
        look(store, clock, classroom, CALM | entered)
    assert [field] == list(caught.value.by_field())


def test_students_and_floor_are_put_beside_recommendations(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """7 students of grades 3 to 5 need 7 x 45 = 315 square feet (NSTA; Motz et al. 2007)."""
    unknown = look(store, clock, classroom, {}).room_lines
    assert ["315 square feet (29 m²)" in line for line in unknown] == [True]
    small = look(store, clock, classroom, CALM | {"floor_ft2": "300"}).room_lines
    assert ["the room has 300 square feet" in line for line in small] == [True]
    enough = look(store, clock, classroom, CALM | {"floor_ft2": "315"}).room_lines
    assert ["are not exceeded by these numbers" in line for line in enough] == [True]


def test_more_students_a_teacher_than_recommended_are_told(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The school counts its own value: 7 students are more than 6 for one, not than 12 for two."""
    key = LimitKey.STUDENTS_PER_TEACHER.value
    edit(store, clock, classroom, {"key": key, f"{key}.value": "6", f"{key}.source": "House rule"})
    alone = look(store, clock, classroom, CALM | {"floor_ft2": "999"}).room_lines
    assert alone[0].startswith("7 students and 1 teacher: more than 6 a teacher")
    both = look(store, clock, classroom, CALM | {"floor_ft2": "999", "teachers": "2"}).room_lines
    assert both[0].startswith("7 students with 2 teachers")


def test_only_the_teacher_of_the_class_sees_and_edits(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A tablet is told that the page is the teacher's, another teacher that there is no class."""
    other: Actor = replace(classroom.teacher, teacher_id=uuid4())
    for actor, error in ((classroom.tablets[0], NotAllowed), (other, NotFound)):
        with open_work(store, actor, clock=clock) as work:
            with pytest.raises(error):
                prepare_energy(work, classroom.class_id, {})
            with pytest.raises(error):
                prepare_limits(work, classroom.class_id)
            with pytest.raises(error):
                edit_limit(work, classroom.class_id, {"key": KEY, "published": "1"})


def test_a_challenge_without_tips_lists_none(store: Store, clock: StandingClock) -> None:
    """A bridge has no tip: none is asked for and none is unlisted."""
    room = make_bridge_room(store, clock)
    page = look(store, clock, room, CALM)
    assert ((), []) == (page.choices.tips, codes_of(page))
