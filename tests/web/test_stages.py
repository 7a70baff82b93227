"""The pages of the six stages in a browser: arrivals and notes."""

from __future__ import annotations

from uuid import uuid4

import pytest
from flask.testing import FlaskClient

from tests.factories.classrooms import Classroom


def _base(room: Classroom, group: int = 0) -> str:
    return f"/groups/{room.group_ids[group]}"


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


@pytest.mark.parametrize(
    ("sent", "sentence", "kept"),
    [
        ({"problem": "", "limits": ""}, "Tap a sentence or write one.", ""),
        ({"problem": "p" * 2000}, "This is 2000 letters long. Say it in", "p" * 2000),
    ],
)
def test_what_says_nothing_or_too_much_is_told(
    tablet: FlaskClient, classroom: Classroom, sent: dict[str, str], sentence: str, kept: str
) -> None:
    """No arrival and no note: the journal stands as before, what was written is in its field."""
    answer = tablet.post(f"{_base(classroom)}/stages/ask/notes", data=sent)
    assert 422 == answer.status_code
    assert sentence in answer.text
    assert kept in answer.text
    assert 'class="here"' not in tablet.get(f"{_base(classroom)}/journal").text


def test_a_name_of_another_group_is_nobodys_idea(tablet: FlaskClient, classroom: Classroom) -> None:
    """The idea stays in its field until a child of this group is tapped."""
    url = f"{_base(classroom)}/stages/imagine/notes"
    for who in (str(classroom.student_ids[1][0]), str(uuid4()), "Ada"):
        answer = tablet.post(url, data={"idea": "A long rail.", "who": who})
        assert 422 == answer.status_code
        assert "Tap " in answer.text
        assert ">A long rail.</textarea>" in answer.text
    page = tablet.get(f"{_base(classroom)}/stages/imagine").text
    assert "A long rail." not in page


def test_a_later_note_stands_beside_the_earlier_one(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """Nothing written is overwritten; after keeping, the page says what comes next."""
    url = f"{_base(classroom)}/stages/ask/notes"
    first = tablet.post(url, data={"problem": "The ditch is wide."}, follow_redirects=True).text
    assert 'role="status"' in first
    tablet.post(url, data={"problem": "The ditch is very wide."})
    page = tablet.get(f"{_base(classroom)}/stages/ask").text
    assert "The ditch is wide." in page
    assert "The ditch is very wide." in page


def test_a_stage_that_is_none_is_not_found(tablet: FlaskClient, classroom: Classroom) -> None:
    """Neither shown nor arrived at nor written into."""
    base = f"{_base(classroom)}/stages/party"
    assert 404 == tablet.get(base).status_code
    assert 404 == tablet.post(f"{base}/notes", data={"problem": "x"}).status_code
