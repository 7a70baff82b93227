"""A PostgreSQL server that a test may kill: one that keeps what it says it has kept."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.postgresql import Server, running_server


@pytest.fixture(scope="session")
def safe_server() -> Iterator[Server]:
    """Return a server with the settings that Debian ships; a test starts it again after a kill."""
    with running_server(()) as server:
        yield server
