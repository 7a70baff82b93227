"""The fair-test card, ready to show and print."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.content.fair_tests import FairTestWords, get_fair_test_words
from journal.content.shown_times import show_day
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.screens.links import Link, Target, link_to
from journal.services.classes import get_own_class
from journal.store import fair_test_cards


@dataclass(frozen=True, slots=True, kw_only=True)
class FairTestCardPage:
    """The card, ready to print."""

    frame: DeskFrame
    class_id: UUID
    words: FairTestWords
    #: When it was done, in words; "" before.
    done: str


def prepare_card(work: Work, class_id: UUID) -> FairTestCardPage:
    """Return the card of a class."""
    school_class = get_own_class(work, class_id)
    card = fair_test_cards.find_card(work.session, class_id)
    words = get_fair_test_words(school_class.band, school_class.language)
    done_at = card.done_at if card else None
    return FairTestCardPage(
        frame=frame_class(school_class, words.title, "Fair-test card"),
        class_id=class_id,
        words=words,
        done="" if done_at is None else show_day(done_at),
    )


def find_card_offer(work: Work, class_id: UUID) -> Link | None:
    """Return a link to a card that was offered and not done yet; None where none waits."""
    card = fair_test_cards.find_card(work.session, class_id)
    waits = card is not None and card.done_at is None
    return link_to(Target.FAIR_TEST_CARD, class_id=class_id) if waits else None
