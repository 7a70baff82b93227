"""What is asked for in each kind of calculation; limits keep to what a classroom can hold."""

from __future__ import annotations

from journal.calculators.launch_figures import work_out_launch
from journal.calculators.physics import Calculation, PhysicsKind
from journal.calculators.quantities import Quantity
from journal.calculators.structure_figures import work_out_cart, work_out_fall, work_out_span
from journal.domain.messages import Message, Words


def _needed(
    key: str, label: Message, unit: str, lowest: float, highest: float, hint: Words = ""
) -> Quantity:
    return Quantity(key=key, label=label, unit=unit, lowest=lowest, highest=highest, hint=hint)


def _extra(
    key: str, label: Message, unit: str, lowest: float, highest: float, hint: Words = ""
) -> Quantity:
    return Quantity(
        key=key, label=label, unit=unit, lowest=lowest, highest=highest, hint=hint, needed=False
    )


CALCULATIONS = {
    PhysicsKind.LAUNCHER: Calculation(
        asked=(
            _needed(
                "force_n",
                Message("physics_quantities.greatest_force"),
                "N",
                0.01,
                500,
                Message("physics_quantities.at_full_pull"),
            ),
            _needed("stretch_mm", Message("physics_quantities.stretch"), "mm", 1, 2000),
            _needed("mass_g", Message("physics_quantities.mass_of_the_dart"), "g", 0.1, 1000),
            _extra(
                "moving_g",
                Message("physics_quantities.mass_moving_along"),
                "g",
                0,
                1000,
                Message("physics_quantities.slider_cord"),
            ),
            _extra("paint_g", Message("physics_quantities.paint_on_the_tip"), "g", 0, 200),
            _extra("angle_deg", Message("physics_quantities.tilt_above_level"), "degrees", -30, 89),
            _extra(
                "landing_mm",
                Message("physics_quantities.landing_height"),
                "mm",
                -5000,
                5000,
                Message("physics_quantities.below_the_launch"),
            ),
            _extra(
                "distance_mm",
                Message("physics_quantities.distance_to_the_panel"),
                "mm",
                100,
                50_000,
            ),
            _extra(
                "width_mm",
                Message("physics_quantities.width_of_the_dart"),
                "mm",
                0.5,
                500,
                Message("physics_quantities.across_if_round"),
            ),
            _extra(
                "drag_coefficient",
                Message("physics_quantities.drag_coefficient"),
                "",
                0.01,
                3,
                Message("physics_quantities.ball_about_0"),
            ),
        ),
        work_out=work_out_launch,
    ),
    PhysicsKind.SPAN: Calculation(
        asked=(
            _needed("carry_g", Message("physics_quantities.load_to_carry"), "g", 1, 100_000),
            _needed(
                "span_mm", Message("physics_quantities.span_between_the_supports"), "mm", 10, 5000
            ),
            _needed("width_mm", Message("physics_quantities.width_of_the_deck"), "mm", 1, 2000),
            _needed(
                "thickness_mm",
                Message("physics_quantities.height_of_the_deck"),
                "mm",
                0.05,
                500,
                Message("physics_quantities.if_it_is_solid"),
            ),
            _needed(
                "elasticity_gpa",
                Message("physics_quantities.elastic_modulus"),
                "GPa",
                0.001,
                500,
                Message("physics_quantities.look_it_up"),
            ),
            _extra(
                "broke_g", Message("physics_quantities.load_when_it_gave_way"), "g", 1, 1_000_000
            ),
            _extra("own_g", Message("physics_quantities.its_own_mass"), "g", 0.1, 100_000),
        ),
        work_out=work_out_span,
    ),
    PhysicsKind.FALL: Calculation(
        asked=(
            _needed("mass_g", Message("physics_quantities.mass"), "g", 0.1, 10_000),
            _needed(
                "width_mm",
                Message("launch_forms.width"),
                "mm",
                1,
                3000,
                Message("physics_quantities.across_if_round"),
            ),
            _needed(
                "drag_coefficient",
                Message("physics_quantities.drag_coefficient"),
                "",
                0.01,
                3,
                Message("physics_quantities.open_canopy_1_to_2"),
            ),
            _needed(
                "height_mm", Message("physics_quantities.height_of_the_fall"), "mm", 10, 50_000
            ),
        ),
        work_out=work_out_fall,
    ),
    PhysicsKind.CART: Calculation(
        asked=(
            _needed("mass_g", Message("physics_quantities.mass_of_the_cart"), "g", 1, 10_000),
            _needed("distance_mm", Message("physics_quantities.measured_way"), "mm", 10, 100_000),
            _needed("time_s", Message("physics_quantities.time_for_it"), "s", 0.01, 600),
            _extra(
                "coasted_mm",
                Message("physics_quantities.way_it_coasts_after_that"),
                "mm",
                1,
                100_000,
            ),
        ),
        work_out=work_out_cart,
    ),
}
