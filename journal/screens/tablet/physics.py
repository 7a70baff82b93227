"""A group's page of physics: figures for grades 6 to 8 and the teacher, else the story alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.calculators.physics import PhysicsKind, kinds_for
from journal.calculators.physics_quantities import CALCULATIONS
from journal.calculators.quantities import (
    Figure,
    QuantityField,
    fields_of,
    read_quantities,
    word_figures,
)
from journal.content.physics import get_bound_line, get_kind_name, get_question, get_story
from journal.domain.actors import Role
from journal.domain.classes import GradeBand
from journal.domain.group_contexts import GroupContext
from journal.domain.numbers import show_number
from journal.domain.trials import TrialState
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group

Errors = Mapping[str, list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class PhysicsPage:
    """What physics can say to a group."""

    frame: TabletFrame
    group_id: UUID
    question: str
    #: Where the energy goes; empty where figures take its place.
    story: tuple[str, ...]
    #: Name and key of each kind; empty where there is no choice.
    kinds: tuple[tuple[str, str], ...]
    kind: str
    shows_figures: bool
    fields: tuple[QuantityField, ...]
    figures: tuple[Figure, ...]
    bound: str
    errors: Errors | None = None


def prepare_physics(
    work: Work,
    group_id: UUID,
    entered: Mapping[str, str],
    errors: Errors | None = None,
) -> PhysicsPage:
    """Gather the page; raise Invalid for quantities that cannot be taken.

    `entered` holds the kind, the quantities as they were written and, once they are to be worked
    out, `sent`. With `errors` the form is shown again and nothing is worked out.
    """
    context = get_group_context(work, group_id)
    band, language = context.school_class.band, context.school_class.language
    kinds = kinds_for(context.challenge)
    kind = _choose(kinds, entered.get("kind", ""))
    is_young = band is not GradeBand.SIX_TO_EIGHT
    shows_figures = not is_young or work.actor.role is not Role.TABLET
    calculation = CALCULATIONS[kind]
    sent = bool(entered.get("sent"))
    figures: tuple[Figure, ...] = ()
    if shows_figures and sent and errors is None:
        worked_out = calculation.work_out(read_quantities(calculation.asked, entered))
        figures = word_figures(worked_out, language)
    known = entered if sent or not shows_figures else {**_known(work, context, kind), **entered}
    return PhysicsPage(
        frame=frame_group(context, f"Energy, {context.challenge.title}"),
        group_id=group_id,
        question=get_question(band, language),
        story=get_story(kind.value, band, language) if is_young else (),
        kinds=tuple(
            (physics_kind.value, get_kind_name(physics_kind.value, language))
            for physics_kind in kinds
        )
        if len(kinds) > 1
        else (),
        kind=kind.value,
        shows_figures=shows_figures,
        fields=fields_of(calculation.asked, known, language) if shows_figures else (),
        figures=figures,
        bound=get_bound_line(kind.value, language),
        errors=errors,
    )


def _choose(kinds: tuple[PhysicsKind, ...], chosen: str) -> PhysicsKind:
    return next((kind for kind in kinds if kind.value == chosen), kinds[0])


def _known(work: Work, context: GroupContext, kind: PhysicsKind) -> dict[str, str]:
    """Return what the journal knows already, as it would be written."""
    challenge = context.challenge
    if kind is PhysicsKind.LAUNCHER:
        running = context.running
        distance = running.distance_mm if running else challenge.distance_mm
        return {} if distance is None else {"distance_mm": show_number(distance)}
    if kind is not PhysicsKind.SPAN or challenge.outcome.unit != "g":
        return {}
    asked = [
        criterion.threshold
        for criterion in challenge.criteria
        if criterion.unit == challenge.outcome.unit
    ]
    held = [
        trial.value
        for trial in gather_group(work, context).trials
        if trial.state is TrialState.MEASURED and trial.value
    ]
    known = {"carry_g": show_number(asked[0])} if asked else {}
    return known | ({"broke_g": show_number(max(held))} if held else {})
