"""The fair-test card: offered to the teacher before a class's first ladder, ticked when done."""

from __future__ import annotations

from uuid import UUID

from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import classes, fair_test_cards


def set_card_done(work: Work, class_id: UUID) -> None:
    """Note that the class had its talk about fair tests."""
    school_class = get_own_class(work, class_id)
    now = work.now()
    fair_test_cards.offer_card(work.session, school_class, now)
    fair_test_cards.set_done(work.session, class_id, now)
    classes.bump_version(work.session, class_id)
