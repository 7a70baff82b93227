"""A group's own pages in a browser: journal, stages, parts, revisions, ladder."""

from __future__ import annotations

from collections.abc import Callable
from uuid import UUID

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR, Actor
from journal.domain.part_states import PartState
from journal.domain.stages import Stage
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.parts import parts_of_context
from journal.store import challenges, sessions, stages
from journal.store.engine import Store
from tests.factories.classrooms import Classroom, make_classroom

PAGES = ("journal", "parts", "ladder", "revisions/new", *(f"stages/{one.value}" for one in Stage))


def _states(store: Store, room: Classroom, group: int = 0) -> tuple[PartState, ...]:
    with open_work(store, room.tablets[group], writing=False) as work:
        return parts_of_context(work, get_group_context(work, room.group_ids[group]))


def _base(room: Classroom, group: int = 0) -> str:
    return f"/groups/{room.group_ids[group]}"


@pytest.mark.parametrize("path", PAGES)
def test_every_page_shows_for_group_and_teacher_and_writes_nothing(
    tablet: FlaskClient, teacher: FlaskClient, store: Store, classroom: Classroom, path: str
) -> None:
    """A GET is never an arrival."""
    for browser in (tablet, teacher):
        answer = browser.get(f"{_base(classroom)}/{path}")
        assert 200 == answer.status_code
        assert classroom.challenge.caution in answer.text
    with open_work(store, OPERATOR, writing=False) as work:
        group_id = classroom.group_ids[0]
        assert stages.find_last_step(work.session, group_id, classroom.challenge_id) is None


@pytest.mark.parametrize("path", PAGES)
def test_another_groups_pages_are_not_found(
    tablet: FlaskClient, nobody: FlaskClient, classroom: Classroom, path: str
) -> None:
    """Nobody else learns that they exist; who is not signed in is led to the door."""
    url = f"{_base(classroom, 1)}/{path}"
    assert 404 == tablet.get(url).status_code
    assert 303 == nobody.get(url).status_code


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("key", ["paper_bridge", "beyond_the_ditch"])
def test_every_page_shows_before_anything_was_built(
    store: Store, sign_in: Callable[[Actor], FlaskClient], path: str, key: str
) -> None:
    """An empty group of each ready challenge, gate shut, has the same pages."""
    with open_work(store, OPERATOR) as work:
        room = make_classroom(work.session, work.now(), challenge_key=key, gate_open=False)
        for table in ("revisions", "parts"):
            work.session.connection().exec_driver_sql(f"DELETE FROM {table}")  # noqa: S608
    answer = sign_in(room.tablets[0]).get(f"{_base(room)}/{path}")
    assert 200 == answer.status_code


def test_the_groups_name_leads_to_its_journal(tablet: FlaskClient, classroom: Classroom) -> None:
    """The head of every page has the short address."""
    answer = tablet.get(_base(classroom))
    assert f"{_base(classroom)}/journal" == answer.location


def test_the_journal_says_what_waits(
    store: Store, sign_in: Callable[[Actor], FlaskClient], tablet: FlaskClient, classroom: Classroom
) -> None:
    """Without a gate, and without a session, the reason stands there."""
    with open_work(store, OPERATOR) as work:
        shut = make_classroom(work.session, work.now(), gate_open=False)
    page = sign_in(shut.tablets[0]).get(f"{_base(shut)}/journal").text
    assert "Your teacher checks the lane and the goggles first." in page
    assert "Your teacher checks" not in tablet.get(f"{_base(classroom)}/journal").text
    with open_work(store, OPERATOR) as work:
        sessions.end_session(work.session, classroom.session_id, work.now())
    page = tablet.get(f"{_base(classroom)}/journal").text
    assert "Your teacher has not started a session yet." in page


def test_tapping_a_stage_is_an_arrival(tablet: FlaskClient, classroom: Classroom) -> None:
    """The tapped stage is shown as the present one, there and in the journal."""
    answer = tablet.post(f"{_base(classroom)}/stages/imagine", follow_redirects=True)
    assert '<button type="submit" class="here" aria-current="page">' in answer.text
    assert 'class="here"' in tablet.get(f"{_base(classroom)}/journal").text
    assert 404 == tablet.post(f"{_base(classroom)}/stages/party").status_code


def test_a_note_comes_back_beside_its_field(tablet: FlaskClient, classroom: Classroom) -> None:
    """Kept words stand there with who said them and who wrote."""
    ada = classroom.student_ids[0][0]
    sent = {"idea": "A long rail.", "who": str(ada), "scribe": "teacher"}
    answer = tablet.post(
        f"{_base(classroom)}/stages/imagine/notes", data=sent, follow_redirects=True
    )
    assert "Ada: “A long rail.” Written by our teacher." in answer.text


def test_a_refused_note_stays_in_its_form(tablet: FlaskClient, classroom: Classroom) -> None:
    """What was written and tapped is still there, with a sentence beside it."""
    url = f"{_base(classroom)}/stages/imagine/notes"
    answer = tablet.post(url, data={"idea": "A long rail.", "scribe": "Ben"})
    assert 422 == answer.status_code
    assert ">A long rail.</textarea>" in answer.text
    assert "Tap whose idea it is." in answer.text
    assert 'value="Ben" checked' in answer.text


def test_a_childs_words_are_never_markup(tablet: FlaskClient, classroom: Classroom) -> None:
    """A tag in a note is shown as text."""
    words = "<script>alert(1)</script>"
    tablet.post(f"{_base(classroom)}/stages/ask/notes", data={"problem": words})
    assert words not in tablet.get(f"{_base(classroom)}/stages/ask").text


def test_a_revision_is_made_by_form(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """The journal shows it with its parent, its change and who made it."""
    launcher = _states(store, classroom)[0].part
    ada = classroom.student_ids[0][0]
    sent = {
        "part": str(launcher.id),
        "changes": ["rail_length"],
        "to_rail_length": "30 cm",
        "reason": "It wobbled.",
        "makers": [str(ada)],
    }
    answer = tablet.post(f"{_base(classroom)}/revisions/new", data=sent, follow_redirects=True)
    for words in (
        "One change: you can tell what it did.",
        "Rail length 300 mm, was 200 mm",
        "from 1",
        "“It wobbled.”",
        "Made by Ada.",
    ):
        assert words in answer.text


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        ({}, "Tap what changes, or say why this one is new."),
        ({"changes": "rail_length", "to_rail_length": "30 g"}, "does not fit here"),
        ({"changes": "bands", "to_bands": "99"}, "cannot be built here"),
        ({"reason": "r", "material_tape": "-2"}, "cannot be less than 0"),
    ],
)
def test_a_refused_revision_stays_in_its_form(
    tablet: FlaskClient,
    store: Store,
    classroom: Classroom,
    sent: dict[str, str],
    sentence: str,
) -> None:
    """Nothing is lost: every value comes back, the problem stands beside its field."""
    launcher = _states(store, classroom)[0].part
    given = {"part": str(launcher.id), "prediction": "It flies <far>."} | sent
    answer = tablet.post(f"{_base(classroom)}/revisions/new", data=given)
    assert 422 == answer.status_code
    assert sentence in answer.text
    assert "It flies &lt;far&gt;." in answer.text
    for name, value in sent.items():
        if name.startswith(("to_", "material_")):
            assert f'name="{name}"' in answer.text
            assert f'value="{value}"' in answer.text
    assert 1 == len(_states(store, classroom)[0].revisions)


def test_a_part_of_nobody_is_no_form(tablet: FlaskClient, classroom: Classroom) -> None:
    """A changed id gives no error page with a trace."""
    url = f"{_base(classroom)}/revisions/new"
    assert 422 == tablet.post(url, data={"part": "x"}).status_code
    assert 404 == tablet.get(f"{url}?part={UUID(int=7)}").status_code


def test_a_revision_is_put_right_set_aside_and_taken_up(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Three ways that stand beside a revision without trials."""
    revision_id = classroom.shared_revision_ids[0]
    base = f"{_base(classroom)}/revisions/{revision_id}"
    assert 200 == tablet.get(f"{base}/edit").status_code
    part = _states(store, classroom)[0].part
    sent = {"part": str(part.id), "reason": "It stands on a book."}
    page = tablet.post(f"{base}/edit", data=sent, follow_redirects=True).text
    assert "“It stands on a book.”" in page
    page = tablet.post(f"{base}/aside", follow_redirects=True).text
    assert "Use it again" in page
    page = tablet.post(f"{base}/again", follow_redirects=True).text
    assert "Use it again" not in page
    assert 422 == tablet.post(f"{base}/edit", data={"part": str(part.id)}).status_code


def test_a_part_is_reported_and_borrowed_by_tap(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Lost, whole again; another group's dart comes and goes."""
    dart = _states(store, classroom)[1].part
    url = f"{_base(classroom)}/parts/{dart.id}/events"
    page = tablet.post(url, data={"kind": "lost"}, follow_redirects=True).text
    assert "1, lost" in page
    page = tablet.post(url, data={"kind": "mended"}, follow_redirects=True).text
    assert "1, lost" not in page
    assert 422 == tablet.post(url, data={"kind": "eaten"}).status_code
    assert 409 == tablet.post(url, data={"kind": "mended"}).status_code
    theirs = _states(store, classroom, group=1)[1].part
    base = f"{_base(classroom)}/parts/{theirs.id}"
    page = tablet.post(f"{base}/borrow", follow_redirects=True).text
    assert "Borrowed from another group" in page
    page = tablet.post(f"{base}/return", follow_redirects=True).text
    assert "Borrowed from another group" not in page


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


def test_a_group_without_a_challenge_is_told_so(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Before the teacher opens one there is nothing to walk through."""
    with open_work(store, OPERATOR) as work:
        other = make_classroom(work.session, work.now())
        found = challenges.challenges_of_class(work.session, classroom.class_id)
    assert 1 == len(found)
    assert 404 == tablet.get(f"{_base(other)}/journal").status_code
