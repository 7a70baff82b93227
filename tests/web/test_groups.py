"""The teacher's pages of students and groups in a browser."""

from __future__ import annotations

import html

from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def test_a_refused_list_comes_back_whole_with_its_lines_named(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """Nobody is added, nothing that was pasted is lost."""
    pasted = "Pim\nada\nJuno Vale\n\npim@school.example\n<script>x</script>"
    address = f"/classes/{classroom.class_id}/students/new"
    answer = teacher.post(address, data={"nicknames": pasted})
    assert 422 == answer.status_code
    assert html.escape(pasted) in answer.text
    text = html.unescape(answer.text)
    for line, word in (("2", "already"), ("3", "two words"), ("5", "e-mail"), ("6", "signs")):
        assert f"<b>Line {line}</b>" in text
        assert word in text.split(f"<b>Line {line}</b>")[1].split("</li>")[0]
    assert "<b>Line 1</b>" not in text
    assert "Pim" not in teacher.get(f"/classes/{classroom.class_id}").text


def test_a_child_moves_leaves_and_comes_back(teacher: FlaskClient, classroom: Classroom) -> None:
    """By the list beside each name; who was here is still named."""
    desk = f"/classes/{classroom.class_id}"
    first, second = (f"{desk}/groups/{group_id}" for group_id in classroom.group_ids)
    ada = f"{desk}/students/{classroom.student_ids[0][0]}"
    moved = teacher.post(ada, data={"place": str(classroom.group_ids[1])}, follow_redirects=True)
    assert "Only 2 students are in this group." in moved.text
    assert "Were here: Ada, until" in teacher.get(first).text
    assert "<b>Ada</b>" in teacher.get(second).text
    left = teacher.post(ada, data={"place": "away"}, follow_redirects=True)
    assert "Bring back" in left.text
    back = teacher.post(ada, data={"place": "back"}, follow_redirects=True)
    assert "Students without a group" in back.text
    joined = teacher.post(
        f"{first}/members",
        data={"students": [str(classroom.student_ids[0][0])]},
        follow_redirects=True,
    )
    assert "<b>Ada</b>" in joined.text
    assert 422 == teacher.post(ada, data={"place": "the moon"}).status_code


def test_a_full_group_says_so(teacher: FlaskClient, classroom: Classroom) -> None:
    """The sixth is refused in words, and all who were ticked stay where they were."""
    desk = f"/classes/{classroom.class_id}"
    two = [str(student_id) for student_id in classroom.student_ids[0][:2]]
    answer = teacher.post(f"{desk}/groups/{classroom.group_ids[1]}/members", data={"students": two})
    assert 409 == answer.status_code
    assert "has 5 members already" in answer.text
    assert "<b>Ada</b>" in teacher.get(f"{desk}/groups/{classroom.group_ids[0]}").text


def test_a_group_is_made_by_ticking(teacher: FlaskClient, classroom: Classroom) -> None:
    """None ticked is told beside the tiles, the ticked ones stay ticked."""
    desk = f"/classes/{classroom.class_id}"
    teacher.post(f"{desk}/students/new", data={"nicknames": "Pim\nJuno\nBo"})
    assert "Choose who is in the group." in teacher.post(f"{desk}/groups").text
    listed = teacher.get(desk).text
    ids = [part.split('"')[0] for part in listed.split('name="students" value="')[1:]]
    made = teacher.post(f"{desk}/groups", data={"students": ids}, follow_redirects=True)
    assert "Group 3, " in made.text
    assert "Students without a group" not in made.text


def test_a_refused_name_is_still_in_the_field(teacher: FlaskClient, classroom: Classroom) -> None:
    """The sentence says what to write instead."""
    group = f"/classes/{classroom.class_id}/groups/{classroom.group_ids[0]}"
    long = "n" * 41
    answer = teacher.post(f"{group}/name", data={"name": long})
    assert 422 == answer.status_code
    assert f'value="{long}"' in answer.text
    assert "at most 40 letters" in answer.text
    kept = teacher.post(f"{group}/name", data={"name": "Heron"}, follow_redirects=True)
    assert "Heron" in kept.text
