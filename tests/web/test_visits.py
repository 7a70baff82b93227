"""Visits and near-misses in a browser: one tap, and a note that is not lost."""

from __future__ import annotations

from uuid import uuid4

from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.store import groups
from journal.store.engine import Store
from tests.factories.classrooms import Classroom

HTMX = {"HX-Request": "true"}


def test_a_visit_is_one_tap_and_its_note_a_second(
    teacher: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """The answer names the group and holds the place for a note that stands on the group's page."""
    group_id = classroom.group_ids[0]
    kept = teacher.post(f"/groups/{group_id}/visits", headers={"HX-Request": "true"})
    with open_work(store, OPERATOR, writing=False) as work:
        name = groups.get_group(work.session, group_id).name
    assert f"Your visit to {name} is kept." in kept.text
    assert f"What did you agree on with {name}?" in kept.text
    assert "journal-news" == kept.headers["HX-Trigger"]
    note_href = kept.text.split('action="')[1].split('"')[0]
    noted = teacher.post(
        note_href, data={"note": "They measure each trial now."}, headers={"HX-Request": "true"}
    )
    assert f"The note on {name} is kept." in noted.text
    page = teacher.get(f"/groups/{group_id}/findings")
    assert "They measure each trial now." in page.text


def test_a_near_miss_is_one_tap_and_asks_for_no_names(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """It comes first in the overview at once."""
    group_id = classroom.group_ids[1]
    kept = teacher.post(f"/groups/{group_id}/near-misses", headers={"HX-Request": "true"})
    assert "No names" in kept.text
    now = teacher.get(f"/classes/{classroom.class_id}/overview/now")
    assert "Near-miss" in now.text.split("Then")[0]


def test_without_a_script_a_visit_leads_to_the_groups_page(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """With the reason that the overview showed, and a sentence that it is kept."""
    base = f"/groups/{classroom.group_ids[0]}"
    answer = teacher.post(f"{base}/visits", data={"reason": "4 misfires in the last 9 trials."})
    assert (303, f"{base}/findings") == (answer.status_code, answer.location)
    page = teacher.get(answer.location).text
    assert "is kept." in page
    assert "4 misfires in the last 9 trials." in page


def test_the_note_of_a_near_miss_is_kept_as_text(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """Whatever it holds, it is shown as it was written."""
    base = f"/groups/{classroom.group_ids[1]}"
    kept = teacher.post(f"{base}/near-misses", headers=HTMX)
    note_href = kept.text.split('action="')[1].split('"')[0]
    note = {"note": "A dart <slid> under the rope."}
    assert "is kept." in teacher.post(note_href, data=note, headers=HTMX).text
    assert "A dart &lt;slid&gt; under the rope." in teacher.get(f"{base}/findings").text


def test_a_note_that_is_too_long_is_told_and_the_tap_stays(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """Both numbers are said; the visit itself was kept by the tap before."""
    base = f"/groups/{classroom.group_ids[0]}"
    kept = teacher.post(f"{base}/visits", data={"reason": "Silent."}, headers=HTMX)
    note_href = kept.text.split('action="')[1].split('"')[0]
    for headers in ({}, HTMX):
        answer = teacher.post(note_href, data={"note": "n" * 601}, headers=headers)
        assert 422 == answer.status_code
        assert "A note holds up to 600 characters, this one has 601. Shorten it." in answer.text
    assert "Silent." in teacher.get(f"{base}/findings").text


def test_a_visit_that_is_none_takes_no_note(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """Nor does another group's visit under this group's address, nor a tablet."""
    base, other = (f"/groups/{group_id}" for group_id in classroom.group_ids)
    kept = teacher.post(f"{base}/visits", headers=HTMX)
    visit_id = kept.text.split(f"{base}/visits/")[1].split('"')[0]
    note = {"note": "Measure."}
    assert 404 == teacher.post(f"{base}/visits/{uuid4()}", data=note).status_code
    assert 404 == teacher.post(f"{other}/visits/{visit_id}", data=note).status_code
    assert 404 == teacher.post(f"{base}/near-misses/{visit_id}", data=note).status_code
    assert 403 == tablet.post(f"{base}/visits/{visit_id}", data=note).status_code
    assert 403 == tablet.post(f"{base}/near-misses").status_code
    assert "Measure." not in teacher.get(f"{base}/findings").text
