"""Why a group needs the teacher: a reason's key and its figures in, one sentence out."""

from __future__ import annotations

from journal.content.texts import find_entry, get_text


def get_need_sentence(
    key: str, language: str, *, n: int = 0, minutes: int = 0, of: int = 0, since: int = 0
) -> str:
    """Return the reason as a sentence for the teacher; raise NotFound for an unknown key.

    `unvisited_never` is the wording for a group that had no visit yet.
    """
    is_singular = n == 1 and find_entry("needs", language, f"{key}_one") is not None
    return get_text("needs", language, f"{key}_one" if is_singular else key).format(
        n=n, minutes=minutes, of=of, since=since
    )
