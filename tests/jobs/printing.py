"""A dispatcher in the test's hand: it does jobs when a test says so, and not before."""

from __future__ import annotations

import time
from pathlib import Path

from journal.jobs.children import Limits
from journal.jobs.dispatcher import Dispatcher
from journal.jobs.prints import PrintFolder
from journal.store.engine import Store
from tests.conftest import StandingClock

_PATIENCE_S = 120.0


def new_dispatcher(
    store: Store,
    folder: Path,
    clock: StandingClock,
    *,
    seconds: float = _PATIENCE_S,
    memory_mb: int = 1_500,
    cores: int = 2,
) -> Dispatcher:
    """Return a dispatcher whose children have the usual priority, so that tests need not wait."""
    limits = Limits(seconds=seconds, memory_mb=memory_mb, niceness=0)
    return Dispatcher(store, PrintFolder(folder), clock=clock, limits=limits, cores=cores)


def do_all(dispatcher: Dispatcher) -> int:
    """Do every job that waits; return how many children ran side by side at most."""
    ends, most = time.monotonic() + _PATIENCE_S, 0
    while True:
        dispatcher.step()
        most = max(most, len(dispatcher.children))
        if not dispatcher.children:
            return most
        assert time.monotonic() < ends, "the jobs do not end"
        time.sleep(0.02)
