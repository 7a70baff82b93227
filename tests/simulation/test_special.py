"""The fast special functions, beside those of scipy."""

import numpy as np
import pytest
from scipy.special import erf, i0e, ndtr

from tests.simulation.special import find_erf, find_log_i0e, find_within


def test_the_error_function_is_that_of_scipy() -> None:
    """Single precision, both tails."""
    x = np.linspace(-6, 6, 4001)
    assert float(np.abs(find_erf(x.astype(np.float32)) - erf(x)).max()) < 1e-6


def test_the_scaled_bessel_function_is_that_of_scipy() -> None:
    """From 0, over the change of formula, to far out."""
    x = np.concatenate([np.linspace(0, 8, 4001), np.linspace(8, 4000, 4001)])
    assert float(np.abs(find_log_i0e(x.astype(np.float32)) - np.log(i0e(x))).max()) < 2e-6


@pytest.mark.parametrize("middle", [-2.5, 0.0, 0.4, 7.0])
def test_the_chance_to_lie_within_is_that_of_scipy(middle: float) -> None:
    """A normal variable about `middle` with a scatter of .9."""
    scale = np.array([1 / (0.9 * 2**0.5)], dtype=np.float32)
    wanted = ndtr((2 - middle) / 0.9) - ndtr((-2 - middle) / 0.9)
    found = find_within(2.0, np.array([middle], dtype=np.float32), scale)
    assert pytest.approx(wanted, abs=1e-6) == float(found[0])
