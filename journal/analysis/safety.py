"""Energy of a launch beside published limits, for the teacher only.

In: what is known of a projectile and its flight, and the limits as records. Out: codes E0 to E7,
notices and the figures behind them. A figure never clears a launch: below every limit the words
are content's, and they speak of eye protection, a clear lane and local rules.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import isfinite, pi, sqrt

from journal.analysis.physics import find_kinetic_energy_j, find_least_speed_m_s
from journal.domain.safety_limits import LimitKey, SafetyLimits

#: A figure within this share above a limit is on it: 2 g at 8.944272 m/s is .08 J.
_ON_LIMIT = 1e-6


class SafetyCode(StrEnum):
    """What the figures say; the words are content's."""

    #: Mass, or both speed and distance, are missing: energy not known.
    E0 = "E0"
    #: Energy above where toy rules begin to limit.
    E1 = "E1"
    #: E1, and energy over contact area above the toy limit.
    E2 = "E2"
    #: Energy over contact area above the level published for eyes.
    E3 = "E3"
    #: A rigid tip above the older limit for rigid tips.
    E4 = "E4"
    #: A soft tip above the older limit for soft tips.
    E5 = "E5"
    #: A thin or pointed tip, or one that the challenge does not list.
    E6 = "E6"
    #: Small enough to choke on, where children under three may be present.
    E7 = "E7"


class SafetyNotice(StrEnum):
    """Further lines to print."""

    SUCTION_CUP_SHORT = "suction_cup_short"
    EYES_AND_FACE = "eyes_and_face"


class TipKind(StrEnum):
    """What the tip is like."""

    RIGID = "rigid"
    SOFT = "soft"


@dataclass(frozen=True, slots=True, kw_only=True)
class Launch:
    """What is known of a projectile and its flight; None where it is not."""

    mass_g: float | None = None
    speed_m_s: float | None = None
    range_m: float | None = None
    #: How much lower than the launch it lands.
    drop_m: float = 0.0
    tip: TipKind | None = None
    tip_diameter_mm: float | None = None
    #: Diameter of the mark it leaves.
    mark_diameter_mm: float | None = None
    pointed: bool = False
    #: Whether the tip is on the challenge's own list.
    tip_listed: bool = True
    suction_cup: bool = False
    length_mm: float | None = None
    width_mm: float | None = None
    ball: bool = False
    under_threes_present: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyReport:
    """Codes and notices, and the figures they rest on."""

    codes: tuple[SafetyCode, ...]
    notices: tuple[SafetyNotice, ...]
    speed_m_s: float | None
    energy_j: float | None
    energy_per_area_j_m2: float | None
    #: True where energy is only a least value from the distance: it may warn, never clear.
    energy_is_least: bool

    @property
    def below_all(self) -> bool:
        """Tell whether a measured energy stays below every limit, and no code is raised."""
        return not self.codes and self.energy_j is not None and not self.energy_is_least


def report_launch(launch: Launch, limits: SafetyLimits) -> SafetyReport:
    """Compare a launch with the limits; what is not a positive number counts as not known."""
    mass_g, speed = _known(launch.mass_g), _known(launch.speed_m_s)
    range_m = _known(launch.range_m)
    is_least = speed is None and range_m is not None
    if is_least and range_m is not None:
        drop_m = launch.drop_m if isfinite(launch.drop_m) else 0.0
        speed = find_least_speed_m_s(range_m, drop_m)
    energy = per_area = None
    if mass_g is not None and speed is not None:
        energy = find_kinetic_energy_j(mass_g / 1000.0, speed)
        area = _find_contact_area_m2(launch)
        per_area = None if area is None else energy / area
    return SafetyReport(
        codes=_find_codes(launch, energy, per_area, limits),
        notices=_find_notices(launch, energy, range_m, limits),
        speed_m_s=speed,
        energy_j=energy,
        energy_per_area_j_m2=per_area,
        energy_is_least=is_least,
    )


def _find_codes(
    launch: Launch, energy: float | None, per_area: float | None, limits: SafetyLimits
) -> tuple[SafetyCode, ...]:
    review = _above(energy, limits.value_of(LimitKey.REVIEW_ENERGY_J))
    rigid = _above(energy, limits.value_of(LimitKey.RIGID_TIP_ENERGY_J))
    soft = _above(energy, limits.value_of(LimitKey.SOFT_TIP_ENERGY_J))
    tip_mm = _known(launch.tip_diameter_mm)
    thin = tip_mm is not None and tip_mm < limits.value_of(LimitKey.LEAST_TIP_MM)
    raised = {
        SafetyCode.E0: energy is None,
        SafetyCode.E1: review,
        SafetyCode.E2: review and _above(per_area, limits.value_of(LimitKey.ENERGY_PER_AREA_J_M2)),
        SafetyCode.E3: _above(per_area, limits.value_of(LimitKey.EYE_ENERGY_PER_AREA_J_M2)),
        SafetyCode.E4: launch.tip is TipKind.RIGID and rigid,
        SafetyCode.E5: launch.tip is TipKind.SOFT and soft,
        SafetyCode.E6: thin or launch.pointed or not launch.tip_listed,
        SafetyCode.E7: launch.under_threes_present and is_small_part(launch, limits),
    }
    return tuple(code for code, holds in raised.items() if holds)


def _find_notices(
    launch: Launch, energy: float | None, range_m: float | None, limits: SafetyLimits
) -> tuple[SafetyNotice, ...]:
    notices = []
    length = _known(launch.length_mm)
    short = length is not None and length < limits.value_of(LimitKey.SUCTION_CUP_LENGTH_MM)
    if launch.suction_cup and short:
        notices.append(SafetyNotice.SUCTION_CUP_SHORT)
    range_mm = None if range_m is None else range_m * 1000.0
    if _above(range_mm, limits.value_of(LimitKey.FACES_RANGE_MM)) and _above(
        energy, limits.value_of(LimitKey.FACES_ENERGY_J)
    ):
        notices.append(SafetyNotice.EYES_AND_FACE)
    return tuple(notices)


def is_small_part(launch: Launch, limits: SafetyLimits) -> bool:
    """Tell whether the projectile of `launch` fits the small-parts cylinder, or is a small ball.

    The cylinder's bottom slants; its greatest depth is taken, so that it rather warns too often.
    """
    width = _known(launch.width_mm)
    if width is None:
        return False
    if launch.ball:
        return width <= limits.value_of(LimitKey.SMALL_BALL_MM)
    return fits_small_parts_cylinder(width, _known(launch.length_mm), limits)


def fits_small_parts_cylinder(
    width_mm: float, length_mm: float | None, limits: SafetyLimits
) -> bool:
    """Tell whether a thing of `width_mm` by `length_mm` fits the cylinder.

    `length_mm` None stands for a ball: its diameter counts for both.
    """
    length = width_mm if length_mm is None else length_mm
    return width_mm <= limits.value_of(LimitKey.SMALL_PART_WIDTH_MM) and length <= limits.value_of(
        LimitKey.SMALL_PART_LENGTH_MM
    )


def find_least_contact_mm(energy_j: float, limits: SafetyLimits) -> float:
    """Return the least diameter of a round contact that keeps `energy_j` per area at the limit."""
    area = energy_j / limits.value_of(LimitKey.ENERGY_PER_AREA_J_M2)
    return 1000.0 * 2.0 * sqrt(area / pi)


def _find_contact_area_m2(launch: Launch) -> float | None:
    """Return the smaller of tip and mark as an area."""
    known = [_known(launch.tip_diameter_mm), _known(launch.mark_diameter_mm)]
    diameters = [diameter for diameter in known if diameter is not None]
    return pi * (min(diameters) / 2000.0) ** 2 if diameters else None


def _known(value: float | None) -> float | None:
    return value if value is not None and isfinite(value) and value > 0.0 else None


def _above(value: float | None, limit: float) -> bool:
    return value is not None and value > limit * (1.0 + _ON_LIMIT)
