"""A form that was sent in vain, kept on the page that says so: nothing has to be written twice."""

from __future__ import annotations

from dataclasses import dataclass

from flask import request

#: What no page may hold, and what is to be looked at anew before the lane opens.
_NEVER = frozenset({"password", "again", "present", "checks"})
_TOKEN = "csrf_token"  # noqa: S105 (the name of a field)


@dataclass(frozen=True, slots=True, kw_only=True)
class SentForm:
    """Where a form goes, and its fields in their order; one name may come several times."""

    address: str
    fields: tuple[tuple[str, str], ...]


def find_sent_form() -> SentForm | None:
    """Return the form that was just sent; None where none was or it must be filled in anew."""
    if request.method != "POST" or request.is_json or _NEVER & request.form.keys():
        return None
    fields = tuple(
        (name, value) for name, value in request.form.items(multi=True) if name != _TOKEN
    )
    return SentForm(address=request.full_path.rstrip("?"), fields=fields)
