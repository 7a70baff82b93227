"""Agreement of two scorers: kappa plain, linear and quadratic, exact and adjacent shares.

In: two scorers' levels for the same portfolios, and the levels in order. Out: one frozen
`Agreement`; a kappa is None where chance alone would agree in everything (not enough variety).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from enum import StrEnum

#: No band in words from fewer portfolios scored twice (common practice, no source).
FEWEST_FOR_BAND = 10


class Weighting(StrEnum):
    """How much a disagreement counts by how far apart the levels are."""

    #: Any disagreement counts the same.
    PLAIN = "plain"
    LINEAR = "linear"
    QUADRATIC = "quadratic"


class AgreementBand(StrEnum):
    """Words for a kappa (Landis & Koch 1977); the upper edge belongs to the band."""

    POOR = "poor"
    SLIGHT = "slight"
    FAIR = "fair"
    MODERATE = "moderate"
    SUBSTANTIAL = "substantial"
    ALMOST_PERFECT = "almost_perfect"


class AgreementReason(StrEnum):
    """Why a figure or a band is missing."""

    NOTHING_SCORED_TWICE = "nothing_scored_twice"
    NOT_ENOUGH_VARIETY = "not_enough_variety"
    TOO_FEW_FOR_BAND = "too_few_for_band"


_BAND_EDGES = (
    (0.20, AgreementBand.SLIGHT),
    (0.40, AgreementBand.FAIR),
    (0.60, AgreementBand.MODERATE),
    (0.80, AgreementBand.SUBSTANTIAL),
)
#: Kappas closer than this to an edge are on it: sums of tenths are not exact.
_ON_EDGE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How far two scorers agree; shares in 0..1."""

    count: int
    exact: float | None
    #: The same level or the next one.
    adjacent: float | None
    plain: float | None
    linear: float | None
    quadratic: float | None
    #: Words for the quadratic kappa.
    band: AgreementBand | None
    reasons: tuple[AgreementReason, ...]


def agree(
    first: Sequence[Hashable], second: Sequence[Hashable], levels: Sequence[Hashable]
) -> Agreement:
    """Return how far two scorers agree, portfolio by portfolio.

    `first` and `second` hold one level each for the same portfolios, in the same order; `levels`
    are all levels of the rubric in rising order. Raises ValueError where the lists differ in length
    or hold a level that is not in `levels`. Fields are None where nothing was scored twice.
    """
    place = {level: index for index, level in enumerate(levels)}
    if not (set(first) | set(second)) <= place.keys():
        message = "a level was given that the rubric does not have"
        raise ValueError(message)
    pairs = Counter((place[a], place[b]) for a, b in zip(first, second, strict=True))
    table = [[pairs[i, j] for j in range(len(levels))] for i in range(len(levels))]
    return agree_in_table(table)


def agree_in_table(table: Sequence[Sequence[float]]) -> Agreement:
    """Return the agreement in a square `table` of counts.

    First scorer in rows, second in columns.
    """
    total = sum(map(sum, table))
    if not total:
        return Agreement(
            count=0,
            exact=None,
            adjacent=None,
            plain=None,
            linear=None,
            quadratic=None,
            band=None,
            reasons=(AgreementReason.NOTHING_SCORED_TWICE,),
        )
    size = range(len(table))
    quadratic = find_kappa(table, Weighting.QUADRATIC)
    reasons = []
    if quadratic is None:
        reasons.append(AgreementReason.NOT_ENOUGH_VARIETY)
    if total < FEWEST_FOR_BAND:
        reasons.append(AgreementReason.TOO_FEW_FOR_BAND)
    return Agreement(
        count=round(total),
        exact=sum(table[i][i] for i in size) / total,
        adjacent=sum(table[i][j] for i in size for j in size if abs(i - j) <= 1) / total,
        plain=find_kappa(table, Weighting.PLAIN),
        linear=find_kappa(table, Weighting.LINEAR),
        quadratic=quadratic,
        band=None if quadratic is None or reasons else band_of(quadratic),
        reasons=tuple(reasons),
    )


def find_kappa(table: Sequence[Sequence[float]], weighting: Weighting) -> float | None:
    """Return Cohen's kappa of a square `table` of counts, at most 1.

    `weighting` says how a disagreement grows with its distance in levels: not at all, linearly, or
    by its square. None where chance alone agrees in everything. Cohen, Educational and
    Psychological Measurement 20 (1960), 37-46, doi:10.1177/001316446002000104 (from memory).
    """
    weigh: Callable[[int, int], float] = {
        Weighting.PLAIN: lambda i, j: float(i != j),
        Weighting.LINEAR: lambda i, j: float(abs(i - j)),
        Weighting.QUADRATIC: lambda i, j: float((i - j) ** 2),
    }[weighting]
    size = range(len(table))
    return find_weighted_kappa(table, [[weigh(i, j) for j in size] for i in size])


def find_weighted_kappa(
    table: Sequence[Sequence[float]], weights: Sequence[Sequence[float]]
) -> float | None:
    """Return kappa of a `table` with a weight of disagreement for each pair of levels.

    `table` and `weights` are square and of one size; weights are 0 on the diagonal. None where
    chance alone agrees in everything. Cohen, Psychological Bulletin 70 (1968), 213-220,
    doi:10.1037/h0026256 (from memory).
    """
    total = sum(map(sum, table))
    rows = [sum(row) for row in table]
    columns = [sum(column) for column in zip(*table, strict=True)]
    size = range(len(table))
    seen: float = sum(weights[i][j] * table[i][j] for i in size for j in size)
    by_chance: float = sum(weights[i][j] * rows[i] * columns[j] for i in size for j in size)
    if not by_chance:
        return None
    return 1.0 - seen * total / by_chance


def band_of(kappa: float) -> AgreementBand:
    """Return the words for a `kappa`.

    Landis & Koch, Biometrics 33 (1977), 159-174, doi:10.2307/2529310 (from memory).
    """
    if kappa < 0.0:
        return AgreementBand.POOR
    for edge, band in _BAND_EDGES:
        if kappa <= edge + _ON_EDGE:
            return band
    return AgreementBand.ALMOST_PERFECT
