"""The ladder of questions in a browser: answers, ways past a rung, ways on."""

from __future__ import annotations

from uuid import uuid4

from flask.testing import FlaskClient

from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def _base(room: Classroom, group: int = 0) -> str:
    return f"/groups/{room.group_ids[group]}"


def test_the_ladder_is_climbed_by_tap(tablet: FlaskClient, classroom: Classroom) -> None:
    """Stuck, an answer, a refused one that stays, and away to the next revision."""
    base = f"{_base(classroom)}/ladder"
    page = tablet.post(base, follow_redirects=True).text
    assert "What comes back again and again?" in page
    sent = {"rung": "notice", "words_starter": "Each time we saw", "words": "it hit low."}
    page = tablet.post(f"{base}/answers", data=sent, follow_redirects=True).text
    assert "“Each time we saw it hit low.”" in page
    assert 'class="now" aria-current="step"' in page
    again = tablet.post(f"{base}/answers", data={"rung": "notice", "words": "Late words."})
    assert 422 == again.status_code
    assert ">Late words.</textarea>" in again.text
    assert 422 == tablet.post(f"{base}/answers", data={"rung": "roof"}).status_code
    assert 409 == tablet.post(f"{base}/next").status_code
    said = {"rung": "compare", "said": "yes"}
    page = tablet.post(f"{base}/answers", data=said, follow_redirects=True).text
    assert "Said to our teacher." in page
    gone = tablet.post(f"{base}/leave", data={"to": "revision"})
    assert gone.location == f"{_base(classroom)}/revisions/new?from=ladder"
    assert "Are you stuck?" in tablet.get(base).text


def test_the_teacher_is_called_on_the_last_rung(tablet: FlaskClient, classroom: Classroom) -> None:
    """Five answers lead there."""
    base = f"{_base(classroom)}/ladder"
    tablet.post(base)
    for rung in ("notice", "compare", "explain", "aim", "choose_test"):
        page = tablet.post(
            f"{base}/answers", data={"rung": rung, "words": rung}, follow_redirects=True
        ).text
    assert "Your teacher is called." in page
    assert "Your teacher is called." in tablet.get(f"{_base(classroom)}/journal").text


def test_not_sure_is_taken_once_and_not_at_once(
    tablet: FlaskClient, clock: StandingClock, classroom: Classroom
) -> None:
    """Three seconds to think (Rowe 1986), then the next question; the second time a way on."""
    base = f"{_base(classroom)}/ladder"
    tablet.post(base)
    url, rung = f"{base}/not-sure", {"rung": "notice"}
    page = tablet.post(url, data=rung, follow_redirects=True).text
    assert "Give the question a moment first." in page
    assert 'value="notice"' in page
    clock.move(seconds=4)
    page = tablet.post(url, data=rung, follow_redirects=True).text
    assert 'value="compare"' in page
    clock.move(seconds=4)
    late = tablet.post(url, data=rung, follow_redirects=True).text
    assert "The question before was answered on another tablet." in late
    page = tablet.post(url, data={"rung": "compare"}, follow_redirects=True).text
    assert "Say what you see so far, log a new trial, or tell your teacher." in page
    assert 'value="compare"' in page


def test_only_the_teacher_skips_a_question(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """The tablet shows the next one; where no question is open, the page says so."""
    base = f"{_base(classroom)}/ladder"
    assert 409 == teacher.post(f"{base}/skip").status_code
    tablet.post(base)
    assert 403 == tablet.post(f"{base}/skip").status_code
    answer = teacher.post(f"{base}/skip")
    assert f"{_base(classroom)}/diagnosis" == answer.location
    assert "The next question is open on their tablet." in teacher.get(answer.location).text
    assert 'value="compare"' in tablet.get(base).text


def test_an_answer_that_says_nothing_comes_back_with_its_question(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """Also one of a child of another group, and one that is too long; nothing is lost."""
    base = f"{_base(classroom)}/ladder"
    tablet.post(base)
    for sent in (
        {"words": ""},
        {"words": "w" * 2000},
        {"words": "It hits low.", "who": str(classroom.student_ids[1][0])},
    ):
        answer = tablet.post(f"{base}/answers", data={"rung": "notice", **sent})
        assert 422 == answer.status_code
        assert f">{sent['words']}</textarea>" in answer.text
        assert 'value="notice"' in answer.text
    assert "It hits low." not in tablet.get(base).text


def test_whether_an_answer_was_borne_out_is_asked_by_tap(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """A tap that is none, and an answer that is none of the group's, change nothing."""
    base = f"{_base(classroom)}/ladder"
    tablet.post(base)
    answer = tablet.post(f"{base}/answers/{uuid4()}/borne-out", data={"borne_out": "yes"})
    assert 404 == answer.status_code
    answer = tablet.post(f"{base}/answers/{uuid4()}/borne-out", data={"borne_out": "perhaps"})
    assert 422 == answer.status_code
    assert "Tap yes, no, or that you cannot tell." in answer.text


def test_a_way_on_leads_where_the_next_test_is_made_ready(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """Each way has its page; one that is none is asked for again and the climb goes on."""
    base, home = f"{_base(classroom)}/ladder", _base(classroom)
    ways = {
        "revision": f"{home}/revisions/new?from=ladder",
        "handling": f"{home}/trials/new",
        "swap_test": f"{home}/swap-tests/new",
    }
    for way, address in ways.items():
        tablet.post(base)
        assert 422 == tablet.post(f"{base}/leave", data={"to": "home"}).status_code
        assert 'value="notice"' in tablet.get(base).text
        assert address == tablet.post(f"{base}/leave", data={"to": way}).location
        assert "Are you stuck?" in tablet.get(base).text
