"""Energy of a launch: a figure warns, and never clears."""

from __future__ import annotations

import dataclasses
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.safety import Launch, SafetyCode, SafetyNotice, report_launch
from journal.content.safety_limits import read_safety_limits
from journal.domain.safety_limits import LimitKey

LIMITS = read_safety_limits()


@given(mass_g=st.floats(0.1, 50), range_m=st.floats(0.1, 20))
def test_a_least_energy_never_clears(mass_g: float, range_m: float) -> None:
    """Without a measured speed a launch may be warned of, but is never below all limits."""
    found = report_launch(Launch(mass_g=mass_g, range_m=range_m), LIMITS)
    assert found.energy_is_least
    assert not found.below_all


@given(
    mass_g=st.floats(0.1, 50), speed=st.floats(0.5, 30), more=st.floats(1, 3), tip=st.floats(1, 40)
)
def test_more_speed_never_takes_a_code_away(
    mass_g: float, speed: float, more: float, tip: float
) -> None:
    """Codes only come with more energy."""
    slow = report_launch(Launch(mass_g=mass_g, speed_m_s=speed, tip_diameter_mm=tip), LIMITS)
    fast = report_launch(Launch(mass_g=mass_g, speed_m_s=speed * more, tip_diameter_mm=tip), LIMITS)
    assert set(slow.codes) <= set(fast.codes)


def test_a_measured_energy_below_all_limits_is_told_apart() -> None:
    """Only then may the line about no limit being exceeded be printed."""
    assert report_launch(Launch(mass_g=2, speed_m_s=5, tip_diameter_mm=10), LIMITS).below_all


@pytest.mark.parametrize("value", [None, nan, inf, 0.0, -3.0])
def test_what_is_no_measure_counts_as_not_known(value: float | None) -> None:
    """A mass or a speed that is no positive number leaves the energy unknown."""
    assert report_launch(Launch(mass_g=value, speed_m_s=5), LIMITS).codes == (SafetyCode.E0,)
    assert report_launch(Launch(mass_g=5, speed_m_s=value), LIMITS).codes == (SafetyCode.E0,)
    assert report_launch(Launch(mass_g=5, range_m=3, drop_m=nan), LIMITS).energy_j is not None


def test_the_smaller_of_tip_and_mark_carries_the_energy() -> None:
    """A mark smaller than the tip shows that less of the tip touched."""
    both = Launch(mass_g=3, speed_m_s=8, tip_diameter_mm=12, mark_diameter_mm=6)
    mark = Launch(mass_g=3, speed_m_s=8, mark_diameter_mm=6)
    found = report_launch(both, LIMITS).energy_per_area_j_m2
    assert found == report_launch(mark, LIMITS).energy_per_area_j_m2


@pytest.mark.parametrize(
    "facts",
    [{"tip_diameter_mm": 3.9}, {"pointed": True}, {"tip_listed": False}],
)
def test_thin_pointed_or_unlisted_tips_are_named(facts: dict[str, object]) -> None:
    """E6 needs no energy."""
    launch = dataclasses.replace(Launch(mass_g=1, speed_m_s=1), **facts)  # type: ignore[arg-type]
    assert SafetyCode.E6 in report_launch(launch, LIMITS).codes


def test_small_parts_matter_where_children_under_three_may_be() -> None:
    """A projectile 20 mm wide and 50 mm long fits the cylinder; 80 mm long it does not."""
    small = Launch(mass_g=1, speed_m_s=1, width_mm=20, length_mm=50, under_threes_present=True)
    assert SafetyCode.E7 in report_launch(small, LIMITS).codes
    for change in ({"length_mm": 80.0}, {"under_threes_present": False}, {"width_mm": None}):
        other = dataclasses.replace(small, **change)  # type: ignore[arg-type]
        assert SafetyCode.E7 not in report_launch(other, LIMITS).codes


def test_further_lines_are_found() -> None:
    """A short suction cup, and a long range with energy, each have a line."""
    cup = Launch(mass_g=1, speed_m_s=1, suction_cup=True, length_mm=50)
    assert report_launch(cup, LIMITS).notices == (SafetyNotice.SUCTION_CUP_SHORT,)
    far = Launch(mass_g=10, speed_m_s=6, range_m=3)
    assert report_launch(far, LIMITS).notices == (SafetyNotice.EYES_AND_FACE,)


def test_a_school_may_set_its_own_limit() -> None:
    """With the review energy halved, a launch that passed is to be reviewed."""
    launch = Launch(mass_g=5, speed_m_s=5)
    record = LIMITS.limits[LimitKey.REVIEW_ENERGY_J]
    stricter = LIMITS.with_limit(dataclasses.replace(record, value=0.04))
    assert report_launch(launch, LIMITS).codes == ()
    assert report_launch(launch, stricter).codes == (SafetyCode.E1,)
