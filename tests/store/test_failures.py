"""What a database refuses becomes an error for people, or stays a fault of ours."""

from __future__ import annotations

import pytest
import sqlalchemy as sa

from journal.domain.errors import Clash, Invalid
from journal.store.engine import Store
from journal.store.people import SchoolRow, StudentRow, add_students
from tests.factories.classrooms import Classroom
from tests.sentences import raises


def _name_school(store: Store, name: str) -> None:
    with store.open_session(writing=True) as session:
        session.execute(sa.update(SchoolRow).values(name=name))


@pytest.mark.parametrize(
    ("name", "told"), [("x" * 121, "too long"), ("a \x00 b", "a sign that cannot be kept")]
)
def test_a_text_that_postgresql_does_not_take_is_told(
    store: Store, classroom: Classroom, name: str, told: str
) -> None:
    """Whatever a form's check overlooks ends in a sentence, and nothing is kept."""
    if store.is_sqlite:
        pytest.skip("SQLite takes any text; tests/races/test_texts.py looks at what forms let in")
    with raises(Invalid, match=told):
        _name_school(store, name)


def test_a_taken_key_is_a_clash_and_other_rules_are_faults(
    store: Store, classroom: Classroom
) -> None:
    """Two that did the same are told so; a row that breaks a rule of ours is our mistake."""

    def add(*names: str) -> None:
        with store.open_session(writing=True) as session:
            add_students(session, classroom.school_id, classroom.class_id, names)

    with pytest.raises(Clash):
        add("Zoe", "Zoe")

    def break_rule() -> None:
        with store.open_session(writing=True) as session:
            session.execute(sa.update(StudentRow).values(nickname=None))

    with pytest.raises(sa.exc.IntegrityError):
        break_rule()


def test_what_was_entered_does_not_stand_in_a_fault(store: Store, classroom: Classroom) -> None:
    """A statement that fails is logged without its values: they may be a child's words."""
    with pytest.raises(sa.exc.DBAPIError) as caught, store.open_session(writing=True) as session:
        session.execute(sa.text("INSERT INTO nowhere VALUES (:words)"), {"words": "secret words"})
    assert "secret words" not in str(caught.value)
