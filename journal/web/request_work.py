"""The way from a request to a service: who is asking, and a unit of work in that one's name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from typing import Protocol

from flask import current_app, g, request, session
from werkzeug.wrappers import Response

from journal.domain.actors import NOBODY, Actor
from journal.jobs.prints import PrintFolder
from journal.records.work import Work

EXTENSION = "journal"
SIGN_IN_COOKIE = "journal_sign_in"
#: Beside it and on the board's own pages alone, so that a board outlives its teacher's sign-in.
BOARD_COOKIE = "journal_board"
#: A sign-in ends on the server; the cookie only must not end earlier.
SIGN_IN_COOKIE_SECONDS = 12 * 60 * 60
_READING_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


class OpenWork(Protocol):
    """`services.work.open_work` with the store already in its hand."""

    def __call__(self, actor: Actor, *, writing: bool) -> AbstractContextManager[Work]:
        """Open a unit of work for the actor."""


class ActorOf(Protocol):
    """`services.sign_ins.actor_of` with the store already in its hand."""

    def __call__(self, token: str, *, is_use: bool) -> Actor:
        """Return who signed in with this token."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doorway:
    """What the roof hands to this floor, so that no page needs to know the store."""

    open_work: OpenWork
    actor_of: ActorOf
    is_ready: Callable[[], bool]
    prints: PrintFolder
    #: The addresses under which tablets reach the journal.
    links: Callable[[], tuple[str, ...]]
    #: Tells whoever does jobs that there is one.
    call_dispatcher: Callable[[], None]


def doorway() -> Doorway:
    """Return the doorway of the running application."""
    found: Doorway = current_app.extensions[EXTENSION]
    return found


def current_actor(*, is_use: bool = True) -> Actor:
    """Return who is asking; it is looked up once a request.

    A page that asks by itself says that this is no use of the sign-in, before anything else asks.
    """
    if "actor" not in g:
        token = request.cookies.get(SIGN_IN_COOKIE, "")
        g.actor = doorway().actor_of(token, is_use=is_use) if token else NOBODY
    actor: Actor = g.actor
    return actor


def board_actor() -> Actor:
    """Return the board that is up on this device, else who is signed in here."""
    token = request.cookies.get(BOARD_COOKIE, "")
    board = doorway().actor_of(token, is_use=False) if token else NOBODY
    # A page that asks by itself keeps no teacher signed in.
    return current_actor(is_use=False) if board is NOBODY else board


@contextmanager
def board_work() -> Iterator[Work]:
    """Open a reading unit of work for the board, or for the teacher who looks at it."""
    with doorway().open_work(board_actor(), writing=False) as work:
        yield work


@contextmanager
def request_work(*, writing: bool | None = None) -> Iterator[Work]:
    """Open a unit of work for whoever is asking: returning commits, raising rolls back.

    Unless told, a GET only reads and everything else takes the writer's turn.
    """
    if writing is None:
        writing = request.method not in _READING_METHODS
    with doorway().open_work(current_actor(), writing=writing) as work:
        yield work


def keep_sign_in(response: Response, token: str) -> Response:
    """Put a new sign-in's token into the cookie; forms opened before it end with it."""
    session.clear()
    response.set_cookie(
        SIGN_IN_COOKIE,
        token,
        max_age=SIGN_IN_COOKIE_SECONDS,
        httponly=True,
        samesite="Lax",
        secure=current_app.config["SESSION_COOKIE_SECURE"],
    )
    return response


def keep_board(response: Response, token: str, path: str) -> Response:
    """Put a board's token into a cookie that is sent to its own pages only."""
    response.set_cookie(
        BOARD_COOKIE,
        token,
        max_age=SIGN_IN_COOKIE_SECONDS,
        path=path,
        httponly=True,
        samesite="Lax",
        secure=current_app.config["SESSION_COOKIE_SECURE"],
    )
    return response


def drop_sign_in(response: Response) -> Response:
    """Take the sign-in cookie off the device."""
    session.clear()
    response.delete_cookie(SIGN_IN_COOKIE, httponly=True, samesite="Lax")
    return response
