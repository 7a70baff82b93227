"""What a tablet reads after something was kept: that it was, and where to go on."""

from __future__ import annotations

from flask.testing import FlaskClient

from journal.domain.ladders import Rung
from journal.records.work import open_work
from journal.services.ladders import skip_rung, start_climb
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def test_a_stage_names_the_next_one(tablet: FlaskClient, classroom: Classroom) -> None:
    """From one stage to the one after it, and from improving to building again."""
    group = f"/groups/{classroom.group_ids[0]}"
    for stage, kind, after in (("test", "saw", "Improve"), ("improve", "found", "Build")):
        form = {kind: "the tip sticks to the wall"}
        page = tablet.post(f"{group}/stages/{stage}/notes", data=form, follow_redirects=True).text
        assert f"Kept. Write more here, or tap “{after}” to go on." in page, stage


def test_the_last_question_says_that_its_answer_is_kept(
    tablet: FlaskClient, store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """The same question stays open there, so without a word the answer would seem lost."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        climb = start_climb(work, group_id)
    while climb.rung is not Rung.ASK_TEACHER:
        with open_work(store, classroom.teacher, clock=clock) as work:
            climb = skip_rung(work, group_id)
    form = {"rung": climb.rung.value, "words": "Why does it turn to the left?"}

    page = tablet.post(f"/groups/{group_id}/ladder/answers", data=form, follow_redirects=True).text

    assert "Your answer is kept for your teacher." in page
    assert "Why does it turn to the left?" in page
