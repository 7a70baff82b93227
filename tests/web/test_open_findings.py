"""By API a tablet reads no figure that its pages do not show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import pytest
from marshmallow import Schema, fields

from journal.content.bands import MEASURE_NAMES, which_measures
from journal.domain.classes import GradeBand
from journal.records.work import open_work
from journal.services.measures import set_measures
from journal.store import classes
from journal.store.engine import Store
from journal.web.schemas.findings import GroupFindingsSchema
from journal.web.schemas.open_findings import OPENED_BY, TEACHERS
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.services.trial_entries import entry_of, log
from tests.web.conftest import SignIn

#: Numbers that count or measure nothing.
NAMES = {"revisions.number"}


def _paths(schema: Schema, head: str = "") -> Iterator[tuple[str, fields.Field]]:
    """Give each field at the end of a path, with the path."""
    for name, field in schema.fields.items():
        inner = field.inner if isinstance(field, fields.List) else field
        if isinstance(inner, fields.Nested):
            yield from _paths(inner.schema, f"{head}{name}.")
        else:
            yield f"{head}{name}", inner


def _told(answer: Any, head: str = "") -> Iterator[str]:
    """Give each path that an answer holds."""
    if isinstance(answer, list):
        for one in answer:
            yield from _told(one, head)
    elif isinstance(answer, dict):
        for name, value in answer.items():
            path = f"{head}.{name}" if head else name
            yield path
            yield from _told(value, path)


def test_every_figure_is_opened_by_a_measure_or_is_the_teachers() -> None:
    """A new figure that stands under nothing fails here."""
    opened = {path for paths in OPENED_BY.values() for path in paths}
    free = [
        path
        for path, field in _paths(GroupFindingsSchema())
        if isinstance(field, fields.Number)
        and path not in NAMES
        and not any(f"{path}.".startswith(f"{one}.") for one in (*TEACHERS, *opened))
    ]
    assert [] == free


@pytest.fixture
def busy(store: Store, clock: StandingClock) -> Classroom:
    """Return a class of grades 3-5 whose first group has tried two launchers."""
    with store.open_session(writing=True) as session:
        classroom = make_classroom(session, clock(), band=GradeBand.THREE_TO_FIVE)
    for number in range(12):
        clock.move(seconds=40)
        entry = entry_of(classroom, clock, x_mm=10.0 * number, y_mm=-20.0 * number)
        log(store, clock, classroom.tablets[0], entry)
    return classroom


@pytest.mark.parametrize("opened", [(), ("show_mean",), ("show_p_value", "show_counts"), None])
def test_a_tablet_reads_what_the_class_is_shown(
    sign_in: SignIn,
    store: Store,
    clock: StandingClock,
    busy: Classroom,
    opened: tuple[str, ...] | None,
) -> None:
    """Closed figures are not there; the teacher has all of them, whatever is closed."""
    is_open = asdict(which_measures(GradeBand.THREE_TO_FIVE))
    if opened is not None:
        is_open = {name: name in opened for name in MEASURE_NAMES}
        with open_work(store, busy.teacher, clock=clock) as work:
            set_measures(work, busy.class_id, opened)
    address = f"/api/groups/{busy.group_ids[0]}/findings"
    told = set(_told(sign_in(busy.tablets[0]).get(address).json))
    whole = set(_told(sign_in(busy.teacher).get(address).json))
    assert {"revisions.summary.mean", "use.shares", "hits.by_student", "practice.tau"} <= whole
    for measure, paths in OPENED_BY.items():
        if not is_open[measure]:
            assert set() == told & paths
        elif measure != "show_p_value":
            assert whole & paths <= told
    assert [] == [path for path in told if path.startswith(TEACHERS)]


def test_a_band_without_decimals_reads_none_by_api(
    sign_in: SignIn, store: Store, clock: StandingClock, busy: Classroom
) -> None:
    """A mean that the teacher opened early is a whole number there, as it is on the page."""
    with open_work(store, busy.teacher, clock=clock) as work:
        set_measures(work, busy.class_id, ["show_mean", "show_counts"])
        assert not dict(classes.get_class(work.session, busy.class_id).measures)["show_decimals"]
    answer = sign_in(busy.tablets[0]).get(f"/api/groups/{busy.group_ids[0]}/findings")
    mean = answer.json["revisions"][0]["summary"]["mean"]
    assert isinstance(mean, int)
