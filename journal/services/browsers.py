"""Known browsers: guessing by others does not slow them down.

Each carries a random token in a cookie of its own that outlasts the sign-in. It proves nothing and
opens nothing: it only says whose wrong entries a wrong entry is counted with. This is the way of
device cookies in "Slow Down Online Guessing Attacks with Device Cookies" (OWASP, from memory).
"""

from __future__ import annotations

import secrets
from datetime import timedelta
from uuid import UUID

from journal.records.work import Work
from journal.services.sign_ins import hash_token
from journal.store import browsers, sign_ins

#: Longer than a summer without school; our own choice.
KNOWN_FOR = timedelta(days=180)
#: In an hour with more sign-ins than this, what is new comes in and stays a stranger until the next
#: time: whoever has a lesson word cannot make a thousand known browsers to guess another one with.
#: Six classes change rooms in an hour at most; our own choice.
MOST_AN_HOUR = 200
_TOKEN_BYTES = 16


def make_browser_token() -> str:
    """Return a token for a browser that has none."""
    return secrets.token_urlsafe(_TOKEN_BYTES)


def known_for(work: Work, browser: str) -> dict[UUID | None, UUID]:
    """Return the teachers who have signed in with a browser; None stands for tablets.

    Empty for a stranger: nobody has come in with this browser yet. Each has an id by which wrong
    entries are counted: the token changes with every sign-in, and a new one would count anew.
    """
    return browsers.teachers_of_browser(work.session, hash_token(browser))


def know_browser(work: Work, browser: str, token: str) -> str:
    """Remember that somebody has just signed in with a browser; return the browser's new token.

    `token` is that of the sign-in. The browser's is a new one each time: one that somebody else
    has put on a tablet is worth nothing afterwards.
    """
    found = sign_ins.find_sign_in(work.session, hash_token(token))
    if found is None or found[0].school_id is None:
        return browser
    now = work.now()
    browsers.drop_browsers_before(work.session, now - KNOWN_FOR)
    if (
        found[0].teacher_id is None
        and not known_for(work, browser)
        and browsers.count_browsers_since(work.session, now - timedelta(hours=1)) >= MOST_AN_HOUR
    ):
        return browser
    fresh = make_browser_token()
    browsers.keep_browser(
        work.session,
        school_id=found[0].school_id,
        old_hash=hash_token(browser),
        new_hash=hash_token(fresh),
        teacher_id=found[0].teacher_id,
        at=now,
    )
    return fresh
