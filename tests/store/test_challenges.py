"""A class's challenges as rows: each document is parsed once, and a changed one is another."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.domain.challenge_documents import read_challenge, with_changes
from journal.domain.challenges import Challenge
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.screens.tablet.trials import prepare_log
from journal.store import challenges, trial_grounds
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


@pytest.fixture
def parsed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the titles of the documents that are parsed, as it happens."""
    titles: list[str] = []

    def note(document: dict[str, object], source: str) -> Challenge:
        titles.append(source)
        return read_challenge(document, source)

    monkeypatch.setattr(challenges, "read_challenge", note)
    challenges._parse.cache_clear()
    return titles


def test_a_document_is_parsed_once_for_all_pages_and_trials(
    store: Store, clock: StandingClock, classroom: Classroom, parsed: list[str]
) -> None:
    """Two groups, their pages, the ground of a trial: one document, read once."""
    for actor, group_id in zip(classroom.tablets, classroom.group_ids, strict=True):
        for _ in range(2):
            with open_work(store, actor, writing=False, clock=clock) as work:
                prepare_log(work, group_id)
                trial_grounds.get_ground(work.session, group_id, clock())
                challenges.get_challenge(work.session, classroom.challenge_id)

    assert [classroom.challenge.title] == parsed


def test_a_changed_document_is_read_anew_at_once(
    store: Store, clock: StandingClock, classroom: Classroom, parsed: list[str]
) -> None:
    """What the teacher changed stands on the next page, the old content never comes back."""
    actor, group_id = classroom.tablets[0], classroom.group_ids[0]
    shown = []
    for distance_mm in (2_100, 2_200):
        changed = with_changes(classroom.challenge, distance_mm=distance_mm)
        with store.open_session(writing=True) as session:
            challenges.save_challenge(session, changed)
        with open_work(store, actor, writing=False, clock=clock) as work:
            shown.append(get_group_context(work, group_id).challenge.distance_mm)
            ground = trial_grounds.get_ground(work.session, group_id, clock())
        assert ground.challenge is not None
        shown.append(ground.challenge.distance_mm)

    assert [2_100, 2_100, 2_200, 2_200] == shown
    assert len(parsed) == 2


def test_two_copies_of_one_document_keep_their_own_ids(
    store: Store, clock: StandingClock, classroom: Classroom, parsed: list[str]
) -> None:
    """The same content is parsed once, and each class's copy is its own all the same."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        context = get_group_context(work, classroom.group_ids[0])
        fresh = replace(classroom.challenge, id=None)
        second = challenges.add_challenge(work.session, context.school_class, fresh, clock())
    parsed.clear()
    with store.open_session(writing=False) as session:
        found = challenges.challenges_of_class(session, classroom.class_id)

    assert [second.id, classroom.challenge_id] == [challenge.id for challenge in found]
    assert found[0] == second
    assert [] == parsed


def test_only_so_many_documents_stay_parsed() -> None:
    """A server that runs for years does not keep every document it ever saw."""
    assert challenges.MOST_PARSED == challenges._parse.cache_info().maxsize
