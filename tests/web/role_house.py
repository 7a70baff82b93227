"""A journal with something of everything, two classes in it, and a browser for each role."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from http import HTTPStatus
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
import sqlalchemy as sa
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from journal.app import create_app
from journal.domain.actors import OPERATOR, Actor, Role, TabletState
from journal.domain.guest_tests import GuestKind, GuestTestEntry
from journal.domain.revisions import Change
from journal.domain.settings import settings_from
from journal.domain.swap_tests import SwapKind
from journal.domain.trials import Place, TrialEntry, TrialKind
from journal.records.work import open_work
from journal.services.guest_tests import invite
from journal.services.parked_trials import take_entry
from journal.services.rosters import let_student_leave
from journal.services.sign_ins import hash_token
from journal.services.swap_tests import SwapEntry, plan_swap_test
from journal.services.visits import log_near_miss, log_visit
from journal.store import sign_ins
from journal.store.engine import Store
from journal.store.ladders import AnswerRow
from journal.store.models import Row
from journal.web.request_work import SIGN_IN_COOKIE
from tests.conftest import StandingClock
from tests.factories import rows
from tests.factories.classrooms import Classroom, make_classroom
from tests.factories.people import TeacherFactory
from tests.factories.stories import tell_story
from tests.web.role_table import (
    ENDS_BEFORE,
    FORMS,
    OTHER_IDS,
    Ids,
)

Form = dict[str, Any]
#: What a look at a page may write down: when somebody was last seen, and that somebody guesses.
NOTED = {"sign_ins", "guess_tallies", "known_browsers"}


@dataclass
class House:
    """A journal with something of everything, as it was when the test began."""

    app: Flask
    store: Store
    kept: Path
    path: Path
    ids: Ids
    #: The same of another class, of another teacher.
    foreign: Ids
    tokens: dict[str, str]

    def rebuild(self) -> None:
        """Put everything back as it was."""
        self.store.close()
        for companion in ("-wal", "-shm"):
            self.path.with_name(self.path.name + companion).unlink(missing_ok=True)
        shutil.copyfile(self.kept, self.path)

    def browser_of(self, role: str) -> FlaskClient:
        """Return a browser that holds what the role holds."""
        browser = self.app.test_client()
        if role in self.tokens:
            browser.set_cookie(SIGN_IN_COOKIE, self.tokens[role])
        return browser

    def ask(
        self,
        role: str,
        method: str,
        endpoint: str,
        form: Form | None = None,
        headers: dict[str, str] | None = None,
        **ids: UUID,
    ) -> TestResponse:
        """Ask for a route as a role, with the form that the row needs, or with another one."""
        with self.app.test_request_context():
            address = self._address(endpoint, method, ids)
        if form is None:
            form = FORMS.get(endpoint, lambda _: {})(self.ids)
        told: dict[str, Any] = {} if method == "GET" else {"data": form}
        if method == "PUT":
            # A tablet makes the id of what it puts.
            address, told = f"{address.rsplit('/', 1)[0]}/{uuid4()}", {"json": form}
        return self.browser_of(role).open(
            address, method=method, headers=headers, buffered=True, **told
        )

    def end_before(self, endpoint: str) -> None:
        """End what stands in the way of a route."""
        if endpoint in ENDS_BEFORE:
            ended = self.ask("the teacher", "POST", ENDS_BEFORE[endpoint])
            assert ended.status_code == HTTPStatus.SEE_OTHER

    def content(self) -> str:
        """Return a mark that changes when a row of any table does."""
        mark = hashlib.sha256()
        with self.store.engine.connect() as connection:
            for table in Row.metadata.sorted_tables:
                if table.name not in NOTED:
                    found = connection.execute(sa.select(table).order_by(table.c.id))
                    mark.update(repr(found.all()).encode("utf-8", "surrogatepass"))
        return mark.hexdigest()

    def count(self, ids: Ids) -> int:
        """Return how often these ids stand in any row of any table."""
        wanted = tuple(str(one) for one in ids.values())
        with self.store.engine.connect() as connection:
            return sum(
                str(value).count(one)
                for table in Row.metadata.sorted_tables
                for row in connection.execute(sa.select(table))
                for value in row
                for one in wanted
            )

    def arguments(self, endpoint: str) -> set[str]:
        """Return the names of the ids in a route's address."""
        return {name for rule in self.app.url_map.iter_rules(endpoint) for name in rule.arguments}

    def _address(self, endpoint: str, method: str, ids: Ids) -> str:
        words = {"stage": "ask", "filename": "journal.css", "name": "not-found"}
        names = self.arguments(endpoint)
        usual = {name: OTHER_IDS.get(endpoint, {}).get(name, name) for name in names}
        values = {name: words.get(name) or ids.get(name) or self.ids[usual[name]] for name in names}
        return self.app.url_map.bind("localhost").build(endpoint, values, method=method)


@pytest.fixture(scope="module")
def house(migrated_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    """Return a journal in which each id of each address leads to something."""
    folder = tmp_path_factory.mktemp("roles")
    path = folder / "journal.sqlite3"
    shutil.copyfile(migrated_file, path)
    store, clock = Store(f"sqlite:///{path}", durable=False), StandingClock()
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock())
        other = make_classroom(work.session, clock())
        rows.bind(work.session)
        stranger = TeacherFactory(school_id=room.school_id)
        elsewhere = Actor(role=Role.TEACHER, school_id=room.school_id, teacher_id=stranger.id)
    ids, foreign = _fill(store, clock, room), _fill(store, clock, other)
    foreign["sign_in_id"] = uuid4()
    ids_by_role = _actors(room, other, elsewhere)
    tokens = {}
    for role, actor in ids_by_role.items():
        tokens[role] = uuid4().hex
        with open_work(store, OPERATOR, clock=clock) as work:
            hashed = hash_token(tokens[role])
            sign_in_id = sign_ins.add_sign_in(work.session, hashed, actor, clock())
            if role == "a sign-in that has ended":
                sign_ins.end(work.session, sign_in_id, clock())
            if role == "a tablet that waits":
                ids["sign_in_id"] = sign_in_id
    tokens["a made-up cookie"] = "A" * 22
    with open_work(store, room.teacher, clock=clock) as work:
        let_student_leave(work, room.class_id, room.student_ids[0][2])
    app = create_app(settings_from({"JOURNAL_INSTANCE": str(folder)}), store, clock)
    app.config.update(TESTING=True, WTF_CSRF_ENABLED=False)
    store.close()
    kept = folder / "kept.sqlite3"
    with store.engine.connect() as connection:
        connection.exec_driver_sql("COMMIT")
        connection.exec_driver_sql(f"VACUUM INTO '{kept}'")
    yield House(app=app, store=store, kept=kept, path=path, ids=ids, foreign=foreign, tokens=tokens)
    store.close()


def _actors(room: Classroom, other: Classroom, elsewhere: Actor) -> dict[str, Actor]:
    tablet = room.tablets[0]
    return {
        "a sign-in that has ended": room.teacher,
        "a tablet that waits": replace(tablet, tablet_state=TabletState.WAITING),
        "a tablet that was sent out": replace(tablet, tablet_state=TabletState.OUT),
        "the tablet of a child who left": replace(tablet, student_id=room.student_ids[0][2]),
        "the group's tablet": replace(tablet, student_id=room.student_ids[0][0]),
        "another group's tablet": replace(room.tablets[1], student_id=room.student_ids[1][0]),
        "another class's tablet": replace(other.tablets[0], student_id=other.student_ids[0][0]),
        "the class's board": _board(room),
        "another class's board": _board(other),
        "the teacher": room.teacher,
        "another teacher": elsewhere,
    }


def _board(room: Classroom) -> Actor:
    return replace(room.teacher, role=Role.BOARD, class_id=room.class_id)


def _fill(store: Store, clock: StandingClock, room: Classroom) -> Ids:
    """Let a group do something of everything; return an id of each."""
    story = tell_story(store, clock, room)
    untried = story.build(
        story.parts_of(0)[0].revisions[-1].id,
        (Change(factor="bands", from_value="2", to_value="3", reason="More push."),),
    )
    states = story.parts_of(0)
    launcher = states[0]
    group_id = room.group_ids[0]
    swap = story.do(
        plan_swap_test,
        group_id,
        SwapEntry(
            kind=SwapKind.REVISIONS,
            old_revision_id=launcher.revisions[0].id,
            new_revision_id=launcher.revisions[1].id,
            student_ids=room.student_ids[0][:2],
            trials_each=4,
        ),
    )
    guest_test = story.do(invite, group_id, GuestTestEntry(kind=GuestKind.GUESTS))
    borrowing = GuestTestEntry(kind=GuestKind.THEIR_DEVICE, owner_group_id=group_id)
    asking = story.do(invite, room.group_ids[1], borrowing, actor=room.tablets[1])
    late = TrialEntry(
        revision_ids=(launcher.revisions[1].id, states[1].revisions[0].id),
        kind=TrialKind.PRACTICE,
        logged_at=clock() - timedelta(days=1),
        sent_at=clock(),
        student_id=room.student_ids[0][0],
        place=Place.WALL,
    )
    parked_id = uuid4()
    with open_work(store, room.tablets[0], clock=clock) as work:
        take_entry(work, parked_id, late)
    visit = story.do(log_visit, group_id, actor=room.teacher)
    near_miss = story.do(log_near_miss, group_id, actor=room.teacher)
    with store.open_session(writing=False) as session:
        newest = sa.select(AnswerRow.id).order_by(AnswerRow.answered_at.desc())
        answer_id = session.scalars(newest).first()
    assert answer_id is not None
    return {
        "class_id": room.class_id,
        "group_id": group_id,
        "session_id": room.session_id,
        "challenge_id": room.challenge_id,
        "student_id": room.student_ids[0][0],
        "revision_id": launcher.revisions[1].id,
        "part_id": launcher.part.id,
        "own_revision_id": states[1].revisions[0].id,
        "untried_revision_id": untried,
        "first_revision_id": launcher.revisions[0].id,
        "neighbour_id": room.student_ids[1][1],
        "other_group_id": room.group_ids[1],
        "borrowed_part_id": story.parts_of(1)[1].part.id,
        "trial_id": story.trial_ids[0],
        "swap_test_id": swap.id,
        "guest_test_id": guest_test.id,
        "asking_test_id": asking.id,
        "parked_id": parked_id,
        "visit_id": visit.id,
        "near_miss_id": near_miss.id,
        "answer_id": answer_id,
    }
