"""The fair-test card: offered with a young class's first climb, ticked once by its teacher."""

from __future__ import annotations

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.classes import GradeBand
from journal.domain.errors import NotAllowed, NotFound
from journal.records.work import open_work
from journal.screens.desk.fair_test_cards import find_card_offer, prepare_card
from journal.screens.links import Target, link_to
from journal.services.fair_test_cards import set_card_done
from journal.services.ladders import start_climb
from journal.store import classes, fair_test_cards
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom


@pytest.mark.parametrize(
    ("band", "offered"),
    [(GradeBand.TWO, 1), (GradeBand.THREE_TO_FIVE, 1), (GradeBand.SIX_TO_EIGHT, 0)],
)
def test_the_first_climb_of_a_young_class_offers_the_card(
    store: Store, clock: StandingClock, band: GradeBand, offered: int
) -> None:
    """Not before, and never to grades 6 to 8 (fair tests are taught at 7 to 10: Chen & Klahr)."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), band=band)
    with open_work(store, room.teacher, clock=clock) as work:
        assert find_card_offer(work, room.class_id) is None
    with open_work(store, room.tablets[0], clock=clock) as work:
        start_climb(work, room.group_ids[0])
    with open_work(store, room.teacher, clock=clock) as work:
        link = find_card_offer(work, room.class_id)
    card = link_to(Target.FAIR_TEST_CARD, class_id=room.class_id)
    assert (card if offered else None) == link


def test_a_card_that_was_done_is_not_offered_again(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Neither by a second group's climb, nor later; the day stands on the card."""
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, classroom.group_ids[0])
    with open_work(store, classroom.teacher, clock=clock) as work:
        before = classes.find_version(work.session, classroom.class_id)
        set_card_done(work, classroom.class_id)
        after = classes.find_version(work.session, classroom.class_id)
    assert before is not None
    assert before + 1 == after
    clock.move(days=1)
    with open_work(store, classroom.tablets[1], clock=clock) as work:
        start_climb(work, classroom.group_ids[1])
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert find_card_offer(work, classroom.class_id) is None
        assert "4 March 2030" == prepare_card(work, classroom.class_id).done


def test_a_talk_held_before_any_ladder_counts(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The card is kept as offered and done at once, and the first climb does not open it again."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert "" == prepare_card(work, classroom.class_id).done
        set_card_done(work, classroom.class_id)
        card = fair_test_cards.find_card(work.session, classroom.class_id)
        assert card is not None
        assert card.offered_at == card.done_at
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, classroom.group_ids[0])
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert find_card_offer(work, classroom.class_id) is None


def test_the_card_is_its_teachers(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """A tablet may not tick it; another teacher finds no such class."""
    with open_work(store, OPERATOR, clock=clock) as work:
        other = make_classroom(work.session, clock())
    with open_work(store, classroom.tablets[0]) as work, pytest.raises(NotAllowed):
        set_card_done(work, classroom.class_id)
    with open_work(store, other.teacher) as work, pytest.raises(NotFound):
        set_card_done(work, classroom.class_id)
    with open_work(store, OPERATOR, writing=False) as work:
        assert fair_test_cards.find_card(work.session, classroom.class_id) is None
