"""Fields of a form: what can be read is read, the rest is said beside the field."""

from datetime import datetime
from enum import StrEnum
from uuid import UUID

import pytest
from werkzeug.datastructures import MultiDict

from journal.domain.errors import Invalid, Problem, Refused
from journal.domain.stages import NoteKind, Stage
from journal.screens.desk.overviews import Shown
from journal.web.error_words import sentences_of
from journal.web.forms.fields import (
    find_id,
    find_ids,
    read_choice,
    read_id,
    read_ids,
    read_number,
)
from journal.web.forms.overviews import read_shown
from journal.web.forms.revisions import read_revision
from journal.web.forms.stages import read_notes

A, B = UUID(int=1), UUID(int=2)


class Way(StrEnum):
    """A choice of two."""

    THIS = "this"
    THAT = "that"


def test_ids_that_may_be_missing() -> None:
    """What is no id is left out, and each one counts once."""
    assert (A, None, None) == (find_id(str(A)), find_id(""), find_id("bark"))
    assert (B, A) == find_ids([str(B), "x", str(A), "", str(B)])


def test_ids_that_must_be_there() -> None:
    """A text that is none is refused beside its field, in the reader's own words if given."""
    assert [A, B] == read_ids([str(A), str(B)], "absent")
    with pytest.raises(Invalid) as general:
        read_ids([str(A), "x"], "absent")
    with pytest.raises(Invalid) as own:
        read_id("", "session_id", "Choose a session.")
    assert {"absent": ["Choose one of those shown."]} == sentences_of(general.value)
    assert {"session_id": ["Choose a session."]} == own.value.by_field()


def test_a_choice() -> None:
    """Only what stands in the list can be chosen."""
    assert Way.THAT is read_choice(Way, "that", "way", "Tap one.")
    with pytest.raises(Invalid) as refused:
        read_choice(Way, "THAT", "way", "Tap one.")
    assert {"way": ["Tap one."]} == refused.value.by_field()


def test_numbers_are_read_and_their_problems_gathered() -> None:
    """An empty field is no problem; a text that is no number is, and the next field is read."""
    problems: list[Problem] = []
    fields = {"x_mm": "12,5", "y_mm": "", "value": "many"}
    found = [read_number(text, field, problems) for field, text in fields.items()]
    assert [12.5, None, None] == found
    assert ["value"] == [problem.field for problem in problems]


def test_a_refusal_stands_beside_the_field_named_for_it() -> None:
    """What is wrong with a field stands beside it; what is wrong with the whole, where asked."""
    assert {"kind": ["No."]} == sentences_of(Invalid.at("kind", "No."), "log")
    assert {"log": ["Not now."]} == sentences_of(Refused("Not now."), "log")


def test_a_revision_as_it_was_sent() -> None:
    """Values and amounts are found by how their fields begin; ids that are none are left out."""
    form = read_revision(
        MultiDict(
            [
                ("part", str(A)),
                ("parent", ""),
                ("changes", "rail"),
                ("changes", "bands"),
                ("to_rail", "300"),
                ("material_cork", "2"),
                ("makers", str(B)),
                ("makers", "nobody"),
                ("reason", "It dipped."),
            ]
        )
    )
    assert (A, None, ("rail", "bands")) == (form.part_id, form.parent_id, form.ticked)
    assert ({"rail": "300"}, {"cork": "2"}) == (form.values, form.amounts)
    assert ((B,), "It dipped.") == (form.maker_ids, form.reason)


def test_the_notes_of_a_stage_only() -> None:
    """Each field of this stage becomes a note; another stage's words are not taken."""
    own = [kind for kind in NoteKind if kind.stage is Stage.ASK]
    other = next(kind for kind in NoteKind if kind.stage is Stage.PLAN)
    notes = read_notes({own[0].value: "Far.", other.value: "Rail.", "who": str(A)}, Stage.ASK)
    assert own == [note.kind for note in notes]
    assert ("Far.", A) == (notes[0].words, notes[0].student_id)


@pytest.mark.parametrize(
    "sent",
    [{}, {"shown": str(A)}, {"shown": "x", "since": "2030-03-04T09:00:00+00:00"}, {"since": "9"}],
)
def test_an_order_that_cannot_be_read_counts_as_none(sent: dict[str, str]) -> None:
    """The overview is then shown in today's order."""
    assert Shown() == read_shown(sent, {})


def test_the_order_that_a_screen_shows() -> None:
    """Groups in their order, and since when; a time without a zone is no time."""
    both = {"shown": f"{B},{A}", "since": "2030-03-04T09:00:00+00:00"}
    assert (B, A) == read_shown(both, {}).group_ids
    assert read_shown(both, {}).since is not None
    assert read_shown(both | {"since": "2030-03-04T09:00:00"}, {}).since is None


def test_a_group_that_was_put_off_is_remembered_with_its_moment() -> None:
    """However little of the order can be read."""
    put_off_at = datetime.fromisoformat("2030-03-04T09:00:00+00:00")
    remembered = {str(A): put_off_at.isoformat()}
    assert ((A, put_off_at),) == read_shown({}, remembered).put_off_at
