"""The one spelling of a sign-in name."""

from __future__ import annotations

import sys
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from journal.domain.people import LONGEST_SIGN_IN_NAME, normalise_sign_in_name


def test_every_spelling_of_a_name_is_one_name() -> None:
    """Wide, circled, bold letters and capitals: hundreds of thousands of ways to write "demo"."""
    alike: dict[str, list[str]] = {letter: [] for letter in "demo"}
    for number in range(sys.maxunicode + 1):
        plain = normalise_sign_in_name(chr(number))
        if plain in alike:
            alike[plain].append(chr(number))
    assert all(len(signs) > 5 for signs in alike.values())
    few = product(*(signs[:8] for signs in alike.values()))
    assert {"demo"} == {normalise_sign_in_name("".join(one)) for one in few}


@given(st.text(max_size=80))
def test_what_is_normal_stays_so(typed: str) -> None:
    """Kept, found and counted, a name goes through this once, twice or three times."""
    once = normalise_sign_in_name(typed)
    assert once == normalise_sign_in_name(once)
    assert once == normalise_sign_in_name(f"  {once} ")
    assert len(once) <= LONGEST_SIGN_IN_NAME + 1


def test_a_name_that_is_too_long_is_nobodys() -> None:
    """It stays too long, so it is not cut into another one's name; megabytes are not read."""
    name = "r" * LONGEST_SIGN_IN_NAME
    assert name == normalise_sign_in_name(name)
    assert name != normalise_sign_in_name(f"{name}x")
    assert LONGEST_SIGN_IN_NAME + 1 == len(normalise_sign_in_name("\ufdfa" * 1_000_000))
