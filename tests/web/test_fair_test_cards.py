"""The fair-test card in a browser: offered on the overview, printed, ticked once."""

from __future__ import annotations

from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def _card(room: Classroom) -> str:
    return f"/classes/{room.class_id}/fair-test-card"


def test_the_card_waits_on_the_overview_until_it_was_done(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """From a group's first ladder on; one tap takes it away and leaves the day on the card."""
    overview = f"/classes/{classroom.class_id}/overview"
    assert _card(classroom) not in teacher.get(overview).text
    tablet.post(f"/groups/{classroom.group_ids[0]}/ladder")
    assert _card(classroom) in teacher.get(overview).text
    page = teacher.get(_card(classroom)).text
    assert "We did this" in page
    answer = teacher.post(_card(classroom))
    assert (303, _card(classroom)) == (answer.status_code, answer.location)
    page = teacher.get(_card(classroom)).text
    assert "Kept. The card is not offered again." in page
    assert "Done on 4 March 2030." in page
    assert "We did this" not in page
    assert _card(classroom) not in teacher.get(overview).text


def test_the_card_can_be_printed_before_anybody_is_stuck(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """Steps with their minutes, and the sentence for the wall."""
    page = teacher.get(_card(classroom)).text
    assert 1 < page.count('class="minutes"')
    assert 'class="wall"' in page


def test_the_card_is_the_teachers(
    tablet: FlaskClient, nobody: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """A tablet is refused, a stranger led to the door, and nothing is ticked."""
    for browser, status in ((tablet, 403), (nobody, 303)):
        assert status == browser.get(_card(classroom)).status_code
        assert status == browser.post(_card(classroom)).status_code
    assert "Done on" not in teacher.get(_card(classroom)).text
