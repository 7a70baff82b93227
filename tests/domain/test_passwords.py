"""What a teacher's password may be."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid
from journal.domain.passwords import MOST_CHARACTERS, check_new_password
from tests.sentences import sentence_of


@pytest.mark.parametrize(
    "password",
    [
        "p" * 4 + "aper",
        "four words of oak",
        "x1" * 31 + "yz",
        "пароль для класса",
        "🙂🙃🙂 smile now",
        "  spaces stay  ",
    ],
)
def test_length_is_what_counts(password: str) -> None:
    """Eight to at least sixty-four characters of any kind are taken (OWASP ASVS 5.0, 6.2)."""
    assert password == check_new_password(password, "ruiz")


def test_two_keyboards_give_one_spelling() -> None:
    """A composed and a decomposed letter are the same password (Unicode NFKC)."""
    composed = check_new_password("caf\u00e9 at noon", "ruiz")
    assert composed == check_new_password("cafe\u0301 at noon", "ruiz")


@pytest.mark.parametrize(
    ("password", "word"),
    [
        ("", "at least 8"),
        ("seven77", "at least 8"),
        ("ab" * 65 + "cd", "at most 128"),
        ("aaaaaaaaaa", "repeats"),
        ("1212121212", "repeats"),
        ("12345678", "run"),
        ("qwertyuiop", "run"),
        ("HGFEDCBA", "run"),
        ("Ruiz-is-here", "sign-in name"),
        ("with\x00a null", "signs and spaces"),
        ("half a pair \ud800", "signs and spaces"),
    ],
)
def test_a_refused_password_says_why(password: str, word: str) -> None:
    """Each refusal is one sentence beside the field."""
    with pytest.raises(Invalid) as refused:
        check_new_password(password, "ruiz")
    assert ["password"] == list(refused.value.by_field())
    assert word in sentence_of(refused.value)


def test_the_longest_password_is_taken_and_a_longer_one_refused() -> None:
    """At the limit itself, and one character beyond it."""
    longest = "ab c" * (MOST_CHARACTERS // 4)
    assert longest == check_new_password(longest, "ruiz")
    with pytest.raises(Invalid):
        check_new_password(f"{longest}d", "ruiz")
