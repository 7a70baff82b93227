"""The challenge pages in a browser."""

from __future__ import annotations

from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def test_a_teacher_opens_reads_and_changes_a_challenge(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """From the list to the class's own copy and back, with what was kept on the page."""
    listed = teacher.get(f"/classes/{classroom.class_id}/challenges").text
    assert "Paper bridge" in listed
    # The caution is read before a challenge is opened.
    assert "Goggles, clear lane, your school&#39;s and local rules first." in listed
    assert "Goggles, tray and foam below, your school&#39;s and local rules first." in listed
    opened = teacher.post(
        f"/classes/{classroom.class_id}/challenges",
        data={"key": "paper_bridge"},
        follow_redirects=True,
    )
    assert 200 == opened.status_code
    assert "A tray with foam stands under the bridge" in opened.text
    address = f"/challenges/{classroom.challenge_id}/changes"
    kept = teacher.post(address, data={"title": "Beyond the ditch, closer"}, follow_redirects=True)
    assert "Beyond the ditch, closer" in kept.text
    assert "<svg" in kept.text


def test_a_refused_change_keeps_what_was_written(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """The form comes back filled, with the sentence beside the field."""
    answer = teacher.post(
        f"/challenges/{classroom.challenge_id}/changes",
        data={"title": "Our own title", "distance_mm": "six feet"},
    )
    assert 422 == answer.status_code
    assert "Our own title" in answer.text
    assert "six feet" in answer.text
    assert "is not a length" in answer.text
