"""The journal does not open on a server that says "kept" before an entry is on its disk."""

from __future__ import annotations

from pathlib import Path

from tests.postgresql import Server
from tests.races.serving import serving


def test_a_server_that_may_lose_entries_is_refused(
    postgresql_server: Server, tmp_path: Path
) -> None:
    """It names what is off and how to mend it; whoever means it may say so."""
    # Both are off on the server of the usual tests: nobody pulls the plug there.
    with serving(tmp_path / "instance", postgresql_server.make_database()) as served:
        told = served.try_to_start()
        served.start(JOURNAL_ALLOW_UNSAFE_COMMIT="yes")

    assert 2 == told.returncode
    assert "has fsync and synchronous_commit off" in told.stderr
    assert "JOURNAL_ALLOW_UNSAFE_COMMIT=yes" in told.stderr
    assert "Traceback" not in told.stderr


def test_one_that_is_off_for_this_journal_alone_is_noticed(
    safe_server: Server, tmp_path: Path
) -> None:
    """A setting of the role, the database or the address counts like one of the server."""
    url = f"{safe_server.make_database()}&options=-c%20synchronous_commit%3Doff"
    with serving(tmp_path / "instance", url) as served:
        told = served.try_to_start()

    assert 2 == told.returncode
    assert "has synchronous_commit off" in told.stderr
