"""A launch beside published limits: a form's texts in, a launch and a room out."""

from __future__ import annotations

from collections.abc import Mapping

from journal.analysis.safety import Launch, TipKind
from journal.calculators.quantities import Quantity, read_quantities
from journal.domain.challenges import Challenge
from journal.domain.messages import Message, Words

#: What stands in the list of tips for one that is not on the challenge's own list.
OTHER_TIP = "other"


def _asked(key: str, label: Message, unit: str, highest: float, hint: Words = "") -> Quantity:
    # What is not known stays empty: the page then says what cannot be compared.
    return Quantity(
        key=key, label=label, unit=unit, lowest=0.001, highest=highest, needed=False, hint=hint
    )


LAUNCH_QUANTITIES = (
    _asked("mass_g", Message("launch_forms.mass_paint_and_all"), "g", 1000),
    _asked(
        "speed_m_s",
        Message("launch_forms.speed_measured"),
        "m/s",
        200,
        Message("launch_forms.or_give_the_distance_it_reaches"),
    ),
    _asked("range_m", Message("launch_forms.distance_it_reaches"), "m", 200),
    Quantity(
        key="drop_m",
        label=Message("launch_forms.lands_lower_by"),
        unit="m",
        lowest=-20,
        highest=20,
        needed=False,
        hint=Message("launch_forms.higher_minus"),
    ),
    _asked("tip_diameter_mm", Message("launch_forms.width_of_the_tip"), "mm", 500),
    _asked("mark_diameter_mm", Message("launch_forms.width_of_the_mark_it_leaves"), "mm", 500),
    _asked("length_mm", Message("launch_forms.length"), "mm", 2000),
    _asked(
        "width_mm",
        Message("launch_forms.width"),
        "mm",
        2000,
        Message("launch_forms.ball_by_its_width"),
    ),
)
ROOM_QUANTITIES = (
    Quantity(
        key="teachers",
        label=Message("launch_forms.adults_who_teach"),
        unit="",
        lowest=1,
        highest=20,
        needed=False,
        whole=True,
    ),
    _asked(
        "floor_ft2",
        Message("launch_forms.floor_of_the_room"),
        "square feet",
        100_000,
        Message("launch_forms.one_square_metre"),
    ),
)
#: What can be ticked; the first of each pair is a field of a Launch.
TICKS = (
    ("pointed", Message("launch_forms.it_is_pointed")),
    ("suction_cup", Message("launch_forms.it_has_a_suction_cup")),
    ("ball", Message("launch_forms.it_is_a_ball")),
    ("under_threes_present", Message("launch_forms.children_under_three_may_be_there")),
)
TIP_KINDS = (
    (TipKind.SOFT.value, Message("launch_forms.soft_it_gives_way")),
    (TipKind.RIGID.value, Message("launch_forms.rigid")),
    ("", Message("launch_forms.not_known")),
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
