"""Whatever is written into a form: no fault, and nothing is kept that its column does not hold.

SQLite keeps a text of any length and any sign; PostgreSQL takes neither a text that is longer than
its column nor a NUL. What one refuses must be refused by the other, in words.
"""

from __future__ import annotations

import pytest
import sqlalchemy as sa
from flask import Flask
from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.services.ladders import start_climb
from journal.store import visits
from journal.store.engine import Store
from journal.store.groups import get_group
from journal.store.models import Row
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log
from tests.web.conftest import app, nobody, sign_in, tablet, teacher
from tests.web.forms import Form, forms_of

__all__ = ["app", "nobody", "sign_in", "tablet", "teacher"]

LONG = "An example of a text " * 400
STRANGE = {
    "long": LONG,
    "wide signs": "\U0001f6e0" * 700,
    "a nul": "seven \x00 bands",
}
#: Fewer would mean that forms are not found any more.
LEAST_TRIED = 40


@pytest.fixture
def pages(
    app: Flask, store: Store, clock: StandingClock, classroom: Classroom
) -> list[tuple[str, str]]:
    """Return every page with a form, and who opens it: a lesson with all that can be in it."""
    trial = log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, classroom.group_ids[0])
    with open_work(store, OPERATOR, clock=clock) as work:
        group = get_group(work.session, classroom.group_ids[0])
        visits.add_visit(work.session, group, at=clock(), reason="stalled", note="")
        visits.add_near_miss(work.session, group, at=clock(), note="")
    real = {
        "class_id": classroom.class_id,
        "group_id": classroom.group_ids[0],
        "session_id": classroom.session_id,
        "challenge_id": classroom.challenge_id,
        "trial_id": trial.id,
        "revision_id": classroom.shared_revision_ids[0],
    }
    found = []
    with app.test_request_context():
        adapter = app.url_map.bind("localhost")
        for rule in app.url_map.iter_rules():
            if "GET" not in (rule.methods or ()) or rule.endpoint == "static":
                continue
            stages = ["ask", "imagine", "plan", "build", "improve"]
            for stage in stages if "stage" in rule.arguments else [""]:
                values = {name: real[name] for name in rule.arguments if name in real}
                values |= {"stage": stage} if stage else {}
                if set(values) == rule.arguments:
                    found.append((rule.endpoint, adapter.build(rule.endpoint, values)))
    return found


def _too_long(store: Store) -> list[str]:
    """Return the columns that hold more letters than they promise, or a NUL."""
    found = []
    with store.open_session(writing=False) as session:
        for table in Row.metadata.sorted_tables:
            for column in table.c:
                length = getattr(column.type, "length", None)
                if not isinstance(column.type, sa.String) or length is None:
                    continue
                texts = [text for text in session.scalars(sa.select(column)) if text]
                if any(len(str(text)) > length or "\0" in str(text) for text in texts):
                    found.append(str(column))
    return found


def _forms(browser: FlaskClient, address: str) -> list[tuple[str, Form]]:
    answer = browser.get(address)
    if answer.status_code != 200 or answer.mimetype != "text/html":
        return []
    return [(form.action or address, form) for form in forms_of(answer.text)]


def test_no_form_takes_what_cannot_be_kept(
    app: Flask,
    store: Store,
    pages: list[tuple[str, str]],
    teacher: FlaskClient,
    tablet: FlaskClient,
    nobody: FlaskClient,
) -> None:
    """Each field of each form is given each strange text, all else being as the page has it."""
    app.config["PROPAGATE_EXCEPTIONS"] = False
    faults, tried = [], set()
    for browser in (teacher, tablet, nobody):
        for _, address in pages:
            for action, form in _forms(browser, address):
                for name in form.written:
                    # Fields of one kind in a long list, such as "....source", are one case.
                    kind = (action, name.rpartition(".")[2])
                    if kind in tried:
                        continue
                    tried.add(kind)
                    for what, text in STRANGE.items():
                        # As the page stands, and with every field filled in.
                        for sent in (form.values, form.filled()):
                            status = browser.post(action, data=sent | {name: text}).status_code
                            if status >= 500:
                                faults.append(f"{what} in {name} of {action}: {status}")
                        faults += [f"{what} in {one} by {name}" for one in _too_long(store)]
    assert len(tried) > LEAST_TRIED
    assert [] == faults
