"""The page of a class's ladder, in a browser."""

from __future__ import annotations

from flask.testing import FlaskClient

from journal.content.ladders import get_question
from journal.domain.classes import GradeBand
from journal.domain.ladders import RUNGS, Rung
from tests.factories.classrooms import Classroom

OWN = "What surprised you in your trials?"


def _address(classroom: Classroom) -> str:
    return f"/classes/{classroom.class_id}/ladder"


def _read(page: str) -> str:
    """Return a page as it is read, with its quotation marks."""
    return page.replace("&#39;", "'")


def test_the_page_shows_six_rungs_with_what_the_journal_asks(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """In order, each with a field of its own, and nothing to go back from yet."""
    page = _read(teacher.get(_address(classroom)).text)
    places = [page.index(f'<textarea id="{rung.value}"') for rung in RUNGS]
    assert sorted(places) == places
    for rung in RUNGS:
        assert get_question(rung, GradeBand.THREE_TO_FIVE, "en").plain in page
    assert "Use the journal" not in page


def test_what_is_set_is_listed_and_put_to_the_group(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """From the form to the group's tablet and back to the journal's words."""
    kept = teacher.post(_address(classroom), data={"notice": OWN}, follow_redirects=True)
    assert 200 == kept.status_code
    assert "Kept." in kept.text
    assert 2 == kept.text.count(OWN) + kept.text.count('name="notice_back"')
    group = f"/groups/{classroom.group_ids[0]}/ladder"
    tablet.post(group, data={})
    assert OWN in tablet.get(group).text
    back = {"notice": OWN, "notice_back": "yes"}
    gone = teacher.post(_address(classroom), data=back, follow_redirects=True)
    assert OWN not in gone.text
    again = teacher.post(_address(classroom), data={"notice": ""}, follow_redirects=True)
    assert "Nothing was changed." in again.text


def test_an_empty_rung_comes_back_with_all_that_was_entered(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """The sentence and the old text stand beside the field, the other rungs as they were sent."""
    teacher.post(_address(classroom), data={"notice": OWN, "explain": "What could it come from?"})
    sent = {
        "notice": "",
        "compare": "Add “tape” <b>now</b>?",
        "explain": "What could it come from?",
        "explain_back": "yes",
        "aim": "How would you know?",
    }
    answer = teacher.post(_address(classroom), data=sent)
    assert 422 == answer.status_code
    page = _read(answer.text)
    assert "The rung “Notice” has no question. Write one, or tap “Use the journal’s words”." in page
    assert f"Kept so far: “{OWN}”" in page
    assert "The word “add” tells what to do." in page
    assert "Add “tape” &lt;b&gt;now&lt;/b&gt;?</textarea>" in page
    assert "How would you know?</textarea>" in page
    assert 'name="explain_back" value="yes" checked' in page
    assert 'aria-describedby="notice-hint notice-problem"' in page
    shown = _read(teacher.get(_address(classroom)).text)
    assert f"{OWN}</textarea>" in shown
    assert "How would you know?" not in shown


def test_it_is_reached_from_the_class_and_from_a_stuck_group(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """Both pages lead there."""
    for page in (
        f"/classes/{classroom.class_id}",
        f"/groups/{classroom.group_ids[0]}/diagnosis",
    ):
        assert f'href="{_address(classroom)}"' in teacher.get(page).text


def test_a_tablet_does_not_word_the_ladder(tablet: FlaskClient, classroom: Classroom) -> None:
    """It is the teacher's page."""
    assert 403 == tablet.get(_address(classroom)).status_code
    assert 403 == tablet.post(_address(classroom), data={"notice": OWN}).status_code


def test_a_rung_that_is_none_changes_nothing(teacher: FlaskClient, classroom: Classroom) -> None:
    """Whatever else a form holds is not looked at."""
    sent = {"weather": "Is it warm?", f"{Rung.AIM.value}_else": "yes"}
    answer = teacher.post(_address(classroom), data=sent, follow_redirects=True)
    assert "Nothing was changed." in answer.text
