"""A launch beside published limits: a form's texts in, a launch and a room out."""

from __future__ import annotations

from collections.abc import Mapping

from journal.analysis.safety import Launch, TipKind
from journal.calculators.quantities import Quantity, read_quantities
from journal.domain.challenges import Challenge

#: What stands in the list of tips for one that is not on the challenge's own list.
OTHER_TIP = "other"


def _asked(key: str, label: str, unit: str, highest: float, hint: str = "") -> Quantity:
    # What is not known stays empty: the page then says what cannot be compared.
    return Quantity(
        key=key, label=label, unit=unit, lowest=0.001, highest=highest, needed=False, hint=hint
    )


LAUNCH_QUANTITIES = (
    _asked("mass_g", "Mass, paint and all", "g", 1000),
    _asked("speed_m_s", "Speed, measured", "m/s", 200, "or give the distance it reaches"),
    _asked("range_m", "Distance it reaches", "m", 200),
    Quantity(
        key="drop_m",
        label="Lands lower by",
        unit="m",
        lowest=-20,
        highest=20,
        needed=False,
        hint="higher: minus",
    ),
    _asked("tip_diameter_mm", "Width of the tip", "mm", 500),
    _asked("mark_diameter_mm", "Width of the mark it leaves", "mm", 500),
    _asked("length_mm", "Length", "mm", 2000),
    _asked("width_mm", "Width", "mm", 2000, "a ball: its width"),
)
ROOM_QUANTITIES = (
    Quantity(
        key="teachers",
        label="Adults who teach",
        unit="",
        lowest=1,
        highest=20,
        needed=False,
        whole=True,
    ),
    _asked("floor_ft2", "Floor of the room", "square feet", 100_000, "1 m² is 10.8 square feet"),
)
#: What can be ticked; the first of each pair is a field of a Launch.
TICKS = (
    ("pointed", "It is pointed"),
    ("suction_cup", "It has a suction cup"),
    ("ball", "It is a ball"),
    ("under_threes_present", "Children under three may be there"),
)
TIP_KINDS = (
    (TipKind.SOFT.value, "soft: it gives way"),
    (TipKind.RIGID.value, "rigid"),
    ("", "not known"),
)


def tips_of(challenge: Challenge) -> tuple[str, ...]:
    """Return the challenge's own list of tips; empty where it has none."""
    return tuple(
        choice
        for part in challenge.parts
        for factor in part.factors
        if factor.key.startswith("tip") and factor.choices
        for choice in factor.choices
    )


def read_launch(challenge: Challenge, entered: Mapping[str, str]) -> Launch:
    """Return the launch as it was written; raise Invalid beside each quantity."""
    given = read_quantities(LAUNCH_QUANTITIES, entered)
    kind = entered.get("tip_kind", "")
    ticked = {name for name, _ in TICKS if entered.get(name)}
    listed = tips_of(challenge)
    return Launch(
        mass_g=given.get("mass_g"),
        speed_m_s=given.get("speed_m_s"),
        range_m=given.get("range_m"),
        drop_m=given.get("drop_m", 0.0),
        tip=TipKind(kind) if kind in set(TipKind) else None,
        tip_diameter_mm=given.get("tip_diameter_mm"),
        mark_diameter_mm=given.get("mark_diameter_mm"),
        pointed="pointed" in ticked,
        tip_listed=not listed or entered.get("tip", listed[0]) in listed,
        suction_cup="suction_cup" in ticked,
        length_mm=given.get("length_mm"),
        width_mm=given.get("width_mm"),
        ball="ball" in ticked,
        under_threes_present="under_threes_present" in ticked,
    )
