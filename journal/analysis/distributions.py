"""Chance distributions: probabilities and quantiles of chi-square, F and the normal.

In: a value or a probability, and degrees of freedom. Out: the other one.
Small exact routines, because the run time carries no numerical library: the incomplete gamma
and beta functions by series and continued fraction (Abramowitz & Stegun 1964, 6.5.29, 6.5.31
and 26.5.8), quantiles by bisection on them.
"""

from __future__ import annotations

from math import erfc, exp, inf, lgamma, log, log1p, sqrt

#: Relative size at which a series or fraction has converged.
_EPSILON = 1e-15
_TINY = 1e-300
_MOST_TERMS = 10_000
#: Halvings of a bracket: more than a double has bits.
_HALVINGS = 200
#: Share of the cases outside a 95 % interval.
OUTSIDE = 0.05


def normal_probability(z: float) -> float:
    """Return the probability that a standard normal value is at most `z`."""
    return 0.5 * erfc(-z / sqrt(2.0))


def chi_square_probability(value: float, freedom: float) -> float:
    """Return the probability that a chi-square value with `freedom` degrees is at most `value`."""
    if value <= 0.0:
        return 0.0
    return _gamma_below(freedom / 2.0, value / 2.0)


def chi_square_quantile(probability: float, freedom: float) -> float:
    """Return the value that a chi-square variable stays below with the given `probability`.

    `freedom` is its degrees of freedom, above 0. Raises ValueError unless the probability lies
    strictly between 0 and 1.
    """
    if not 0.0 < probability < 1.0:
        message = "a probability strictly between 0 and 1 is needed"
        raise ValueError(message)
    low, high = 0.0, max(1.0, freedom)
    while chi_square_probability(high, freedom) < probability:
        low, high = high, 2.0 * high
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if chi_square_probability(middle, freedom) < probability:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def f_exceedance(value: float, freedom_above: float, freedom_below: float) -> float:
    """Return the probability that an F value is greater than `value`.

    `freedom_above` and `freedom_below` are the degrees of freedom of numerator and denominator.
    """
    if value <= 0.0:
        return 1.0
    if value == inf:
        return 0.0
    share = freedom_below / (freedom_below + freedom_above * value)
    return _beta_below(freedom_below / 2.0, freedom_above / 2.0, share)


def student_t_reach(freedom: float) -> float:
    """Return how far from 0 a t value with `freedom` degrees stays in 95 of 100 cases."""
    # Beyond a million degrees it is the normal distribution to six digits.
    freedom = min(freedom, 1e6)
    low, high = 0.0, 2.0
    while f_exceedance(high * high, 1.0, freedom) > OUTSIDE:
        low, high = high, 2.0 * high
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if f_exceedance(middle * middle, 1.0, freedom) > OUTSIDE:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _gamma_below(shape: float, x: float) -> float:
    """Return the regularised lower incomplete gamma function."""
    front = exp(shape * log(x) - x - lgamma(shape))
    if x < shape + 1.0:
        term = total = 1.0 / shape
        step = shape
        for _ in range(_MOST_TERMS):
            step += 1.0
            term *= x / step
            total += term
            if term < total * _EPSILON:
                break
        return total * front
    b = x + 1.0 - shape
    c = 1.0 / _TINY
    d = 1.0 / b
    fraction = d
    for i in range(1, _MOST_TERMS):
        a = -i * (i - shape)
        b += 2.0
        d = 1.0 / _away_from_zero(a * d + b)
        c = _away_from_zero(b + a / c)
        fraction *= d * c
        if abs(d * c - 1.0) < _EPSILON:
            break
    return 1.0 - front * fraction


def _beta_below(a: float, b: float, x: float) -> float:
    """Return the regularised incomplete beta function."""
    if x <= 0.0 or x >= 1.0:
        return 0.0 if x <= 0.0 else 1.0
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x))
    if x < (a + 1.0) / (a + b + 2.0):
        return front * _beta_fraction(a, b, x) / a
    return 1.0 - front * _beta_fraction(b, a, 1.0 - x) / b


def _beta_fraction(a: float, b: float, x: float) -> float:
    """Return the continued fraction of the incomplete beta function."""
    c = 1.0
    d = 1.0 / _away_from_zero(1.0 - (a + b) * x / (a + 1.0))
    fraction = d
    for m in range(1, _MOST_TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0))
        for term in (even, odd):
            d = 1.0 / _away_from_zero(1.0 + term * d)
            c = _away_from_zero(1.0 + term / c)
            fraction *= d * c
        if abs(d * c - 1.0) < _EPSILON:
            break
    return fraction


def _away_from_zero(value: float) -> float:
    return value if abs(value) > _TINY else _TINY
