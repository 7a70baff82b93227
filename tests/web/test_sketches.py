"""An answer by sketch through a browser: sent, shown again, and never lost where it is refused."""

from __future__ import annotations

import re
from html import unescape

import pytest
from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom

DRAWN = "[[[100, 500], [400, 200]], [[600, 300]]]"
#: The first stroke beside its rung, 84 px for 1000 units of the grid.
LINE = "M8.4 42L33.6 16.8"
FORM = re.compile(
    r'id="revision-form" method="post" action="([^"]+)".*?name="part" value="([^"]+)"', re.DOTALL
)
FIELD = re.compile(r'<input type="hidden" name="sketch" value="([^"]*)"')


def _ladder(classroom: Classroom) -> str:
    return f"/groups/{classroom.group_ids[0]}/ladder"


def _strokes(page: str) -> str:
    found = FIELD.search(page)
    assert found
    return unescape(found[1])


def test_a_sketch_is_kept_and_shown_beside_its_rung(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """Without a word: the next question is open, and no empty quote stands there."""
    base = _ladder(classroom)
    assert "Add a sketch" in tablet.post(base, follow_redirects=True).text
    sent = {"rung": "notice", "words": "", "sketch": DRAWN}
    page = tablet.post(f"{base}/answers", data=sent, follow_redirects=True).text
    assert LINE in page
    assert "<title>Sketch by " in page
    assert "“”" not in page
    assert "" == _strokes(page)
    assert 'value="compare"' in page


@pytest.mark.parametrize(
    ("sketch", "sentence"),
    [
        ("[[[100, 500], [400,", "The sketch did not arrive whole."),
        ("[[[100, 500], [4000, 200]]]", "The sketch leaves the drawing area."),
        (f"[{'[[1, 1]],' * 200}[[1, 1]]]", "The sketch has more than 200 strokes."),
        ('"><script>', "The sketch did not arrive whole."),
    ],
)
def test_a_refused_sketch_comes_back_with_its_words(
    tablet: FlaskClient, classroom: Classroom, sketch: str, sentence: str
) -> None:
    """A sentence at the area; the strokes are in the field again, to be drawn anew."""
    base = _ladder(classroom)
    tablet.post(base)
    sent = {"rung": "notice", "words": "It dips.", "sketch": sketch}
    answer = tablet.post(f"{base}/answers", data=sent)
    assert 422 == answer.status_code
    assert 'id="sketch-problem"' in answer.text
    assert sentence in answer.text
    assert ">It dips.</textarea>" in answer.text
    assert sketch == _strokes(answer.text)


def test_a_sketch_stays_where_something_else_is_refused(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """The words are too long, or another tablet was first: the drawing waits in its field."""
    base = _ladder(classroom)
    tablet.post(base)
    for extra in ({"rung": "notice", "words": "a" * 700}, {"rung": "aim", "words": "Late."}):
        answer = tablet.post(f"{base}/answers", data={**extra, "sketch": DRAWN})
        assert 422 == answer.status_code
        assert DRAWN == _strokes(answer.text)


def test_a_page_without_a_script_has_no_place_to_draw(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """The script opens it; the words are there either way."""
    page = tablet.post(_ladder(classroom), follow_redirects=True).text
    assert '<div class="draw-it" id="sketch" hidden>' in page
    assert '<dialog class="draw"' in page
    assert 'name="words"' in page


def test_a_drawn_claim_leads_to_the_next_revision(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """The form shows it, and so do the teacher's pages."""
    base = _ladder(classroom)
    tablet.post(base)
    for rung in ("notice", "compare", "explain", "aim"):
        tablet.post(f"{base}/answers", data={"rung": rung, "sketch": DRAWN})
    sent = {"rung": "choose_test", "sketch": DRAWN, "to": "revision"}
    page = tablet.post(f"{base}/answers", data=sent, follow_redirects=True).text
    assert "<title>Sketch by " in page
    assert ">As we drew it.</textarea>" in page
    form = FORM.search(page)
    assert form is not None
    action, part = form.groups()
    again = tablet.post(action, data={"part": part, "makers": "nobody"})
    assert 422 == again.status_code
    assert "<title>Sketch by " in again.text
    for path in ("findings", "diagnosis"):
        page = teacher.get(f"/groups/{classroom.group_ids[0]}/{path}").text
        assert 5 == page.count("<title>Sketch by ")
        assert "Said to the teacher" not in page
