"""The list of common passwords."""

from __future__ import annotations

import re

import pytest

from journal.content.common_passwords import HASH_DIGITS, common_hashes, is_common


def test_there_are_three_thousand_of_them() -> None:
    """As many as OWASP ASVS 5.0, 6.2.4 asks for (from memory), each a hash of its own."""
    assert 3000 == len(common_hashes())
    assert all(re.fullmatch(f"[0-9a-f]{{{HASH_DIGITS}}}", one) for one in common_hashes())


@pytest.mark.parametrize(
    # The first ones of eight characters or more in zxcvbn 4.5.0, and two of the last ones.
    "password",
    [
        *("password", "12345678", "123456789", "baseball", "football", "iloveyou", "trustno1"),
        *("PassWord", " sunshine ", "samantha1", "greyhoun"),
    ],
)
def test_a_common_one_is_known(password: str) -> None:
    """Capitals and spaces around it make no other password of it."""
    assert is_common(password)


@pytest.mark.parametrize("password", ["oak ladder noon", "correct staple", "", "\ud800" * 8])
def test_words_put_together_are_not_common(password: str) -> None:
    """Neither is an empty text or half a pair."""
    assert not is_common(password)
