"""A challenge answers about its parts."""

from __future__ import annotations

from journal.domain.challenge_documents import read_challenge
from journal.domain.challenges import Challenge
from tests.domain.challenge_samples import rolling_cart


def make_challenge(*, destructive: bool = False) -> Challenge:
    """Return a challenge with a shared cart and an own driver."""
    document = rolling_cart()
    document["parts"][0]["destructive"] = destructive
    driver = {"key": "mass", "name": "Mass", "unit": "g"}
    document["parts"].append({"key": "driver", "name": "Driver", "own": True, "factors": [driver]})
    return read_challenge(document, "mine.toml")


def test_shared_and_own_parts_are_told_apart() -> None:
    """Each part is one a group or one a student."""
    challenge = make_challenge()
    assert ["cart"] == [part.key for part in challenge.shared_parts]
    assert ["driver"] == [part.key for part in challenge.own_parts]


def test_a_factor_is_found_by_its_key() -> None:
    """A factor that is not there is None."""
    part = make_challenge().shared_parts[0]
    assert "Wheels" == getattr(part.find_factor("wheels"), "name", None)
    assert part.find_factor("sail") is None


def test_one_destructive_part_makes_the_test_destructive() -> None:
    """A trial that destroys any part asks for a new build."""
    assert make_challenge(destructive=True).is_destructive
    assert not make_challenge().is_destructive
