"""The fair-test card of a class: a short teacher-led talk, offered once before the first ladder.

Fair testing must be taught to ages 7-10, prompts alone did not help (Chen & Klahr 1999).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from journal.domain.classes import GradeBand

#: Bands whose classes are offered the card.
CARD_BANDS = frozenset({GradeBand.TWO, GradeBand.THREE_TO_FIVE})


@dataclass(frozen=True, slots=True, kw_only=True)
class FairTestCard:
    """That the card was offered to a class, and when it was done."""

    class_id: UUID
    offered_at: datetime
    done_at: datetime | None = None
