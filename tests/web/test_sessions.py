"""The session pages in a browser."""

from __future__ import annotations

from flask.testing import FlaskClient

from journal.domain.sessions import GateCheck
from tests.factories.classrooms import Classroom


def test_a_teacher_ends_starts_and_opens_a_session(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """The whole way from one session to launching in the next."""
    teacher.post(f"/sessions/{classroom.session_id}/end")
    absent = classroom.student_ids[0][0]
    started = teacher.post(
        f"/classes/{classroom.class_id}/sessions",
        data={
            "challenge_id": str(classroom.challenge_id),
            "distance": "2 m",
            "lanes": "1",
            "absent": [str(absent)],
        },
        follow_redirects=True,
    )
    assert "2 m away, 1 lane, 1 absent" in started.text
    gate = f"{started.request.path}/gate"
    shut = teacher.post(gate, data={"checks": ["goggles"]})
    assert 422 == shut.status_code
    assert "Not ticked yet" in shut.text
    opened = teacher.post(
        gate, data={"checks": [check.value for check in GateCheck]}, follow_redirects=True
    )
    assert "The lane is open." in opened.text


def test_a_tablet_cannot_open_the_gate(tablet: FlaskClient, classroom: Classroom) -> None:
    """The checklist is the teacher's."""
    answer = tablet.post(f"/sessions/{classroom.session_id}/gate", data={"checks": ["goggles"]})
    assert 403 == answer.status_code


def test_a_refused_start_keeps_what_was_written(teacher: FlaskClient, classroom: Classroom) -> None:
    """The distance comes back as it was written, with the sentence beside it."""
    teacher.post(f"/sessions/{classroom.session_id}/end")
    answer = teacher.post(
        f"/classes/{classroom.class_id}/sessions",
        data={"challenge_id": str(classroom.challenge_id), "distance": "9 yards", "lanes": "1"},
    )
    assert 422 == answer.status_code
    assert "9 yards" in answer.text
    assert "is not a unit" in answer.text
