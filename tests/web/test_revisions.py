"""The forms of revisions in a browser: the next one, putting one right, setting one aside."""

from __future__ import annotations

from uuid import UUID

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.domain.part_states import PartState
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.parts import parts_of_context
from journal.store.engine import Store
from tests.factories.classrooms import Classroom


def _base(room: Classroom, group: int = 0) -> str:
    return f"/groups/{room.group_ids[group]}"


def _states(store: Store, room: Classroom, group: int = 0) -> tuple[PartState, ...]:
    with open_work(store, room.tablets[group], writing=False) as work:
        return parts_of_context(work, get_group_context(work, room.group_ids[group]))


def test_a_revision_is_made_by_form(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """The journal shows it with its parent, its change and who made it."""
    launcher = _states(store, classroom)[0].part
    ada = classroom.student_ids[0][0]
    sent = {
        "part": str(launcher.id),
        "changes": ["rail_length"],
        "to_rail_length": "30 cm",
        "reason": "It wobbled.",
        "makers": [str(ada)],
    }
    answer = tablet.post(f"{_base(classroom)}/revisions/new", data=sent, follow_redirects=True)
    for words in (
        "One change: you can tell what it did.",
        "Rail length 300 mm, was 200 mm",
        "from 1",
        "“It wobbled.”",
        "Made by Ada.",
    ):
        assert words in answer.text


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        ({}, "Tap what changes, or say why this one is new."),
        ({"changes": "rail_length", "to_rail_length": "30 g"}, "does not fit here"),
        ({"changes": "bands", "to_bands": "99"}, "cannot be built here"),
        ({"reason": "r", "material_tape": "-2"}, "cannot be less than 0"),
    ],
)
def test_a_refused_revision_stays_in_its_form(
    tablet: FlaskClient,
    store: Store,
    classroom: Classroom,
    sent: dict[str, str],
    sentence: str,
) -> None:
    """Nothing is lost: every value comes back, the problem stands beside its field."""
    launcher = _states(store, classroom)[0].part
    given = {"part": str(launcher.id), "prediction": "It flies <far>."} | sent
    answer = tablet.post(f"{_base(classroom)}/revisions/new", data=given)
    assert 422 == answer.status_code
    assert sentence in answer.text
    assert "It flies &lt;far&gt;." in answer.text
    for name, value in sent.items():
        if name.startswith(("to_", "material_")):
            assert f'name="{name}"' in answer.text
            assert f'value="{value}"' in answer.text
    assert 1 == len(_states(store, classroom)[0].revisions)


def test_a_part_of_nobody_is_no_form(tablet: FlaskClient, classroom: Classroom) -> None:
    """A changed id gives no error page with a trace."""
    url = f"{_base(classroom)}/revisions/new"
    assert 422 == tablet.post(url, data={"part": "x"}).status_code
    assert 404 == tablet.get(f"{url}?part={UUID(int=7)}").status_code


def test_a_revision_is_put_right_set_aside_and_taken_up(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Three ways that stand beside a revision without trials."""
    revision_id = classroom.shared_revision_ids[0]
    base = f"{_base(classroom)}/revisions/{revision_id}"
    assert 200 == tablet.get(f"{base}/edit").status_code
    part = _states(store, classroom)[0].part
    sent = {"part": str(part.id), "reason": "It stands on a book."}
    page = tablet.post(f"{base}/edit", data=sent, follow_redirects=True).text
    assert "“It stands on a book.”" in page
    page = tablet.post(f"{base}/aside", follow_redirects=True).text
    assert "Use it again" in page
    page = tablet.post(f"{base}/again", follow_redirects=True).text
    assert "Use it again" not in page
    assert 422 == tablet.post(f"{base}/edit", data={"part": str(part.id)}).status_code


def test_several_changes_are_kept_with_a_word_on_what_can_be_told(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """One change, several, none: each has its own sentence."""
    part = str(_states(store, classroom)[0].part.id)
    told = []
    for changes in (
        {"changes": ["bands", "rail_length"], "to_bands": "3", "to_rail_length": "25 cm"},
        {"changes": ["bands"], "to_bands": "2"},
        {"reason": "Built again."},
    ):
        sent = {"part": part, **changes}
        answer = tablet.post(f"{_base(classroom)}/revisions/new", data=sent, follow_redirects=True)
        told.append(answer.text)
    assert "You can tell if it helped, not which change did it." in told[0]
    assert "One change: you can tell what it did." in told[1]
    assert "Nothing was changed: you can tell how alike two builds are." in told[2]
    assert [1, 2, 3, 4] == [one.number for one in _states(store, classroom)[0].revisions]


def test_the_form_opens_on_the_revision_that_was_chosen(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """A part of another group, or what is no id, opens nothing of theirs."""
    dart = _states(store, classroom)[1]
    theirs = _states(store, classroom, group=1)[1]
    url = f"{_base(classroom)}/revisions/new"
    page = tablet.get(f"{url}?part={dart.part.id}").text
    assert f'name="part" value="{dart.part.id}"' in page
    assert "Ada’s dart" in page
    assert 404 == tablet.get(f"{url}?part={theirs.part.id}").status_code
    sent = {"part": str(theirs.part.id), "reason": "Ours now."}
    assert 404 == tablet.post(url, data=sent).status_code
    assert 1 == len(_states(store, classroom, group=1)[1].revisions)


def test_another_groups_revision_is_not_touched(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Neither put right nor set aside, under the own address or theirs."""
    theirs = classroom.shared_revision_ids[1]
    part = str(_states(store, classroom, group=1)[0].part.id)
    for group in (0, 1):
        base = f"{_base(classroom, group)}/revisions/{theirs}"
        assert 404 == tablet.get(f"{base}/edit").status_code
        sent = {"part": part, "reason": "Not mine."}
        assert 404 == tablet.post(f"{base}/edit", data=sent).status_code
        assert 404 == tablet.post(f"{base}/aside").status_code
        assert 404 == tablet.post(f"{base}/again").status_code
    state = _states(store, classroom, group=1)[0]
    assert state.current is not None
    assert ("first build", False) == (state.current.reason, state.current.is_set_aside)


def test_a_refused_correction_stays_in_its_form(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """What was written over comes back; the revision stays as it was."""
    base = f"{_base(classroom)}/revisions/{classroom.shared_revision_ids[0]}/edit"
    part = _states(store, classroom)[0].part
    sent = {
        "part": str(part.id),
        "changes": "bands",
        "to_bands": "99",
        "reason": "It stands on a book.",
    }
    answer = tablet.post(base, data=sent)
    assert 422 == answer.status_code
    assert "cannot be built here" in answer.text
    assert "It stands on a book." in answer.text
    assert 'value="99"' in answer.text
    current = _states(store, classroom)[0].current
    assert current is not None
    assert "first build" == current.reason


def test_first_builds_are_kept_by_one_tap(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Every own part that has none, and only those; a second tap builds nothing more."""
    with open_work(store, OPERATOR) as work:
        own = ",".join(f"'{one.hex}'" for one in classroom.own_revision_ids[0][:2])
        work.session.connection().exec_driver_sql(
            f"DELETE FROM revisions WHERE id IN ({own})"  # noqa: S608
        )
    assert [1, 0, 0, 1] == [len(state.revisions) for state in _states(store, classroom)]
    url = f"{_base(classroom)}/revisions/first"
    assert "The first builds are done." in tablet.post(url, follow_redirects=True).text
    tablet.post(url)
    assert [1, 1, 1, 1] == [len(state.revisions) for state in _states(store, classroom)]
