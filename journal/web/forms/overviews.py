"""What the class overview sends with each question: the order that it shows."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from journal.screens.desk.overviews import Shown


def read_shown(sent: Mapping[str, str]) -> Shown:
    """Return the order that the screen shows; what cannot be read counts as none."""
    try:
        ids = [UUID(text) for text in sent.get("shown", "").split(",") if text]
        since = datetime.fromisoformat(sent["since"])
    except (KeyError, ValueError):
        return Shown()
    return Shown(group_ids=tuple(ids), since=since if since.tzinfo else None)
