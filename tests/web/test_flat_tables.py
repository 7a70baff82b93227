"""Whatever a group's trials look like, its pages, its API and its paper are there."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, example, given, settings

from journal.domain.group_records import GroupRecord
from journal.findings import amounts as amount_findings
from journal.findings import group_findings as findings
from journal.findings import hits as hit_findings
from journal.findings import revision_pairs as beside_findings
from journal.findings import stalls
from journal.jobs.portfolios import print_portfolio
from journal.portfolio import gathering as portfolios
from journal.records.work import open_work
from journal.screens.desk import diagnoses as diagnosis_pages
from journal.screens.desk import findings as finding_pages
from journal.screens.tablet import journals as journal_pages
from journal.screens.tablet import trials as trial_pages
from journal.store.engine import Store
from journal.web.api import findings as api
from tests.factories.classrooms import Classroom
from tests.factories.flat_tables import flat_tables, one_zone_a_child
from tests.factories.group_records import Told, record_with

_GATHERERS = (finding_pages, journal_pages, diagnosis_pages, portfolios, api)
#: The same room for every example: only what was logged changes.
_ANY_TABLE = settings(
    deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=8
)


def _show(record: GroupRecord, patch: pytest.MonkeyPatch) -> None:
    for module in _GATHERERS:
        patch.setattr(module, "gather_group", lambda *_: record)
    gather_tablet = trial_pages.gather_tablet
    patch.setattr(
        trial_pages,
        "gather_tablet",
        lambda *given: replace(gather_tablet(*given), record=record),
    )


@_ANY_TABLE
@example(told=one_zone_a_child())
@given(told=flat_tables())
def test_pages_and_api_stand_on_any_table(
    store: Store,
    classroom: Classroom,
    teacher: FlaskClient,
    tablet: FlaskClient,
    told: list[Told],
) -> None:
    """Constant, sparse, exchanged, mostly zero: each page answers, and nothing failed."""
    record, home = record_with(store, classroom, told), f"/groups/{classroom.group_ids[0]}"
    with pytest.MonkeyPatch.context() as patch:
        _show(record, patch)
        for browser, path in (
            (teacher, f"{home}/findings"),
            (teacher, f"{home}/diagnosis"),
            (tablet, f"{home}/journal"),
            (tablet, f"/api{home}/findings"),
        ):
            answer = browser.get(path)
            assert 200 == answer.status_code, path
            assert "not work it out" not in answer.text


@settings(_ANY_TABLE, max_examples=1)
@example(told=one_zone_a_child())
@given(told=flat_tables())
def test_paper_stands_on_any_table(store: Store, classroom: Classroom, told: list[Told]) -> None:
    """The portfolio is printed."""
    record = record_with(store, classroom, told)
    with pytest.MonkeyPatch.context() as patch:
        _show(record, patch)
        with open_work(store, classroom.teacher, writing=False) as work:
            page = portfolios.gather_portfolio(work, classroom.group_ids[0])
    assert print_portfolio(page).startswith(b"%PDF")


def _fail(*_: object, **__: object) -> None:
    raise ArithmeticError


#: Where each question is put, and what the teacher reads instead.
FAILING: Sequence[tuple[object, str, str]] = (
    (beside_findings, "compare_revisions", "how the revisions compare"),
    (findings, "summarise_trials", "all numbers of the revisions"),
    (findings, "find_fairness", "how fair the tests were"),
    (findings, "judge_criteria", "where the group stands with the criteria"),
    (stalls, "find_stall", "whether the group has stalled"),
    (hit_findings, "_spreads", "where the hits lie"),
    (findings, "find_use", "what goes along with the device"),
    (findings, "find_handling", "what the ways of handling did"),
    (amount_findings, "_found", "what the amounts did"),
    (findings, "find_practice", "whether practice is at work"),
)


@pytest.mark.failures
@pytest.mark.parametrize(("module", "name", "what"), FAILING)
def test_the_rest_is_shown_where_one_question_fails(
    store: Store,
    classroom: Classroom,
    teacher: FlaskClient,
    tablet: FlaskClient,
    module: object,
    name: str,
    what: str,
) -> None:
    """The teacher reads what cannot be said and why; the group that there is more."""
    told = [
        # The values are of this case alone, so that nothing kept from another one answers.
        Told(value=float(place % 7 + len(what)), revision=place % 2 + 1, student=place % 3)
        for place in range(12)
    ]
    record, home = record_with(store, classroom, told), f"/groups/{classroom.group_ids[0]}"
    with pytest.MonkeyPatch.context() as patch:
        _show(record, patch)
        patch.setattr(module, name, _fail)
        page = teacher.get(f"{home}/findings")
        journal = tablet.get(f"{home}/journal")
        answer = tablet.get(f"/api{home}/findings")
        logging = tablet.get(f"{home}/trials/new")
    assert [200] * 4 == [one.status_code for one in (page, journal, answer, logging)]
    assert f"Cannot say {what}" in page.text
    assert "because the journal could not work it out" in journal.text
    assert answer.get_json()["cannot_say"]
    assert "Every trial, the newest first" in page.text
