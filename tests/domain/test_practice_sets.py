"""A number of practice trials as it is written."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid
from journal.domain.practice_sets import MOST_TRIALS, read_trials


@pytest.mark.parametrize(
    "text", ["", "0", "-1", "1.5", "six", "²", "9" * 400, str(MOST_TRIALS + 1)]
)
def test_what_is_no_number_of_trials_is_refused(text: str) -> None:
    """With the field's name."""
    with pytest.raises(Invalid) as caught:
        read_trials(text)
    assert ["trials"] == list(caught.value.by_field())


def test_a_number_of_trials_is_read() -> None:
    """Blanks around it do not matter."""
    assert 12 == read_trials(" 12 ")
