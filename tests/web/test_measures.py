"""The page on which a teacher opens and closes measures."""

from __future__ import annotations

from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def test_ticks_are_kept_and_told(teacher: FlaskClient, classroom: Classroom) -> None:
    """What was opened and closed against the band is said in words."""
    url = f"/classes/{classroom.class_id}/measures"
    assert "Opened:" not in teacher.get(url).text
    sent = {"measures": ["show_counts", "show_decimals", "show_range", "show_median"]}
    page = teacher.post(url, data=sent, follow_redirects=True).text
    assert "Opened: Median. Closed: Dot plot." in page
    assert 'value="show_median" checked' in page


def test_an_unknown_measure_is_refused_beside_the_list(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """The form comes back with a sentence."""
    answer = teacher.post(
        f"/classes/{classroom.class_id}/measures", data={"measures": ["show_all"]}
    )
    assert 422 == answer.status_code
    assert "Choose from the measures of the list." in answer.text


def test_the_desk_of_a_class_leads_there(teacher: FlaskClient, classroom: Classroom) -> None:
    """One tap from the class."""
    assert f"/classes/{classroom.class_id}/measures" in teacher.get(
        f"/classes/{classroom.class_id}"
    ).text  # fmt: skip
