"""The ladder's pages take few statements, and hold no lock while a question is worked out."""

from __future__ import annotations

from typing import Any

import pytest
from flask.testing import FlaskClient

from journal.domain.errors import Invalid
from journal.domain.ladders import AnswerEntry, LedTo, Rung
from journal.records.work import open_work
from journal.services import ladders as verbs
from journal.services import open_questions
from journal.services.ladder_questions import present_question
from journal.store import ladders
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.trial_entries import entry_of, log

SAID = {"rung": "notice", "words": "They all fly low.", "words_starter": ""}


@pytest.fixture
def home(store: Store, clock: StandingClock, classroom: Classroom, tablet: FlaskClient) -> str:
    """Return the address of a group on the ladder's first rung, with some trials."""
    for _ in range(3):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    home = f"/groups/{classroom.group_ids[0]}/ladder"
    tablet.post(home)
    clock.move(seconds=10)
    return home


@pytest.fixture
def is_waited_for(store: Store, monkeypatch: pytest.MonkeyPatch) -> list[bool]:
    """Return for each question worked out whether a writer held the lock meanwhile."""
    held: list[bool] = []

    def note(*args: Any) -> Any:
        held.append(store._writer.locked())
        return present_question(*args)

    monkeypatch.setattr(open_questions, "present_question", note)
    return held


def test_an_answer_takes_few_statements(
    tablet: FlaskClient, home: str, count_queries: CountQueries
) -> None:
    """One gathering that only reads, then the group, the climb and what is written."""
    with count_queries() as statements:
        answer = tablet.post(f"{home}/answers", data=SAID)

    assert answer.status_code == 303
    assert len(statements) <= 15, "\n".join(statements)


def test_a_refused_answer_takes_no_more_and_writes_nothing(
    tablet: FlaskClient, home: str, count_queries: CountQueries
) -> None:
    """What was gathered to judge the answer makes the page as well."""
    with count_queries() as statements:
        answer = tablet.post(f"{home}/answers", data=SAID | {"words": "", "scribe": "Bo"})

    assert answer.status_code == 422
    assert "Tap a sentence" in answer.text
    assert len(statements) <= 15, "\n".join(statements)
    assert all(statement.startswith("SELECT") for statement in statements)


@pytest.mark.parametrize(
    ("way", "sent"),
    [
        ("answers", SAID),
        ("answers", SAID | {"words": ""}),
        ("answers", SAID | {"to": LedTo.REVISION.value}),
        ("next", {}),
        ("not-sure", {"rung": "notice"}),
        ("skip", {}),
        ("leave", {}),
    ],
)
def test_no_question_is_worked_out_while_others_wait_to_write(
    way: str,
    sent: dict[str, str],
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    home: str,
    tablet: FlaskClient,
    teacher: FlaskClient,
    is_waited_for: list[bool],
) -> None:
    """The diagnosis behind a question takes long: the lock is taken after it."""
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    browser = teacher if way == "skip" else tablet

    assert browser.post(f"{home}/{way}", data=sent).status_code in {303, 422}

    assert is_waited_for, "no question was worked out"
    assert not any(is_waited_for)


@pytest.mark.usefixtures("home")
def test_what_was_worked_out_for_another_rung_is_worked_out_again(
    store: Store, clock: StandingClock, classroom: Classroom, tablet: FlaskClient
) -> None:
    """Between reading and writing another tablet answered: the question kept is the open one's."""
    group_id, actor = classroom.group_ids[0], classroom.tablets[0]
    with open_work(store, actor, writing=False, clock=clock) as work:
        before = open_questions.read_question(work, group_id)
    tablet.post(f"/groups/{group_id}/ladder/answers", data=SAID)
    late = AnswerEntry(rung=Rung.NOTICE, question="", words="Too late.")
    present = AnswerEntry(rung=Rung.COMPARE, question="", words="The second one is lower.")

    with open_work(store, actor, clock=clock) as work:
        with raises(Invalid, match="answered on another tablet"):
            verbs.answer_rung(work, group_id, late, question=before)
        shown = open_questions.read_question(work, group_id)
        climb = verbs.answer_rung(work, group_id, present, question=before)
        kept = ladders.get_climb(work.session, climb.id)

    assert climb == kept
    assert [before.text, shown.text] == [answer.question for answer in kept.answers]
    assert before.text != shown.text


@pytest.mark.usefixtures("home")
def test_another_groups_question_is_none(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A question of one group is none for another: nothing is written to the wrong climb."""
    first, second = classroom.group_ids
    with open_work(store, classroom.tablets[0], writing=False, clock=clock) as work:
        theirs = open_questions.read_question(work, first)
    entry = AnswerEntry(rung=Rung.NOTICE, question="", words="We see nothing new.")

    with open_work(store, classroom.tablets[1], clock=clock) as work:
        verbs.start_climb(work, second)
        climb = verbs.answer_rung(work, second, entry, question=theirs)

    assert second == climb.group_id


def test_a_tablet_cannot_skip_whether_a_question_is_open_or_not(
    tablet: FlaskClient, home: str
) -> None:
    """Who asks is looked at first: 403 either way."""
    opened = tablet.post(f"{home}/skip").status_code
    tablet.post(f"{home}/leave")

    assert (403, 403) == (opened, tablet.post(f"{home}/skip").status_code)
