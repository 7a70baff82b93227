"""What errors say, as a person reads it: an error in, its sentences out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

import pytest

from journal.content.messages import word_message, word_problems
from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Words


class Worded(Protocol):
    """An error that carries a message."""

    message: Words


def sentence_of(error: Worded) -> str:
    """Return what an error says, in English."""
    return word_message(error.message)


def what_of(problem: Problem) -> str:
    """Return what a problem says, in English."""
    return word_message(problem.what)


def sentences_of(error: Invalid) -> dict[str, list[str]]:
    """Return what an error says by field, in English."""
    return word_problems(error.problems)


@contextmanager
def raises(kind: type[Exception], *, match: str) -> Iterator[pytest.ExceptionInfo[Exception]]:
    """Expect an error whose sentence matches."""
    with pytest.raises(kind) as caught:
        yield caught
    said = sentence_of(caught.value)  # type: ignore[arg-type]
    assert re.search(match, said), said
