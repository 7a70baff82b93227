"""Teachers and their passwords."""

from __future__ import annotations

import pytest

from journal.content.messages import word_message
from journal.domain.actors import NOBODY, OPERATOR, Actor, Role
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.records.work import Work, open_work
from journal.services.sign_ins import actor_of, start_teacher
from journal.services.teachers import (
    REFUSED,
    add_teacher,
    change_password,
    hash_new_password,
    prove_present,
    prove_teacher,
    set_password,
)
from journal.store import people
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises, sentences_of

PASSWORD = "oak ladder noon"


def test_a_teacher_added_at_the_terminal_can_sign_in(store: Store, clock: StandingClock) -> None:
    """The sign-in name is known in capitals too; only a hash of the password is kept."""
    with open_work(store, OPERATOR, clock=clock) as work:
        added = add_teacher(work, " Ruiz ", "Ms Ruiz", PASSWORD)
    with open_work(store, NOBODY, clock=clock) as work:
        assert added == prove_teacher(work, "RUIZ", PASSWORD)
        found = people.find_teacher_by_name(work.session, "ruiz")
    assert found is not None
    assert found[1].startswith("$argon2id$v=19$m=19456,t=2,p=1$")


@pytest.mark.parametrize(
    ("name", "shown", "password", "field"),
    [
        ("", "Ms Ruiz", PASSWORD, "sign_in_name"),
        ("ms ruiz", "Ms Ruiz", PASSWORD, "sign_in_name"),
        ("r" * 61, "Ms Ruiz", PASSWORD, "sign_in_name"),
        ("taken", "Ms Ruiz", PASSWORD, "sign_in_name"),
        ("ruiz", " ", PASSWORD, "shown_name"),
        ("ruiz", "Ms Ruiz", "short", "password"),
        ("ruiz", "Ms Ruiz", "Sunshine", "password"),
    ],
)
def test_what_cannot_be_taken_is_named(
    store: Store, clock: StandingClock, name: str, shown: str, password: str, field: str
) -> None:
    """The problem stands beside its field."""
    with open_work(store, OPERATOR, clock=clock) as work:
        add_teacher(work, "taken", "Mr Vale", PASSWORD)
    with open_work(store, OPERATOR, clock=clock) as work, pytest.raises(Invalid) as refused:
        add_teacher(work, name, shown, password)
    assert [field] == list(refused.value.by_field())


def test_only_the_terminal_adds_teachers(classroom: Classroom, store: Store) -> None:
    """Neither a teacher nor a tablet nor nobody may."""
    for actor in (NOBODY, classroom.teacher, classroom.tablets[0]):
        with open_work(store, actor) as work:
            with pytest.raises(NotAllowed):
                add_teacher(work, "ruiz", "Ms Ruiz", PASSWORD)
            with pytest.raises(NotAllowed):
                set_password(work, "teacher0", PASSWORD)


@pytest.mark.parametrize(
    ("name", "password"),
    [
        ("ruiz", "oak ladder moon"),
        ("nobody", PASSWORD),
        ("", ""),
        ("ruiz", "\ud800"),
        ("r" * 100_000, "p" * 100_000),
    ],
)
def test_a_wrong_name_and_a_wrong_password_get_one_answer(
    store: Store, clock: StandingClock, name: str, password: str
) -> None:
    """Nobody learns which sign-in names there are."""
    with open_work(store, OPERATOR, clock=clock) as work:
        add_teacher(work, "ruiz", "Ms Ruiz", PASSWORD)
    with open_work(store, NOBODY, clock=clock) as work, pytest.raises(Invalid) as refused:
        prove_teacher(work, name, password)
    assert {"password": [word_message(REFUSED)]} == sentences_of(refused.value)


def test_a_new_password_ends_every_sign_in(store: Store, clock: StandingClock) -> None:
    """Whoever was signed in with the old one is out at once."""
    with open_work(store, OPERATOR, clock=clock) as work:
        add_teacher(work, "ruiz", "Ms Ruiz", PASSWORD)
    with open_work(store, NOBODY, clock=clock) as work:
        tokens = [start_teacher(work, prove_teacher(work, "ruiz", PASSWORD)) for _ in range(2)]
    assert {Role.TEACHER} == {actor_of(store, token, clock).role for token in tokens}
    with open_work(store, OPERATOR, clock=clock) as work:
        with raises(Invalid, match="Very many people"):
            set_password(work, "ruiz", "iloveyou")
        set_password(work, "Ruiz", "another oak")
    assert [NOBODY, NOBODY] == [actor_of(store, token, clock) for token in tokens]
    with open_work(store, NOBODY, clock=clock) as work:
        assert "Ms Ruiz" == prove_teacher(work, "ruiz", "another oak").shown_name


def test_an_unknown_teacher_gets_no_password(store: Store, clock: StandingClock) -> None:
    """The terminal says that there is no such name."""
    with open_work(store, OPERATOR, clock=clock) as work, raises(NotFound, match="ruiz"):
        set_password(work, "ruiz", PASSWORD)


@pytest.mark.parametrize(
    ("present", "again", "field"),
    [("not this one", "another oak", "present"), (PASSWORD, "another elm", "again")],
)
def test_changing_a_password_asks_for_the_present_one(
    store: Store, clock: StandingClock, present: str, again: str, field: str
) -> None:
    """A tablet left open does not give the account away, and a slip locks nobody out."""
    with open_work(store, OPERATOR, clock=clock) as work:
        teacher = add_teacher(work, "ruiz", "Ms Ruiz", PASSWORD)
    actor = Actor(role=Role.TEACHER, school_id=teacher.school_id, teacher_id=teacher.id)
    with open_work(store, actor, clock=clock) as work, pytest.raises(Invalid) as refused:
        _hash(work, present, again)
    assert [field] == list(refused.value.by_field())
    with open_work(store, actor, clock=clock) as work:
        change_password(work, _hash(work, PASSWORD, "another oak"))
        assert teacher == prove_teacher(work, "ruiz", "another oak")


def _hash(work: Work, present: str, again: str) -> str:
    prove_present(work, present)
    return hash_new_password(work, "another oak", again)
