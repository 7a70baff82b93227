"""Sign-ins as rows: found by the hash of a token until they are ended."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

from journal.domain.actors import TabletState
from journal.store import sign_ins
from journal.store.engine import Store
from tests.factories.classrooms import Classroom

AT = datetime(2030, 3, 4, 10, 0, tzinfo=UTC)
LATER = AT + timedelta(minutes=5)


def test_a_sign_in_is_found_until_it_is_ended(store: Store, classroom: Classroom) -> None:
    """Actor, start and last use come back; ended, it is nobody's."""
    tablet = classroom.tablets[0]
    with store.open_session(writing=True) as session:
        sign_in_id = sign_ins.add_sign_in(session, "a" * 64, tablet, AT)
        sign_ins.touch(session, sign_in_id, LATER)
    with store.open_session(writing=True) as session:
        found = sign_ins.find_sign_in(session, "a" * 64)
        sign_ins.end(session, sign_in_id, LATER)
    with store.open_session(writing=False) as session:
        ended = sign_ins.find_sign_in(session, "a" * 64)

    assert (replace(tablet, sign_in_id=sign_in_id), AT, LATER) == found
    assert ended is None


def test_only_a_tablet_of_the_class_is_let_in(store: Store, classroom: Classroom) -> None:
    """True where there is such a tablet; False for another class, a teacher, an ended sign-in."""
    waiting = replace(classroom.tablets[0], tablet_state=TabletState.WAITING)
    with store.open_session(writing=True) as session:
        tablet = sign_ins.add_sign_in(session, "a" * 64, waiting, AT)
        ended = sign_ins.add_sign_in(session, "b" * 64, waiting, AT)
        teacher = sign_ins.add_sign_in(session, "c" * 64, classroom.teacher, AT)
        sign_ins.end(session, ended, AT)
        told = [
            sign_ins.set_tablet_state(session, classroom.class_id, tablet, TabletState.IN),
            sign_ins.set_tablet_state(session, uuid4(), tablet, TabletState.OUT),
            sign_ins.set_tablet_state(session, classroom.class_id, teacher, TabletState.IN),
            sign_ins.set_tablet_state(session, classroom.class_id, ended, TabletState.IN),
        ]
    with store.open_session(writing=False) as session:
        (kept,) = sign_ins.tablets_of_class(session, classroom.class_id, AT)

    assert [True, False, False, False] == told
    assert (tablet, TabletState.IN) == (kept.sign_in_id, kept.state)
