"""Classes."""

from __future__ import annotations

from datetime import date

import factory

from journal.domain.classes import Door, GradeBand
from journal.store.classes import ClassRow
from tests.factories.rows import RowFactory


class ClassFactory(RowFactory):
    """A class of grades 3-5 that may be kept for years."""

    class Meta:
        model = ClassRow

    name = factory.Sequence(lambda n: f"Class {n}")
    band = GradeBand.THREE_TO_FIVE
    language = "en"
    retention_date = date(2099, 7, 31)
    door = Door.OPEN
    version = 0
