"""Figures of physics with their units: bounds, expectations, and what cannot be said."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from journal.calculators.launch_figures import work_out_launch
from journal.calculators.physics import PhysicsKind, kinds_for
from journal.calculators.physics_quantities import CALCULATIONS
from journal.calculators.quantities import Figure, read_quantities, word_figures
from journal.calculators.structure_figures import work_out_cart, work_out_fall, work_out_span
from journal.content.library import get_ready_challenge
from journal.domain.actors import OPERATOR, Actor
from journal.domain.challenge_documents import read_challenge
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, NotFound
from journal.domain.numbers import show_quantity
from journal.records.work import open_work
from journal.screens.tablet.physics import PhysicsPage, prepare_physics
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.domain.challenge_samples import rolling_cart
from tests.factories.classrooms import Classroom, make_classroom
from tests.services.trial_entries import bridge_entry, log, make_bridge_room

LAUNCH = {"sent": "1", "force_n": "24", "stretch_mm": "60", "mass_g": "20", "moving_g": "5"}


def by_label(figures: tuple[Figure, ...]) -> dict[str, str]:
    """Return the values of figures by their labels."""
    return {figure.label: figure.value for figure in word_figures(figures, "en")}


def look(
    store: Store, clock: StandingClock, actor: Actor, room: Classroom, entered: dict[str, str]
) -> PhysicsPage:
    """Return the first group's page."""
    with open_work(store, actor, writing=False, clock=clock) as work:
        return prepare_physics(work, room.group_ids[0], entered)


@pytest.fixture
def older(store: Store, clock: StandingClock) -> Classroom:
    """Return a launching class of grades 6 to 8."""
    with open_work(store, OPERATOR, clock=clock) as work:
        return make_classroom(work.session, clock(), band=GradeBand.SIX_TO_EIGHT)


def test_a_bands_energy_and_what_paint_does() -> None:
    """4 N/cm stretched by 6 cm holds .72 J (OpenStax University Physics, springs).

    20 g and 30 g with 5 g that moves along: .8452 of the speed, computed from the same formula.
    """
    given = {"force_n": 24.0, "stretch_mm": 60.0, "mass_g": 20.0, "moving_g": 5.0, "paint_g": 10.0}
    figures = work_out_launch(given)
    assert "0.720 J" == by_label(figures)["Energy in the band, at most"]
    assert f"{sqrt(2 * 0.72 / 0.025):.2f} m/s" == figures[1].value
    assert "15.5 in 100 slower" in word_figures(figures, "en")[2].note


def test_a_flight_has_range_height_and_drop() -> None:
    """31.9 m/s at 30 degrees goes 90 m (OpenStax University Physics, golfer)."""
    mass_g = 45.0
    stretch_mm = 1000.0
    force_n = 31.9**2 * mass_g / 1000 / (stretch_mm / 1000)
    found = by_label(
        work_out_launch(
            {
                "force_n": force_n,
                "stretch_mm": stretch_mm,
                "mass_g": mass_g,
                "angle_deg": 30.0,
                "width_mm": 43.0,
                "drag_coefficient": 0.25,
            }
        )
    )
    assert 90.0 == pytest.approx(float(found["Range without air, at most"].split()[0]), abs=0.2)
    through_air = float(found["Range through air, at most"].split()[0])
    assert 40.0 < through_air < 90.0


def test_a_tilt_asks_for_its_own_speed() -> None:
    """90 m at 30 degrees take 31.9 m/s, at 70 degrees 37.0 (OpenStax University Physics, golfer).

    The book takes 9.8 m/s2; with the standard acceleration it is 37.06. Where the landing is not
    as high as the launch, or there is no tilt, nothing is said.
    """
    given = {"force_n": 24.0, "stretch_mm": 60.0, "mass_g": 20.0, "distance_mm": 90_000.0}
    label = "Speed that reaches 90.0 m at this tilt, at least"
    told = {
        tilt: by_label(work_out_launch({**given, "angle_deg": tilt})).get(label)
        for tilt in (0.0, 30.0, 70.0)
    }
    assert {0.0: None, 30.0: "31.9 m/s", 70.0: "37.1 m/s"} == told
    lower = work_out_launch({**given, "angle_deg": 30.0, "landing_mm": -500.0})
    assert label not in by_label(lower)


def test_a_flight_through_air_comes_down_steeper_than_it_rose() -> None:
    """Without air both angles are the same; air slows what goes along."""
    figures = work_out_launch(
        {
            "force_n": 24.0,
            "stretch_mm": 60.0,
            "mass_g": 20.0,
            "angle_deg": 40.0,
            "width_mm": 40.0,
            "drag_coefficient": 0.5,
        }
    )
    note = next(
        figure.note
        for figure in word_figures(figures, "en")
        if figure.label == "Range through air, at most"
    )
    steep = float(note.removesuffix(" degrees below level").split()[-1])
    assert 40.0 < steep < 60.0


def test_what_is_never_reached_is_said() -> None:
    """A landing above the highest point has no range, and no figure breaks."""
    figures = work_out_launch(
        {
            "force_n": 1.0,
            "stretch_mm": 10.0,
            "mass_g": 50.0,
            "angle_deg": 20.0,
            "landing_mm": 4000.0,
            "distance_mm": 3000.0,
        }
    )
    assert "none" == by_label(figures)["Range"]
    assert any("the band can give less" in figure.note for figure in word_figures(figures, "en"))


def test_a_falling_body_comes_to_a_steady_speed() -> None:
    """75 kg, .18 m2, .70: 98 m/s (OpenStax University Physics, skydiver head first)."""
    width_mm = 1000 * sqrt(4 * 0.18 / pi)
    figures = work_out_fall(
        {"mass_g": 75_000.0, "width_mm": width_mm, "drag_coefficient": 0.70, "height_mm": 1e6}
    )
    speed = by_label(figures)["Steady speed through air, expected"]
    assert 98.0 == pytest.approx(float(speed.split()[0]), abs=0.5)


def test_a_span_bends_as_a_plain_beam() -> None:
    """F L^3 / 48 E I with 1 kg, 1 m, 20 x 10 mm and 10 GPa is 9.80665 / 800 m."""
    figures = by_label(
        work_out_span(
            {
                "carry_g": 1000.0,
                "span_mm": 1000.0,
                "width_mm": 20.0,
                "thickness_mm": 10.0,
                "elasticity_gpa": 10.0,
                "broke_g": 2500.0,
                "own_g": 50.0,
            }
        )
    )
    assert "12.3 mm" == figures["Bend in the middle, expected"]
    assert "2.50" == figures["Factor of safety"]
    assert "50.0 times" == figures["Held, in its own masses"]


def test_a_large_bend_is_said_to_be_beyond_the_formula() -> None:
    """A single sheet under a load bends more than the formula can tell."""
    figures = work_out_span(
        {
            "carry_g": 100.0,
            "span_mm": 250.0,
            "width_mm": 100.0,
            "thickness_mm": 0.1,
            "elasticity_gpa": 3.0,
        }
    )
    assert "small bends only" in word_figures(figures, "en")[1].note


def test_a_cart_spends_its_energy_on_friction() -> None:
    """2 m in 4 s with 200 g: .5 m/s and .025 J, spent along 1 m by .025 N (computed).

    Along the measured 2 m the same friction takes .05 J.
    """
    figures = by_label(
        work_out_cart({"mass_g": 200.0, "distance_mm": 2000.0, "time_s": 4.0, "coasted_mm": 1000.0})
    )
    assert ["0.500 m/s", "0.0250 J", "0.0250 N", "0.0500 J"] == list(figures.values())


def test_each_challenge_is_offered_what_fits() -> None:
    """Launching, a span that is loaded in grams, and a small choice for the rest."""
    assert (PhysicsKind.LAUNCHER,) == kinds_for(get_ready_challenge("beyond_the_ditch"))
    assert (PhysicsKind.SPAN,) == kinds_for(get_ready_challenge("paper_bridge"))
    rest = kinds_for(read_challenge(rolling_cart(), "mine.toml"))
    assert {PhysicsKind.CART, PhysicsKind.FALL, PhysicsKind.SPAN} == set(rest)


def test_a_young_tablet_gets_the_story_alone(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """No figure and no field, also when quantities are sent; the teacher gets both."""
    tablet = look(store, clock, classroom.tablets[0], classroom, LAUNCH)
    assert (False, (), ()) == (tablet.shows_figures, tablet.fields, tablet.figures)
    assert tablet.story
    teacher = look(store, clock, classroom.teacher, classroom, LAUNCH)
    assert teacher.story
    assert "0.720 J" == teacher.figures[0].value


def test_an_older_tablet_gets_figures(store: Store, clock: StandingClock, older: Classroom) -> None:
    """Grades 6 to 8 work it out; the distance of today is filled in, what is sent stays."""
    asked = look(store, clock, older.tablets[0], older, {})
    assert () == asked.story
    assert "4000" == next(field.value for field in asked.fields if field.key == "distance_mm")
    found = look(store, clock, older.tablets[0], older, LAUNCH)
    assert "24" == found.fields[0].value
    assert "0.720 J" == found.figures[0].value


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({"force_n": ""}, "force_n"),
        ({"force_n": "nan"}, "force_n"),
        ({"force_n": "1e999"}, "force_n"),
        ({"stretch_mm": "-3"}, "stretch_mm"),
        ({"mass_g": "heavy"}, "mass_g"),
        ({"angle_deg": "90"}, "angle_deg"),
    ],
)
def test_a_quantity_that_cannot_be_taken_is_refused(
    store: Store, clock: StandingClock, older: Classroom, entered: dict[str, str], field: str
) -> None:
    """The sentence stands beside its field."""
    with pytest.raises(Invalid) as caught:
        look(store, clock, older.teacher, older, LAUNCH | entered)
    assert [field] == list(caught.value.by_field())


def test_the_bridge_knows_what_it_has_to_carry(store: Store, clock: StandingClock) -> None:
    """Load to carry from the criterion, load held from the trials."""
    room = make_bridge_room(store, clock)
    log(store, clock, room.tablets[0], bridge_entry(room, clock))
    fields = {field.key: field.value for field in look(store, clock, room.teacher, room, {}).fields}
    threshold = next(one.threshold for one in room.challenge.criteria if one.unit == "g")
    assert (f"{threshold:g}", "340") == (fields["carry_g"], fields["broke_g"])


def test_another_groups_tablet_finds_nothing(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The page belongs to the group and its teacher."""
    with pytest.raises(NotFound):
        look(store, clock, classroom.tablets[1], classroom, {})


@pytest.mark.parametrize("end", ["lowest", "highest"])
@pytest.mark.parametrize("kind", list(PhysicsKind))
def test_the_ends_of_every_limit_give_figures(kind: PhysicsKind, end: str) -> None:
    """No exception, no NaN, no exponent, whatever is entered within the limits."""
    calculation = CALCULATIONS[kind]
    for missing in (None, *(one.key for one in calculation.asked if not one.needed)):
        given = {
            one.key: float(getattr(one, end)) for one in calculation.asked if one.key != missing
        }
        for figure in word_figures(calculation.work_out(given), "en"):
            text = f"{figure.value} {figure.note}".lower()
            assert "nan" not in text
            assert "inf" not in text
            assert "e+" not in text


def test_a_comma_and_a_minus_sign_are_read() -> None:
    """As people write them."""
    asked = CALCULATIONS[PhysicsKind.LAUNCHER].asked
    given = read_quantities(
        asked, {"force_n": "2,5", "stretch_mm": "10", "mass_g": "3", "landing_mm": "−20"}
    )
    assert (2.5, -20.0) == (given["force_n"], given["landing_mm"])


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (0.0, "0"),
        (1234567.0, "1234567"),
        (0.72, "0.720"),
        (12.34, "12.3"),
        (-0.05, "-0.0500"),
        (1e-9, "less than 0.000001"),
        (float("nan"), "not known"),
    ],
)
def test_figures_are_plain(value: float, shown: str) -> None:
    """Three digits that count."""
    assert shown == show_quantity(value)
