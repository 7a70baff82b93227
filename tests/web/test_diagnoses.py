"""The teacher's pages about a stuck group, and the ladder's ways on, through a browser."""

from __future__ import annotations

from uuid import uuid4

import pytest
from flask.testing import FlaskClient

from journal.content.library import ready_challenges
from journal.domain.actors import OPERATOR
from journal.domain.classes import GradeBand
from journal.domain.ladders import Rung
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.web.conftest import SignIn

ALL = ["lane", "rebound", "energy"]


def _group(classroom: Classroom, group: int = 0) -> str:
    return f"/groups/{classroom.group_ids[group]}"


def test_an_adaptation_is_kept_by_form(teacher: FlaskClient, classroom: Classroom) -> None:
    """And told on the page, with what is not comparable."""
    sent = {"kind": "closer", "distance": "150 cm", "checks": ALL}
    page = teacher.post(f"{_group(classroom)}/adaptations", data=sent, follow_redirects=True).text
    assert "Not comparable with trials before: 1 m closer." in page


def test_a_refused_adaptation_stays_in_its_form(teacher: FlaskClient, classroom: Classroom) -> None:
    """Everything that was entered is still there, with a sentence beside each field."""
    sent = {"kind": "simpler", "note": "", "distance": "3 m", "checks": ["lane"]}
    answer = teacher.post(f"{_group(classroom)}/adaptations", data=sent)
    assert 422 == answer.status_code
    assert "Say in a few words what you adapt." in answer.text
    assert "Not ticked yet: What comes back from the panel" in answer.text
    assert 'value="simpler" checked' in answer.text
    assert 'value="lane" checked' in answer.text
    assert 'value="3 m"' in answer.text


@pytest.mark.parametrize("kind", ["", "sunshine"])
def test_nothing_chosen_is_asked_for(teacher: FlaskClient, classroom: Classroom, kind: str) -> None:
    """No adaptation without a kind."""
    answer = teacher.post(f"{_group(classroom)}/adaptations", data={"kind": kind})
    assert 422 == answer.status_code
    assert "Choose what you adapt." in answer.text


def test_what_it_turned_out_to_be_is_kept(teacher: FlaskClient, classroom: Classroom) -> None:
    """The class's page lists it; a mark that is none comes back with a sentence."""
    url = f"{_group(classroom)}/judged-causes"
    assert 422 == teacher.post(url, data={"found": "Loose band."}).status_code
    assert 303 == teacher.post(url, data={"turned_out": "use", "found": "Grip."}).status_code
    page = teacher.get(f"/classes/{classroom.class_id}/diagnoses").text
    assert "Grip." in page
    assert "1 cause marked" in page


def test_these_pages_are_the_teachers(tablet: FlaskClient, classroom: Classroom) -> None:
    """A tablet neither sees a diagnosis nor adapts."""
    for path in (f"{_group(classroom)}/diagnosis", f"/classes/{classroom.class_id}/diagnoses"):
        assert 403 == tablet.get(path).status_code
    assert 403 == tablet.get(f"/classes/{classroom.class_id}/fair-test-card").status_code
    sent = {"kind": "back", "checks": ALL}
    assert 403 == tablet.post(f"{_group(classroom)}/adaptations", data=sent).status_code
    assert 404 == tablet.get(f"{_group(classroom, 1)}/diagnosis").status_code


def test_the_card_is_offered_once_before_the_first_ladder(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """The overview leads there until the teacher ticks it, and never again."""
    overview = f"/classes/{classroom.class_id}/overview"
    card = f"/classes/{classroom.class_id}/fair-test-card"
    assert card not in teacher.get(overview).text
    tablet.post(f"{_group(classroom)}/ladder")
    assert card in teacher.get(overview).text
    page = teacher.get(card).text
    assert "What makes a test fair?" in page
    assert "We did this" in page
    page = teacher.post(card, follow_redirects=True).text
    assert "Done on" in page
    tablet.post(f"{_group(classroom)}/ladder/leave", data={"to": "revision"})
    tablet.post(f"{_group(classroom)}/ladder")
    assert card not in teacher.get(overview).text


def _climb(tablet: FlaskClient, classroom: Classroom, *rungs: str) -> str:
    base = f"{_group(classroom)}/ladder"
    tablet.post(base)
    for rung in rungs:
        tablet.post(f"{base}/answers", data={"rung": rung, "words": f"About {rung}."})
    return base


CLIMB = ("notice", "compare", "explain", "aim")


@pytest.mark.parametrize(
    ("to", "where"),
    [
        ("revision", "/revisions/new?from=ladder"),
        ("handling", "/trials/new"),
        ("swap_test", "/swap-tests/new"),
        ("practice_set", "/trials/new"),
    ],
)
def test_the_last_answer_leads_to_a_test(
    tablet: FlaskClient, classroom: Classroom, to: str, where: str
) -> None:
    """A revision, another use, a swap test or a practice set; each address is there."""
    base = _climb(tablet, classroom, *CLIMB)
    page = tablet.get(base).text
    assert "What will happen?" in page
    sent = {"rung": "choose_test", "words": "The rail.", "to": to, "trials": "6"}
    answer = tablet.post(f"{base}/answers", data=sent)
    assert f"{_group(classroom)}{where}" == answer.location
    assert 200 == tablet.get(answer.location).status_code


def test_the_next_revision_holds_what_was_said(tablet: FlaskClient, classroom: Classroom) -> None:
    """Cause and prediction stand in the fields."""
    base = _climb(tablet, classroom, *CLIMB)
    sent = {
        "rung": "choose_test",
        "words": "We test the rail length.",
        "prediction": "It lands higher.",
        "to": "revision",
    }
    page = tablet.post(f"{base}/answers", data=sent, follow_redirects=True).text
    assert ">About explain.</textarea>" in page
    assert ">It lands higher.</textarea>" in page


@pytest.mark.parametrize("extra", [{"to": "moon"}, {"to": "practice_set", "trials": "lots"}])
def test_a_way_on_that_is_none_is_asked_for_again(
    tablet: FlaskClient, classroom: Classroom, extra: dict[str, str]
) -> None:
    """The answer and the prediction stay in the form."""
    base = _climb(tablet, classroom, *CLIMB)
    sent = {"rung": "choose_test", "words": "The rail.", "prediction": "Up.", **extra}
    answer = tablet.post(f"{base}/answers", data=sent)
    assert 422 == answer.status_code
    assert ">The rail.</textarea>" in answer.text
    assert ">Up.</textarea>" in answer.text


def test_not_sure_yet_is_taken_after_a_moment(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """Too soon and too often are told kindly; the teacher's page names the question."""
    base = _climb(tablet, classroom)
    page = tablet.post(f"{base}/not-sure", data={"rung": "notice"}, follow_redirects=True).text
    assert "Give the question a moment first." in page
    assert "data-wait-ms" in page
    clock.move(seconds=4)
    page = tablet.post(f"{base}/not-sure", data={"rung": "notice"}, follow_redirects=True).text
    assert "Not sure yet." in page
    assert "data-wait-ms" not in page
    assert "Not sure yet at Notice:" in teacher.get(f"{_group(classroom)}/diagnosis").text
    page = tablet.post(f"{base}/not-sure", data={"rung": "attic"}, follow_redirects=True).text
    assert "Load the page again" in page


def test_the_teacher_skips_a_question(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """From the group's page; a tablet may not."""
    base = _climb(tablet, classroom)
    assert 403 == tablet.post(f"{base}/skip").status_code
    page = teacher.post(f"{base}/skip", follow_redirects=True).text
    assert "<b>Compare</b>" in page


def test_an_answer_is_judged_by_tap(tablet: FlaskClient, classroom: Classroom) -> None:
    """An unknown word or answer is refused in words."""
    base = _climb(tablet, classroom, *CLIMB)
    url = f"{base}/answers/{uuid4()}/borne-out"
    assert 404 == tablet.post(url, data={"borne_out": "yes"}).status_code
    assert 422 == tablet.post(url, data={"borne_out": "perhaps"}).status_code


@pytest.mark.parametrize("band", list(GradeBand))
@pytest.mark.parametrize("key", [challenge.key for challenge in ready_challenges()])
def test_every_rung_shows_for_each_band_and_challenge(
    store: Store, sign_in: SignIn, key: str, band: GradeBand, clock: StandingClock
) -> None:
    """From the first rung to the last, with nothing built or tried yet; the teacher's page too."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, work.now(), challenge_key=key, band=band)
        for table in ("revisions", "parts"):
            work.session.connection().exec_driver_sql(f"DELETE FROM {table}")  # noqa: S608
    tablet, teacher = sign_in(room.tablets[0]), sign_in(room.teacher)
    assert 200 == teacher.get(f"{_group(room)}/diagnosis").status_code
    base = _climb(tablet, room)
    for rung in Rung:
        page = tablet.get(base)
        assert 200 == page.status_code
        assert f'value="{rung.value}"' in page.text
        assert 200 == teacher.get(f"{_group(room)}/diagnosis").status_code
        tablet.post(f"{base}/answers", data={"rung": rung.value, "words": f"At {rung.value}."})
    is_offered = f"/classes/{room.class_id}/fair-test-card" in (
        teacher.get(f"/classes/{room.class_id}/overview").text
    )
    assert (band is not GradeBand.SIX_TO_EIGHT) is is_offered
