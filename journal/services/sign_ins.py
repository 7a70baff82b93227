"""Signing in and out: a random token on the device, only its hash in the table.

Each sign-in makes a new token and ends the one that the device had. It ends by signing out, by the
teacher's hand, by a change of the password, or by the limits below.
"""

from __future__ import annotations

import hashlib
import secrets
from datetime import datetime, timedelta
from functools import partial
from uuid import UUID

from journal.domain.actors import NOBODY, OPERATOR, Actor, Role
from journal.domain.people import Teacher
from journal.records.work import Clock, Work, clock_of_the_machine, open_work
from journal.store import classes, sign_ins
from journal.store.engine import Store

#: How long a sign-in lasts unused, and at all (our own choice). An hour for a teacher: the tablet
#: lies on a table for a whole lesson, and a class overview that is left open counts as used.
#: Nobody touches a board, so it lasts without use; it ends with its session.
IDLE_LIMIT = {
    Role.TEACHER: timedelta(minutes=60),
    Role.TABLET: timedelta(minutes=90),
    Role.BOARD: timedelta(hours=8),
}
WHOLE_LIMIT = {
    Role.TEACHER: timedelta(hours=12),
    Role.TABLET: timedelta(hours=8),
    Role.BOARD: timedelta(hours=8),
}
#: The last use is written down at most this often, so that reading pages stays reading.
TOUCH_EVERY = timedelta(minutes=1)
_TOKEN_BYTES = 16


def start_teacher(work: Work, teacher: Teacher) -> str:
    """Sign in a teacher who has proved to be one; return the token for the device.

    The password's hash takes a while: a page proves it in a reading work (`prove_teacher`) before
    it opens the writing one, so that no tablet waits meanwhile.
    """
    actor = Actor(role=Role.TEACHER, school_id=teacher.school_id, teacher_id=teacher.id)
    return start_sign_in(work, actor)


def start_sign_in(work: Work, actor: Actor) -> str:
    """Keep a new sign-in, end the one the device had, and return the token for the device.

    Who may become this actor is asked by the caller: a proved password or a lesson word.
    """
    sign_out(work)
    return add_sign_in(work, actor)


def add_sign_in(work: Work, actor: Actor) -> str:
    """Keep a new sign-in beside the one that the device has, and return its token."""
    token = secrets.token_urlsafe(_TOKEN_BYTES)
    sign_ins.add_sign_in(work.session, hash_token(token), actor, work.now())
    return token


def sign_out(work: Work) -> None:
    """End the sign-in of whoever is asking; anybody may, and nobody is no error."""
    actor = work.actor
    if actor.sign_in_id is None:
        return
    sign_ins.end(work.session, actor.sign_in_id, work.now())
    if actor.class_id is not None:
        classes.bump_version(work.session, actor.class_id)


def hash_token(token: str) -> str:
    """Return what is kept of a token: it cannot be turned back."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def actor_of(
    store: Store,
    token: str,
    clock: Clock = clock_of_the_machine,
    unwritten: dict[UUID, datetime] | None = None,
    *,
    is_use: bool = True,
) -> Actor:
    """Return who signed in with this token, or nobody where the sign-in is unknown or over.

    What a page asks by itself, without anybody there, is no use: it keeps no sign-in alive. The
    last use is written down at once or not at all: reading waits for no writer and goes on where
    the disk is full. What could not be written is remembered in `unwritten`, so that nobody is sent
    out in the middle of a lesson for it.
    """
    unwritten = {} if unwritten is None else unwritten
    with open_work(store, OPERATOR, writing=False, clock=clock) as work:
        found = sign_ins.find_sign_in(work.session, hash_token(token))
        now = work.now()
    if found is None:
        return NOBODY
    actor, started_at, last_seen_at = found
    if actor.sign_in_id is None:
        return NOBODY
    last_seen_at = max(last_seen_at, unwritten.get(actor.sign_in_id, last_seen_at))
    # A moment far ahead was written down while the clock was wrong; it must not last until then.
    if abs(now - started_at) > WHOLE_LIMIT[actor.role]:
        return NOBODY
    if abs(now - last_seen_at) > IDLE_LIMIT[actor.role]:
        return NOBODY
    if is_use and now - last_seen_at > TOUCH_EVERY:
        if store.try_to_write(partial(sign_ins.touch, sign_in_id=actor.sign_in_id, at=now)):
            unwritten.pop(actor.sign_in_id, None)
        else:
            unwritten[actor.sign_in_id] = now
    return actor
