"""Why a group needs the teacher."""

from __future__ import annotations

import pytest

from journal.content.needs import get_need_sentence
from journal.domain.errors import NotFound
from journal.domain.needs import NeedKind
from tests.sentences import raises


@pytest.mark.parametrize("key", [*NeedKind, "says_stuck", "unvisited_never"])
def test_a_reason_is_one_whole_sentence(key: str) -> None:
    """Figures in, no open slot, nobody's name."""
    sentence = get_need_sentence(key, "en", n=4, minutes=12)
    assert sentence.endswith(".")
    assert "4" in sentence or "12" in sentence
    assert "{" not in sentence


def test_one_misfire_is_one() -> None:
    """Number and noun agree."""
    assert "1 misfire in the last trials." == get_need_sentence("misfires", "en", n=1)


def test_an_unknown_reason_is_not_found() -> None:
    """A slip of a key is said."""
    with raises(NotFound, match="hungry"):
        get_need_sentence("hungry", "en")
