"""The findings of a group on the teacher's page, in its journal and by API, whatever the data."""

from __future__ import annotations

import json
import math
import random
import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from flask.testing import FlaskClient

from journal.domain.group_records import GroupRecord
from journal.domain.trials import Place
from journal.records.work import open_work
from journal.screens.desk import findings as finding_pages
from journal.screens.tablet import journals as journal_pages
from journal.services.measures import set_measures
from journal.store.engine import Store
from journal.web.api import findings as finding_api
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, record_with, told_values
from tests.services.trial_entries import entry_of, log

#: What no reader should meet: figures that are none, and values of the code.
UNREADABLE = re.compile(r"\b(?:[Nn]a[Nn]|[Ii]nf|[Ii]nfinity|None|not known)\b")


def _hits(seed: int, n: int, revision: int = 1) -> list[Told]:
    draw = random.Random(seed)
    return [
        Told(
            value=float(draw.choice([1, 2, 4, 8])),
            revision=revision,
            student=number % 3,
            x_mm=draw.gauss(0, 90),
            y_mm=draw.gauss(-80, 90),
            amount=float(draw.randint(1, 8)),
        )
        for number in range(n)
    ]


BAD = {
    "no trials": [],
    "one trial": told_values([4.0]),
    "one revision": told_values([4.0, 2, 8, 1, 4, 2], students=3),
    "all equal": [
        Told(value=4.0, x_mm=0.0, y_mm=0.0, amount=2.0, revision=1 + n // 6) for n in range(12)
    ],
    "one tester": [*told_values([1.0, 2, 4, 1], 1), *told_values([4.0, 8, 4, 8], 2)],
    "nobody known": [replace(one, student=None) for one in _hits(3, 12)],
    "misfires only": [Told(misfire="band_slipped") for _ in range(6)],
    "no value": [Told(place=Place.PANEL) for _ in range(6)],
    "not a number": [*_hits(1, 6), *told_values([math.nan] * 6, 2)],
    "infinity": [*told_values([math.inf, -math.inf, 4.0, 2.0, 8.0, 1.0], 1), *_hits(2, 6, 2)],
    "places that are no numbers": [
        Told(value=4.0, x_mm=math.nan, y_mm=math.inf, amount=math.nan) for _ in range(8)
    ],
    "huge": [*told_values([1e300, -1e300, 1e308, 1.7e308, 5.0, 6.0], 1), *_hits(4, 6, 2)],
    "another distance": [
        *told_values([1.0, 2, 4, 1], 1),
        *(replace(one, distance_mm=4000) for one in told_values([4.0, 8, 4, 8], 2)),
    ],
    "wall and nowhere": [
        *(Told(value=0.0, place=Place.WALL) for _ in range(6)),
        *(Told(value=0.0, place=Place.NOWHERE) for _ in range(6)),
    ],
}

Serve = Callable[[GroupRecord], None]


@pytest.fixture
def serve(monkeypatch: pytest.MonkeyPatch) -> Serve:
    """Return a function that puts a record in place of the first group's own."""

    def put(record: GroupRecord) -> None:
        for module in (finding_pages, journal_pages, finding_api):
            monkeypatch.setattr(module, "gather_group", lambda *_: record)

    return put


def _words_of(page: str) -> str:
    """Return what is read on a page: no markup but the drawings' own text."""
    body = page.split("<main", 1)[1]
    return re.sub(r"<[^>]*>", " ", body)


@pytest.mark.parametrize("path", ["findings", "findings?with_intervals=yes", "journal"])
@pytest.mark.parametrize("name", list(BAD))
def test_bad_data_is_said_and_never_shown(
    teacher: FlaskClient, store: Store, classroom: Classroom, serve: Serve, name: str, path: str
) -> None:
    """Every page answers, and no figure that is none stands on it, in a drawing neither."""
    with open_work(store, classroom.teacher) as work:
        set_measures(work, classroom.class_id, [*_open_all()])
    serve(record_with(store, classroom, BAD[name]))
    answer = teacher.get(f"/groups/{classroom.group_ids[0]}/{path}")
    assert 200 == answer.status_code
    assert [] == UNREADABLE.findall(_words_of(answer.text))
    assert not re.search(r'="-?(?:nan|inf)', answer.text)


def _open_all() -> list[str]:
    return [
        *("show_counts", "show_dot_plot", "show_decimals", "show_range", "show_mean"),
        *("show_median", "show_quartiles", "show_deviation", "show_box_plot"),
        *("show_scatter_plot", "show_p_value"),
    ]


@pytest.mark.parametrize("name", list(BAD))
def test_the_api_says_null_and_never_a_figure_that_is_none(
    teacher: FlaskClient, store: Store, classroom: Classroom, serve: Serve, name: str
) -> None:
    """The JSON is plain JSON: RFC 8259 has no NaN and no infinity."""
    serve(record_with(store, classroom, BAD[name]))
    answer = teacher.get(f"/api/groups/{classroom.group_ids[0]}/findings")
    assert 200 == answer.status_code

    def refuse(figure: str) -> float:
        raise AssertionError(figure)

    found = json.loads(answer.text, parse_constant=refuse)
    assert {"revisions", "hits", "use", "handling", "amounts", "practice"} <= set(found)
    shares = found["use"]["shares"]
    assert (shares["reason"] is None) == (shares["device"] is not None)


def test_both_circles_and_the_likeness_of_neighbours_are_told(
    teacher: FlaskClient, store: Store, classroom: Classroom, serve: Serve
) -> None:
    """Hits scattered evenly: 95 in 100 lie within 2.0789 times the circle of half of them.

    The ratio of the two quantiles of a Rayleigh distribution, root of log 20 over log 2.
    """
    serve(record_with(store, classroom, _hits(5, 24)))
    path = f"/groups/{classroom.group_ids[0]}/findings"
    assert "95 in 100 within" in teacher.get(path).text
    found = teacher.get(f"/api{path}").get_json()
    hits = found["hits"]["by_revision"][0]
    for wide, half in zip(
        [hits["wide_radius_mm"], *hits["wide_radius_interval_mm"]],
        [hits["half_radius_mm"], *hits["half_radius_interval_mm"]],
        strict=True,
    ):
        assert pytest.approx(2.0789, abs=5e-5) == wide / half
    assert -1 < found["practice"]["lag_one"] < 1


def test_ten_thousand_trials_are_drawn_as_far_as_they_can_be_seen(
    teacher: FlaskClient, store: Store, classroom: Classroom, serve: Serve
) -> None:
    """The newest ones are drawn and listed, and it is said of how many."""
    serve(record_with(store, classroom, [*_hits(1, 5000), *_hits(2, 5000, 2)]))
    page = teacher.get(f"/groups/{classroom.group_ids[0]}/findings").text
    assert "The newest 200 of 10000 trials." in page
    assert "the newest 400 of 10000" in page
    assert len(page) < 2_000_000


def test_every_drawing_has_its_table(
    teacher: FlaskClient, store: Store, classroom: Classroom, serve: Serve
) -> None:
    """Each picture that tells something is followed by the same as a table."""
    with open_work(store, classroom.teacher) as work:
        set_measures(work, classroom.class_id, _open_all())
    serve(record_with(store, classroom, [*_hits(1, 12), *_hits(2, 12, 2)]))
    page = teacher.get(f"/groups/{classroom.group_ids[0]}/findings").text
    for caption in (
        "Trials",
        "Mean of each student with each revision, and in brackets how many trials",
        "Hits with Launcher 2",
        "Middle and spread of the hits whose place is known, in mm, with 95 % intervals",
        "Results of Launcher in order",
        "Quartiles",
        "Paint and points",
        "Path through the stages",
        "Revisions",
    ):
        assert f"<caption>{caption}</caption>" in page or caption == "Path through the stages"
    journal = teacher.get(f"/groups/{classroom.group_ids[0]}/journal").text
    for caption in ("Trials of Launcher by revision", "Quartiles", "Paint and points"):
        assert f"<caption>{caption}</caption>" in journal


def test_a_closed_measure_is_closed_in_the_journal(
    tablet: FlaskClient,
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
) -> None:
    """Dots and counts go when the teacher closes them; a mean comes when it is opened."""
    for x_mm in (0.0, 120.0, 300.0):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, x_mm=x_mm))
    url = f"/groups/{classroom.group_ids[0]}/journal"
    before = tablet.get(url).text
    assert "There are 3 trials with Launcher 1 so far." in before
    assert 'id="dots"' in before
    with open_work(store, classroom.teacher) as work:
        set_measures(work, classroom.class_id, ["show_mean"])
    after = tablet.get(url).text
    assert "There are 3 trials with Launcher 1 so far." not in after
    assert 'id="dots"' not in after
    assert "Mean about" in after


def test_how_it_was_handled_stands_beside_device_and_use(
    teacher: FlaskClient, store: Store, classroom: Classroom, serve: Serve
) -> None:
    """The sentence on the page, the figures by API; without a record of it no heading."""
    ways = [{"pull": "full"}, {"pull": "half"}, {"pull": "half"}, {"pull": "full"}] * 3
    told = [Told(value=8.0 if way["pull"] == "full" else 1.0, handling=way) for way in ways]
    home, page = f"/groups/{classroom.group_ids[0]}", record_with(store, classroom, told)
    serve(page)
    shown = _words_of(teacher.get(f"{home}/findings").text)
    assert "How it was handled" in shown
    assert "by one and the same child with the same device" in shown
    (found,) = json.loads(teacher.get(f"/api{home}/findings").text)["handling"]["contrasts"]
    # 2 of the 924 ways to deal 6 and 6 are as far out, counted by hand.
    assert ("pull", "less", "balanced") == (
        found["name"],
        found["comparison"]["verdict"],
        found["comparison"]["practice"],
    )
    assert 2 / 924 == pytest.approx(found["comparison"]["p_value"])
    serve(record_with(store, classroom, told_values([1.0, 2.0, 4.0])))
    assert "How it was handled" not in teacher.get(f"{home}/findings").text


def test_the_exchange_is_offered_where_a_dart_is_bound_to_its_child(
    teacher: FlaskClient, store: Store, classroom: Classroom, serve: Serve
) -> None:
    """The link leads to the plan of an exchange."""
    serve(record_with(store, classroom, [*_hits(1, 12), *_hits(2, 12, 2)]))
    page = teacher.get(f"/groups/{classroom.group_ids[0]}/findings").text
    assert f'href="/groups/{classroom.group_ids[0]}/swap-tests/new?kind=own_parts"' in page
    assert "cannot be told apart until they are exchanged" in page
