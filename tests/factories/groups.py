"""Groups and memberships."""

from __future__ import annotations

import factory

from journal.store.groups import GroupRow, MembershipRow
from tests.factories.rows import RowFactory


class GroupFactory(RowFactory):
    """A group."""

    class Meta:
        model = GroupRow

    number = factory.Sequence(lambda n: n + 1)
    name = factory.Sequence(lambda n: f"Group {n}")


class MembershipFactory(RowFactory):
    """A membership that lasts."""

    class Meta:
        model = MembershipRow
