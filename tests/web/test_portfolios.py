"""The portfolio from the teacher's browser."""

from __future__ import annotations

import io

import pypdf
from flask.testing import FlaskClient

from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import tell_story


def test_the_teacher_gets_a_pdf(
    teacher: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """One tap: a PDF that opens in the browser, with the group's own words in it."""
    story = tell_story(store, clock, classroom)
    answer = teacher.get(f"/groups/{story.group_id}/portfolio.pdf")
    assert (200, "application/pdf") == (answer.status_code, answer.mimetype)
    assert answer.headers["Content-Disposition"].startswith("inline; filename=portfolio-1-")
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(answer.data)).pages)
    assert "A rail that pushes straight." in text


def test_a_tablet_gets_none(tablet: FlaskClient, classroom: Classroom) -> None:
    """The portfolio is printed by the teacher."""
    answer = tablet.get(f"/groups/{classroom.group_ids[0]}/portfolio.pdf")
    assert 403 == answer.status_code
