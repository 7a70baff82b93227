"""REML: the variances that make cells of trials most likely, the mean aside.

In: cells in units near 1 and the effects to tell apart. Out: a variance for each, none below 0.
Newton steps by average information (Gilmour, Thompson & Cullis 1995), with variances that reach
0 held there while the likelihood pulls them down.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet

from journal.analysis.cell_layout import CellLayout, lay_out
from journal.analysis.cells import Cells, Effect
from journal.analysis.equations import solve_equations
from journal.analysis.likelihood import RestrictedLikelihood, Slope

#: Least variances looked at, as shares of the whole: repeats may agree exactly.
_LEAST = {effect: 1e-6 if effect is Effect.REPEAT else 0.0 for effect in Effect}
_MOST_STEPS = 100
#: The search ends when a step gains less than this in twice the log-likelihood.
_SETTLED = 1e-8
_MOST_HALVINGS = 12

Variances = Mapping[Effect, float]


def climb_likelihood(cells: Cells, effects: Sequence[Effect]) -> dict[Effect, float]:
    """Find the variances of greatest restricted likelihood, none of them below its least."""
    layout = lay_out(cells, effects)
    at = dict.fromkeys(effects, 1.0 / len(effects))
    state = RestrictedLikelihood(layout, at)
    for _ in range(_MOST_STEPS):
        slope = state.find_slope()
        held = {effect for effect in effects if at[effect] <= _LEAST[effect]}
        steps = [_newton_step(slope, [e for e in effects if e not in held], at, set())]
        drawn_up = [e for e in effects if e not in held or slope.by_effect[e] < 0.0]
        if len(drawn_up) > len(effects) - len(held):
            steps.insert(0, _newton_step(slope, drawn_up, at, held))
        # Beside variances near 0 a Newton step can be mostly rounding: then a slow one still gains.
        steps.append(_em_step(slope, effects, at))
        reached = _walk(layout, state.cost, at, steps)
        if reached is None:
            break
        gain = state.cost - reached[1].cost
        at, state = reached
        if gain < _SETTLED:
            break
    return at


def _walk(
    layout: CellLayout, cost: float, at: Variances, steps: Sequence[Variances]
) -> tuple[dict[Effect, float], RestrictedLikelihood] | None:
    """Go along the first step that does not lose likelihood, shortened as needed."""
    for step in steps:
        share = 1.0
        for _ in range(_MOST_HALVINGS):
            reached = {
                effect: max(_LEAST[effect], variance + share * step.get(effect, 0.0))
                for effect, variance in at.items()
            }
            state = _look_at(layout, reached)
            if state is not None and state.cost <= cost:
                return reached, state
            share *= 0.5
    return None


def _look_at(layout: CellLayout, at: Variances) -> RestrictedLikelihood | None:
    """Return the likelihood at some variances; None where it cannot be computed.

    Where trials have no scatter within their cells a long step reaches variances so unlike each
    other that rounding eats a pivot. Such a point counts as infinitely bad.
    """
    try:
        return RestrictedLikelihood(layout, at)
    except ArithmeticError:
        return None


def _newton_step(
    slope: Slope, free: Sequence[Effect], at: Variances, held: AbstractSet[Effect]
) -> dict[Effect, float]:
    """Return a step for the free effects by average information."""
    while free:
        solved = solve_equations(
            [[slope.information[a, b] for b in free] for a in free],
            [-slope.by_effect[effect] for effect in free],
        )
        if solved is None:
            # Too flat for Newton.
            return _em_step(slope, free, at)
        wanted = dict(zip(free, solved, strict=True))
        # A held effect that would go lower is left out, and the others are solved again.
        stuck = [effect for effect in free if effect in held and wanted[effect] < 0.0]
        if not stuck:
            return wanted
        free = [effect for effect in free if effect not in stuck]
    return {}


def _em_step(slope: Slope, free: Sequence[Effect], at: Variances) -> dict[Effect, float]:
    """Return a step in the direction of the EM algorithm, which never loses."""
    return {effect: -at[effect] * at[effect] * slope.by_effect[effect] for effect in free}
