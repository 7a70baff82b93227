"""The page of physics in a browser."""

from __future__ import annotations

from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def test_a_young_tablet_reads_a_story(tablet: FlaskClient, classroom: Classroom) -> None:
    """Reached from the journal; no field, no unit of energy."""
    group = f"/groups/{classroom.group_ids[0]}"
    assert f"{group}/physics" in tablet.get(f"{group}/journal").text
    page = tablet.get(f"{group}/physics")
    assert 200 == page.status_code
    assert "Where does the energy go?" in page.text
    assert "force_n" not in page.text
    assert " J<" not in page.text


def test_a_teacher_works_it_out(teacher: FlaskClient, classroom: Classroom) -> None:
    """The quantities stay in their fields beside the figures."""
    page = teacher.get(
        f"/groups/{classroom.group_ids[0]}/physics",
        query_string={"sent": "1", "force_n": "24", "stretch_mm": "60", "mass_g": "20"},
    )
    assert 200 == page.status_code
    assert "0.720 J" in page.text
    assert 'value="24"' in page.text


def test_a_slip_stays_in_its_field(teacher: FlaskClient, classroom: Classroom) -> None:
    """The sentence stands beside it, nothing is worked out."""
    page = teacher.get(
        f"/groups/{classroom.group_ids[0]}/physics",
        query_string={"sent": "1", "force_n": "<b>24", "stretch_mm": "60"},
    )
    assert 422 == page.status_code
    assert 'value="&lt;b&gt;24"' in page.text
    assert "is not a number" in page.text
    assert "Write a number, in g." in page.text
    assert "What that gives" not in page.text
