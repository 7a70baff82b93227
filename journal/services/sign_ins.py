"""Signing in and out: a random token on the device, only its hash in the table."""

from __future__ import annotations

import hashlib
from datetime import timedelta

from journal.domain.actors import NOBODY, OPERATOR, Actor, Role
from journal.services.work import Clock, clock_of_the_machine, open_work
from journal.store import sign_ins
from journal.store.engine import Store

#: How long a sign-in lasts unused, and at all (our own choice).
IDLE_LIMIT = {Role.TEACHER: timedelta(minutes=30), Role.TABLET: timedelta(minutes=90)}
WHOLE_LIMIT = {Role.TEACHER: timedelta(hours=12), Role.TABLET: timedelta(hours=8)}
#: The last use is written down at most this often, so that reading pages stays reading.
TOUCH_EVERY = timedelta(minutes=1)


def hash_token(token: str) -> str:
    """Return what is kept of a token: it cannot be turned back."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def actor_of(store: Store, token: str, clock: Clock = clock_of_the_machine) -> Actor:
    """Return who signed in with this token, or nobody where the sign-in is unknown or over."""
    with open_work(store, OPERATOR, writing=False, clock=clock) as work:
        found = sign_ins.find_sign_in(work.session, hash_token(token))
        now = work.now()
    if found is None:
        return NOBODY
    actor, started_at, last_seen_at = found
    if now - started_at > WHOLE_LIMIT[actor.role] or now - last_seen_at > IDLE_LIMIT[actor.role]:
        return NOBODY
    if actor.sign_in_id is not None and now - last_seen_at > TOUCH_EVERY:
        with open_work(store, OPERATOR, clock=clock) as work:
            sign_ins.touch(work.session, actor.sign_in_id, now)
    return actor
