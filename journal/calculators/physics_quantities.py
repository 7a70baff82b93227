"""What is asked for in each kind of calculation; limits keep to what a classroom can hold."""

from __future__ import annotations

from journal.calculators.launch_figures import work_out_launch
from journal.calculators.physics import Calculation, PhysicsKind
from journal.calculators.quantities import Quantity
from journal.calculators.structure_figures import work_out_cart, work_out_fall, work_out_span


def _needed(
    key: str, label: str, unit: str, lowest: float, highest: float, hint: str = ""
) -> Quantity:
    return Quantity(key=key, label=label, unit=unit, lowest=lowest, highest=highest, hint=hint)


def _extra(
    key: str, label: str, unit: str, lowest: float, highest: float, hint: str = ""
) -> Quantity:
    return Quantity(
        key=key, label=label, unit=unit, lowest=lowest, highest=highest, hint=hint, needed=False
    )


CALCULATIONS = {
    PhysicsKind.LAUNCHER: Calculation(
        asked=(
            _needed("force_n", "Greatest force", "N", 0.01, 500, "at full pull, on a scale"),
            _needed("stretch_mm", "Stretch", "mm", 1, 2000),
            _needed("mass_g", "Mass of the dart", "g", 0.1, 1000),
            _extra("moving_g", "Mass moving along", "g", 0, 1000, "slider, cord"),
            _extra("paint_g", "Paint on the tip", "g", 0, 200),
            _extra("angle_deg", "Tilt above level", "degrees", -30, 89),
            _extra("landing_mm", "Landing height", "mm", -5000, 5000, "below the launch: minus"),
            _extra("distance_mm", "Distance to the panel", "mm", 100, 50_000),
            _extra("width_mm", "Width of the dart", "mm", 0.5, 500, "across, if round"),
            _extra("drag_coefficient", "Drag coefficient", "", 0.01, 3, "a ball about 0.5"),
        ),
        work_out=work_out_launch,
    ),
    PhysicsKind.SPAN: Calculation(
        asked=(
            _needed("carry_g", "Load to carry", "g", 1, 100_000),
            _needed("span_mm", "Span between the supports", "mm", 10, 5000),
            _needed("width_mm", "Width of the deck", "mm", 1, 2000),
            _needed("thickness_mm", "Height of the deck", "mm", 0.05, 500, "if it is solid"),
            _needed("elasticity_gpa", "Elastic modulus", "GPa", 0.001, 500, "look it up"),
            _extra("broke_g", "Load when it gave way", "g", 1, 1_000_000),
            _extra("own_g", "Its own mass", "g", 0.1, 100_000),
        ),
        work_out=work_out_span,
    ),
    PhysicsKind.FALL: Calculation(
        asked=(
            _needed("mass_g", "Mass", "g", 0.1, 10_000),
            _needed("width_mm", "Width", "mm", 1, 3000, "across, if round"),
            _needed("drag_coefficient", "Drag coefficient", "", 0.01, 3, "an open canopy 1 to 2"),
            _needed("height_mm", "Height of the fall", "mm", 10, 50_000),
        ),
        work_out=work_out_fall,
    ),
    PhysicsKind.CART: Calculation(
        asked=(
            _needed("mass_g", "Mass of the cart", "g", 1, 10_000),
            _needed("distance_mm", "Measured way", "mm", 10, 100_000),
            _needed("time_s", "Time for it", "s", 0.01, 600),
            _extra("coasted_mm", "Way it coasts after that", "mm", 1, 100_000),
        ),
        work_out=work_out_cart,
    ),
}
