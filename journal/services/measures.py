"""Opens and closes measures for a class; what a class is shown is `findings/measures`."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import asdict
from uuid import UUID

from journal.content.bands import MEASURE_NAMES, which_measures
from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import classes


def set_measures(work: Work, class_id: UUID, opened: Collection[str]) -> None:
    """Open these measures for a class and close all others.

    Only what differs from the band is kept, so that a class that moves up a band moves up in the
    rest. Raises Invalid for a measure that nobody knows.
    """
    school_class = get_own_class(work, class_id)
    if not set(opened) <= set(MEASURE_NAMES):
        raise Invalid.at("measures", Message("measures.choose_from_the_measures_of_the_list"))
    usual = asdict(which_measures(school_class.band))
    changes = {name: name in opened for name in MEASURE_NAMES if usual[name] != (name in opened)}
    classes.set_measures(work.session, class_id, changes)
    classes.bump_version(work.session, class_id)
