"""The page of counted attempts in a browser."""

from __future__ import annotations

from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def test_a_teacher_chooses_a_goal(teacher: FlaskClient, classroom: Classroom) -> None:
    """The goal is kept, and the page says it."""
    address = f"/classes/{classroom.class_id}/counted"
    assert "Most points in all counted attempts together." in teacher.get(address).text
    answer = teacher.post(
        f"{address}/goal",
        data={"goal.kind": "complete_set", "goal.zones.bark.times": "2"},
        follow_redirects=True,
    )
    assert 200 == answer.status_code
    assert "Hit as much of the set as you can: Bark, Bark." in answer.text
    assert 'name="goal.zones.bark.times" type="text" value="2"' in answer.text


def test_a_refused_goal_keeps_what_was_written(teacher: FlaskClient, classroom: Classroom) -> None:
    """The form stays open and filled, with the sentence beside the field."""
    answer = teacher.post(
        f"/classes/{classroom.class_id}/counted/goal",
        data={
            "goal.kind": "class_table",
            "goal.table[1].place": "wall",
            "goal.table[1].from": "often",
            "goal.table[1].points": "3",
        },
    )
    assert 422 == answer.status_code
    assert 'value="often"' in answer.text
    assert "“often” is not a number" in answer.text
    assert '<option value="wall" selected>' in answer.text
    assert '<details class="sect goal" open>' in answer.text


def test_no_screen_of_a_group_shows_a_place(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """The page is the teacher's, and the journal of a group does not lead to it."""
    address = f"/classes/{classroom.class_id}/counted"
    assert 403 == tablet.get(address).status_code
    assert 403 == tablet.post(f"{address}/goal", data={"goal.kind": "most_points"}).status_code
    assert "/counted" not in tablet.get(f"/groups/{classroom.group_ids[0]}/journal").text
    assert f"{address}" in teacher.get(f"/sessions/{classroom.session_id}").text
