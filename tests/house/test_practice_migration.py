"""The migration that takes the number of practice trials out of the note, up and down."""

from __future__ import annotations

import sqlalchemy as sa

from journal.domain.adaptations import AdaptationEntry, AdaptationKind
from journal.services.adaptations import adapt
from journal.store import migrate
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story

_AS_BEFORE = "SELECT kind, note FROM adaptations ORDER BY adapted_at"
_NOW = "SELECT kind, note, practice_trials FROM adaptations ORDER BY adapted_at"
_ENTRIES = (
    AdaptationEntry(kind=AdaptationKind.MORE_PRACTICE, trials="6"),
    AdaptationEntry(kind=AdaptationKind.MORE_PRACTICE, trials="12", note="They rush."),
    AdaptationEntry(
        kind=AdaptationKind.BACK, note="12", ticked=("lane", "rebound", "energy")
    ),
)  # fmt: skip


def _rows(store: Store, statement: str) -> list[tuple[object, ...]]:
    with store.open_session(writing=False) as session:
        return [tuple(row) for row in session.execute(sa.text(statement))]


def test_a_number_leaves_the_note_and_words_stay(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Also the number that a written note had pushed out is found again; other kinds stay."""
    story = Story(store, clock, classroom)
    for entry in _ENTRIES:
        story.do(adapt, story.group_id, entry, actor=story.room.teacher)
        clock.move(minutes=5)
    now = _rows(store, _NOW)
    migrate.downgrade(store.engine, "0016")
    before = [("more_practice", "6"), ("more_practice", "They rush."), ("back", "12")]
    assert before == _rows(store, _AS_BEFORE)
    migrate.upgrade(store.engine)
    expected = [("more_practice", "", 6), ("more_practice", "They rush.", 12), ("back", "12", None)]
    assert expected == _rows(store, _NOW) == now
