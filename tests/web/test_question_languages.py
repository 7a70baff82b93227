"""The language of the questions in a browser: chosen on the group's page, spoken rightly."""

from __future__ import annotations

import re

from flask.testing import FlaskClient

from journal.content.ladders import get_question
from journal.domain.classes import GradeBand
from journal.domain.ladders import Rung
from tests.factories.classrooms import Classroom

SPANISH = get_question(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "es")
ENGLISH = get_question(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "en")


def _page(room: Classroom) -> str:
    return f"/classes/{room.class_id}/groups/{room.group_ids[0]}"


def _choose(teacher: FlaskClient, room: Classroom, language: str) -> tuple[int, str]:
    address = f"{_page(room)}/question-language"
    answer = teacher.post(address, data={"language": language}, follow_redirects=True)
    return answer.status_code, answer.text


def _chosen(text: str) -> list[str]:
    return re.findall(r'name="language" value="(\w+)" checked', text)


def test_a_teacher_chooses_on_the_page_of_the_group(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """English until then; each language shows a question, marked with its language."""
    before = teacher.get(_page(classroom)).text
    assert ["en"] == _chosen(before)
    assert f'<span lang="es">Español<small>{SPANISH.text}</small></span>' in before
    status, after = _choose(teacher, classroom, "es")
    assert 200 == status
    assert "Their questions come in this language from now on." in after
    assert ["es"] == _chosen(after)


def test_what_is_no_language_is_told_beside_the_tiles(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """The page comes back with what holds still chosen."""
    _choose(teacher, classroom, "es")
    status, text = _choose(teacher, classroom, "xx")
    assert 422 == status
    assert "There are no questions in this language. Choose English or Español." in text
    assert ["es"] == _chosen(text)


def test_a_group_cannot_choose_by_itself(tablet: FlaskClient, classroom: Classroom) -> None:
    """The page is the teacher's."""
    status, _ = _choose(tablet, classroom, "es")
    assert 403 == status


def test_a_voice_reads_question_and_starters_in_their_language(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """The rest of the page is English, and says so at its root."""
    ladder = f"/groups/{classroom.group_ids[0]}/ladder"
    assert '<h1 class="question">Are you stuck?</h1>' in tablet.get(ladder).text
    tablet.post(ladder)
    assert f'<h1 class="question" lang="en">{ENGLISH.text}</h1>' in tablet.get(ladder).text
    _choose(teacher, classroom, "es")
    page = tablet.get(ladder).text
    assert '<html lang="en"' in page
    assert f'<h1 class="question" lang="es">{SPANISH.text}</h1>' in page
    assert list(SPANISH.starters) == re.findall(r'<span lang="es">([^<]+)</span>', page)


def test_what_stood_on_the_tablet_is_kept_with_the_answer(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """Although the teacher chose another language in between."""
    group = f"/groups/{classroom.group_ids[0]}"
    tablet.post(f"{group}/ladder")
    _choose(teacher, classroom, "es")
    form = {"rung": "notice", "language": "en", "words": "They lie low."}
    tablet.post(f"{group}/ladder/answers", data=form)
    form = {"rung": "compare", "language": "es", "words": "Caen juntos."}
    tablet.post(f"{group}/ladder/answers", data=form)
    kept = teacher.get(f"{group}/findings").text
    assert f'<span lang="en">{ENGLISH.text}</span>' in kept
    compare = get_question(Rung.COMPARE, GradeBand.THREE_TO_FIVE, "es").plain
    assert f'<span lang="es">{compare}</span>' in kept
    explain = get_question(Rung.EXPLAIN, GradeBand.THREE_TO_FIVE, "es").plain
    assert f'<i lang="es">{explain}</i>' in teacher.get(f"{group}/diagnosis").text
