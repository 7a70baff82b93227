"""A print is offered again while its class's version stands still: so every change must count."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.domain.actors import OPERATOR
from journal.portfolio.gathering import gather_portfolio
from journal.portfolio.pages import PortfolioPage
from journal.records.work import open_work
from journal.store import classes
from tests.web.role_house import House, house
from tests.web.role_table import FORM_IDS, FORMS, read_rows

__all__ = ["house"]

TABLE = read_rows()
#: Forms that are taken as they stand, each with a method that changes something.
SENT = sorted(
    endpoint for method, endpoint in TABLE if method != "GET" and endpoint in {**FORM_IDS, **FORMS}
)


def _look(house: House) -> tuple[int | None, PortfolioPage]:
    with open_work(house.store, OPERATOR, writing=False) as work:
        page = gather_portfolio(work, house.ids["group_id"], house.ids["challenge_id"])
        version = classes.find_version(work.session, house.ids["class_id"])
    # The day of printing is on the cover, and a print says when it was made.
    return version, replace(page, cover=replace(page.cover, printed_on=""))


@pytest.mark.parametrize("endpoint", SENT)
def test_what_changes_the_portfolio_changes_the_version(house: House, endpoint: str) -> None:
    """Each form of the table, sent by whoever may."""
    house.rebuild()
    house.end_before(endpoint)
    before = _look(house)
    method = next(method for method, named in TABLE if named == endpoint and method != "GET")
    role = "the group's tablet" if TABLE[method, endpoint] == "group" else "the teacher"
    form = FORM_IDS.get(endpoint, FORMS.get(endpoint, dict))(house.ids)
    house.ask(role, method, endpoint, form)
    after = _look(house)
    assert before[1] == after[1] or before[0] != after[0]
