"""The date until which a new class's records are kept, as it is proposed."""

from datetime import date

import pytest

from journal.domain.classes import propose_retention


@pytest.mark.parametrize(
    ("today", "proposed"),
    [
        (date(2030, 9, 2), date(2031, 6, 30)),
        (date(2031, 2, 28), date(2031, 6, 30)),
        (date(2031, 5, 30), date(2031, 6, 30)),
        (date(2031, 5, 31), date(2032, 6, 30)),
        (date(2031, 6, 30), date(2032, 6, 30)),
        (date(2031, 7, 1), date(2032, 6, 30)),
    ],
)
def test_the_end_of_the_school_year_is_proposed(today: date, proposed: date) -> None:
    """One that lies within a month is too near: nobody makes a class for so short a time."""
    assert proposed == propose_retention(today)
