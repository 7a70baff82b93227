"""What the class overview sends with each question: the order that it shows."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from journal.domain.needs import is_put_off
from journal.screens.desk.overviews import Shown

#: Where this browser remembers which groups were put off, by id.
PUT_OFF = "put_off"


def read_shown(sent: Mapping[str, str], remembered: Mapping[str, str]) -> Shown:
    """Return the order that the screen shows; what cannot be read counts as none.

    `remembered` are the groups that were put off, each with its moment.
    """
    put_off_at = tuple((UUID(key), datetime.fromisoformat(at)) for key, at in remembered.items())
    try:
        ids = [UUID(text) for text in sent.get("shown", "").split(",") if text]
        since = datetime.fromisoformat(sent["since"])
    except (KeyError, ValueError):
        return Shown(put_off_at=put_off_at)
    return Shown(group_ids=tuple(ids), since=since if since.tzinfo else None, put_off_at=put_off_at)


def remember(remembered: Mapping[str, str], group_id: UUID, at: datetime) -> dict[str, str]:
    """Return what is remembered once a group is put off; what is over is forgotten."""
    lasting = {
        key: moment
        for key, moment in remembered.items()
        if is_put_off(datetime.fromisoformat(moment), at)
    }
    return lasting | {str(group_id): at.isoformat()}
