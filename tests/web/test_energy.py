"""The pages of a launch's energy and of the limits in a browser."""

from __future__ import annotations

from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def test_the_session_leads_to_the_energy_page(teacher: FlaskClient, classroom: Classroom) -> None:
    """A teacher compares a launch with the limits; the scope line stands there."""
    address = f"/classes/{classroom.class_id}/energy"
    assert f'"{address}"' in teacher.get(f"/sessions/{classroom.session_id}").text
    page = teacher.get(
        address, query_string={"sent": "1", "mass_g": "9", "range_m": "4", "tip": "other"}
    )
    assert 200 == page.status_code
    assert "These limits govern toys on sale." in page.text
    assert all(f">{code}<" in page.text for code in ("E1", "E6"))
    assert "it never clears one" in page.text
    assert '<option value="other" selected>' in page.text


def test_a_slip_stays_in_its_field(teacher: FlaskClient, classroom: Classroom) -> None:
    """422, with the text as it was written."""
    page = teacher.get(
        f"/classes/{classroom.class_id}/energy", query_string={"sent": "1", "mass_g": "heavy"}
    )
    assert 422 == page.status_code
    assert 'value="heavy"' in page.text
    assert "“heavy” is not a number" in page.text


def test_a_school_edits_a_limit(teacher: FlaskClient, classroom: Classroom) -> None:
    """Refused with its text, then kept with its source."""
    address = f"/classes/{classroom.class_id}/energy/limits"
    name = "review_energy_j"
    form = {"key": name, f"{name}.value": "-1", f"{name}.source": "District rule 7"}
    refused = teacher.post(address, data=form)
    assert 422 == refused.status_code
    assert 'value="District rule 7"' in refused.text
    kept = teacher.post(address, data=form | {f"{name}.value": "0.05"}, follow_redirects=True)
    assert "0.05 J" in kept.text
    assert "District rule 7. Entered by the school on" in kept.text
    assert "published: 0.08 J" in kept.text


def test_a_tablet_does_not_see_energy_or_limits(tablet: FlaskClient, classroom: Classroom) -> None:
    """Teacher only."""
    address = f"/classes/{classroom.class_id}/energy"
    answers = [
        tablet.get(address),
        tablet.get(f"{address}/limits"),
        tablet.post(f"{address}/limits", data={"key": "review_energy_j", "published": "1"}),
    ]
    assert [403, 403, 403] == [answer.status_code for answer in answers]


def test_where_nothing_is_launched_only_the_room_is_asked(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """A class that loads bridges is asked for no mass, no speed and no tip."""
    address = f"/classes/{classroom.class_id}"
    assert "Mass, paint and all" in teacher.get(f"{address}/energy").text
    teacher.post(f"/sessions/{classroom.session_id}/end")
    opened = teacher.post(f"{address}/challenges", data={"key": "paper_bridge"})
    assert 303 == opened.status_code
    bridge = opened.location.rsplit("/", 1)[-1].split("?")[0]
    started = teacher.post(f"{address}/sessions", data={"challenge_id": bridge, "lanes": "1"})
    assert 303 == started.status_code
    page = teacher.get(f"{address}/energy", query_string={"sent": "1", "mass_g": "9"}).text
    assert "Students and floor" in page
    for word in ("The launch", "Mass", "The tip is", "Beside the limits", "toys on sale"):
        assert word not in page
