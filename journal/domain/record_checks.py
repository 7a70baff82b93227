"""Values of a record that its own challenge does not know: none may come in with a backup.

A tablet, a form and a table are checked as they come in; a file that was made elsewhere is not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from journal.domain.challenges import Challenge, OutcomeKind
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.panels import Panel
from journal.domain.part_states import PartState
from journal.domain.sessions import Session
from journal.domain.trial_outcomes import check_amount
from journal.domain.trial_rules import check_handling
from journal.domain.trials import Trial


def find_foreign_value(record: GroupRecord) -> Message | None:
    """Return the first value that the challenge does not know; None where there is none."""
    return next(_foreign_values(record), None)


def _foreign_values(record: GroupRecord) -> Iterator[Message]:
    challenge = record.context.challenge
    if record.group.number < 1:
        yield Message("record_checks.group_number", number=record.group.number)
    for session in record.context.sessions:
        yield from _of_session(session)
    for state in record.parts:
        yield from _of_part(state, challenge)
    for adaptation in record.adaptations:
        if adaptation.distance_mm is not None and adaptation.distance_mm < 1:
            yield Message("record_checks.adaptation_distance", mm=adaptation.distance_mm)
    for trial in record.trials:
        for what in _of_trial(trial, challenge):
            number = record.trial_numbers[trial.id]
            yield Message("record_checks.trial", number=number, group=record.group.name, what=what)


def _of_session(session: Session) -> Iterator[Message]:
    number = session.number
    if number < 1:
        yield Message("record_checks.session_number", number=number)
    if session.lanes < 1:
        yield Message("record_checks.session_lanes", number=number, lanes=session.lanes)
    if session.distance_mm is not None and session.distance_mm < 1:
        yield Message("record_checks.session_distance", number=number, mm=session.distance_mm)


def _of_part(state: PartState, challenge: Challenge) -> Iterator[Message]:
    materials = {material.key for material in challenge.materials}
    for revision in state.revisions:
        part, number = state.name, revision.number
        if number < 1:
            yield Message("record_checks.revision_number", part=part, number=number)
        for used in revision.materials:
            material, amount = used.material, used.amount
            if material not in materials:
                yield Message("record_checks.material", part=part, number=number, material=material)
            if not 0 <= amount < math.inf:
                yield Message(
                    "record_checks.material_amount",
                    part=part,
                    number=number,
                    amount=amount,
                    material=material,
                )


def _of_trial(trial: Trial, challenge: Challenge) -> Iterator[Message]:
    if trial.misfire is not None and trial.misfire not in {
        cause.key for cause in challenge.misfires
    }:
        yield Message("record_checks.misfire", misfire=trial.misfire)
    if check_handling(challenge, dict(trial.handling)):
        yield Message("record_checks.handling")
    if trial.amount is not None and check_amount(challenge.outcome, trial.amount):
        yield Message("record_checks.amount", amount=trial.amount)
    if trial.distance_mm is not None and trial.distance_mm < 1:
        yield Message("record_checks.distance", mm=trial.distance_mm)
    if challenge.outcome.kind is OutcomeKind.ZONES and challenge.panel is not None:
        yield from _on_panel(trial, challenge.panel)
    else:
        yield from _of_measure(trial, challenge)


def _on_panel(trial: Trial, panel: Panel) -> Iterator[Message]:
    if trial.zone is not None and trial.zone not in {zone.key for zone in panel.zones}:
        yield Message("record_checks.zone", zone=trial.zone)
    points = {panel.bare_points, panel.wall_points, panel.nowhere_points}
    points |= {zone.points for zone in panel.zones}
    if trial.value is not None and trial.value not in points:
        yield Message("record_checks.points", points=trial.value)
    x_mm, y_mm = trial.x_mm, trial.y_mm
    if (x_mm is None) is not (y_mm is None):
        yield Message("record_checks.half_a_place")
    elif x_mm is not None and y_mm is not None and not panel.wall_holds(x_mm, y_mm):
        yield Message("record_checks.off_the_wall", x_mm=x_mm, y_mm=y_mm)


def _of_measure(trial: Trial, challenge: Challenge) -> Iterator[Message]:
    outcome, value = challenge.outcome, trial.value
    if any(at is not None for at in (trial.place, trial.zone, trial.x_mm, trial.y_mm)):
        yield Message("record_checks.place_unasked")
    if value is None:
        return
    is_whole = outcome.kind is not OutcomeKind.COUNT or value % 1 == 0
    if not outcome.lowest <= value <= outcome.highest or not is_whole:
        yield Message("record_checks.measure", value=value, unit=outcome.unit)
