"""Launches of guest tests as JSON: a body comes in, and a launch as kept goes out."""

from __future__ import annotations

from typing import Any, ClassVar

from marshmallow import RAISE, Schema, post_load

from journal.domain.guest_tests import GuestTrial, GuestTrialEntry
from journal.domain.trial_fields import fields_of
from journal.web.schemas.trials import read_as, show_as

#: Kept with a launch, and no business of whoever logs one.
_NOT_SHOWN = frozenset({"school_id"})


class GuestTrialEntrySchema(Schema):
    """What a tablet sends for one launch: the fields of `GuestTrialEntry`."""

    class Meta:
        """Refuse a field that nobody knows: a misspelt one would be lost in silence."""

        unknown = RAISE
        include: ClassVar = {
            name: read_as(name, field) for name, field in fields_of(GuestTrialEntry).items()
        }

    @post_load
    def _make_entry(self, data: dict[str, Any], **_: object) -> GuestTrialEntry:
        return GuestTrialEntry(**data)


class GuestTrialSchema(Schema):
    """A launch as kept: the fields of `GuestTrial`."""

    class Meta:
        """Show what concerns whoever logged it."""

        include: ClassVar = {
            name: show_as(field)
            for name, field in fields_of(GuestTrial).items()
            if name not in _NOT_SHOWN
        }
