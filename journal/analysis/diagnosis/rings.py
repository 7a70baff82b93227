"""The scaled modified Bessel function of order 0, for densities about a ring."""

from __future__ import annotations

from math import exp, sqrt


def scaled_bessel(x: float) -> float:
    """Return exp(-x) I0(x) for x >= 0, to 2e-7.

    Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 9.8.1 and 9.8.2.
    """
    if x < 3.75:  # noqa: PLR2004 - where the two series meet
        t = (x / 3.75) ** 2
        series = 1 + t * (
            3.5156229
            + t * (3.0899424 + t * (1.2067492 + t * (0.2659732 + t * (0.0360768 + t * 0.0045813))))
        )
        return series * exp(-x)
    t = 3.75 / x
    series = 0.39894228 + t * (
        0.01328592
        + t
        * (
            0.00225319
            + t
            * (
                -0.00157565
                + t
                * (
                    0.00916281
                    + t * (-0.02057706 + t * (0.02635537 + t * (-0.01647633 + t * 0.00392377)))
                )
            )
        )
    )
    return series / sqrt(x)
