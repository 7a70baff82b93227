"""What a page links to, without its address: `web/links.py` makes that."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from uuid import UUID


class Target(Enum):
    """A page that a screen can lead to; the comment names what its address needs."""

    #: challenge_id
    CHALLENGE_CHANGES = auto()
    #: group_id, challenge_id
    EARLIER_JOURNAL = auto()
    #: group_id, revision_id
    EDIT_REVISION = auto()
    #: class_id
    FAIR_TEST_CARD = auto()
    #: group_id; may have challenge, with_intervals
    FINDINGS = auto()
    #: group_id; may have part, parent, from
    NEW_REVISION = auto()
    #: group_id; may have kind, or old and new
    NEW_SWAP_TEST = auto()
    #: group_id
    NEW_TRIAL = auto()
    #: group_id
    PARTS = auto()
    #: class_id
    SESSIONS = auto()
    #: group_id, swap_test_id
    SWAP_TEST = auto()


@dataclass(frozen=True, slots=True)
class Link:
    """A target, with the ids and choices that its address is made from."""

    target: Target
    values: tuple[tuple[str, UUID | str], ...]
    #: The place on that page to go to; "" for its top.
    place: str = ""


def link_to(target: Target, **values: UUID | str | None) -> Link:
    """Return a link; what is None is left out of the address."""
    known = tuple((name, value) for name, value in values.items() if value is not None)
    return Link(target=target, values=known)
