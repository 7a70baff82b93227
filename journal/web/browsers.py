"""The cookie by which a browser is known again: it opens nothing, and outlasts the sign-in."""

from __future__ import annotations

from flask import current_app, request
from werkzeug.wrappers import Response

from journal.services.browsers import KNOWN_FOR, make_browser_token

BROWSER_COOKIE = "journal_browser"
_LONGEST_TOKEN = 64


def browser_token() -> str:
    """Return the token that the browser brings, or a new one for it."""
    brought = request.cookies.get(BROWSER_COOKIE, "")
    return brought if 0 < len(brought) <= _LONGEST_TOKEN else make_browser_token()


def keep_browser(response: Response, token: str) -> Response:
    """Give the browser its token."""
    response.set_cookie(
        BROWSER_COOKIE,
        token,
        max_age=KNOWN_FOR,
        httponly=True,
        samesite="Lax",
        secure=current_app.config["SESSION_COOKIE_SECURE"],
    )
    return response
