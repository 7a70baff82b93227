"""The limits of any rule of speech."""

import pytest

from tests.simulation.limits import find_limits


def _sure(name: str, chance: float = 1.0) -> dict[str, float]:
    rest = (1 - chance) / 3
    return {one: chance if one == name else rest for one in ("none", "device", "use", "both")}


def test_with_sure_posteriors_everything_can_be_said() -> None:
    """Each group tells its cause: all are spoken of, every device is named."""
    found = find_limits([_sure(name) for name in ("none", "device", "use", "both")] * 5)
    assert 1.0 == found.spoken
    assert 1.0 == found.named


def test_unsure_posteriors_bound_what_can_be_said() -> None:
    """Half are sure and half a guess: the guesses are alike, so none of them is spoken of."""
    guess = dict.fromkeys(("none", "device", "use", "both"), 0.25)
    found = find_limits([_sure("device")] * 50 + [_sure("use")] * 50 + [guess] * 100)
    assert 0.5 == found.spoken
    # A guess is said of none, of use and of the device alike: .05 is passed at once.
    assert pytest.approx(50 / 75) == found.named


def test_blame_bounds_what_is_spoken() -> None:
    """Right often enough, but the device would be said where use is: it is not spoken of."""
    torn = {"none": 0.0, "device": 0.88, "use": 0.12, "both": 0.0}
    found = find_limits([torn] * 50 + [_sure("none")] * 50)
    assert 0.5 == found.spoken
    assert 0.0 == found.named
