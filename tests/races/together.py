"""Several people who do something at the same moment, through two servers on one database."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import TypeVar

from journal.domain.errors import JournalError
from journal.store.engine import Store

Result = TypeVar("Result")
#: As many as there are tablets in a small class; half of them on each server.
PEOPLE = 8


@contextmanager
def second_server(store: Store) -> Iterator[Store]:
    """Open the same database once more: no lock of one process holds the other back."""
    other = Store(store.url.render_as_string(hide_password=False), durable=False)
    yield other
    other.close()


def all_at_once(
    store: Store, act: Callable[[Store, int], Result], people: int = PEOPLE
) -> tuple[Sequence[Result], Sequence[JournalError]]:
    """Let each of several people do something at one moment; return what came of it.

    Errors for people are returned beside the results; anything else is raised.
    """
    start = threading.Barrier(people)
    done: list[Result] = []
    refused: list[JournalError] = []

    with second_server(store) as other:

        def one(person: int) -> None:
            start.wait()
            try:
                done.append(act(other if person % 2 else store, person))
            except JournalError as error:
                refused.append(error)

        with ThreadPoolExecutor(people) as pool:
            list(pool.map(one, range(people)))
    return done, refused
