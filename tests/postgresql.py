"""A PostgreSQL server for the tests alone: in a folder of its own, gone when they end.

Debian's package `postgresql` brings the programs; its own cluster is neither used nor touched. The
server listens on a socket in its folder, on no network. It refuses to run as root, so root starts
it as the user of the package. Whatever ends the tests ends it: the fixture at a usual end and at
Ctrl and C, the kernel (`setpriv --pdeathsig`) where the tests are killed.
"""

from __future__ import annotations

import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import sqlalchemy as sa

from journal.store import migrate
from journal.store.engine import Store
from journal.store.models import Row

PROGRAMS = Path("/usr/lib/postgresql")
#: Users that may own a server where the tests run as root, the first that there is.
OWNERS = ("postgres", "nobody")
LONGEST_START_S = 30
#: What nobody pulls the plug of need not reach the disk.
THROW_AWAY = (
    "fsync=off",
    "synchronous_commit=off",
    "full_page_writes=off",
    "wal_level=minimal",
    "max_wal_senders=0",
)
MIGRATED, USUAL = "migrated", "usual"
_SEND_OFF = (
    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
    "WHERE datname = current_database() AND pid <> pg_backend_pid()"
)
#: In the order of no foreign key: their triggers are switched off meanwhile.
_EMPTY = "; ".join(
    [
        "SET session_replication_role = replica",
        *(f'DELETE FROM "{name}"' for name in Row.metadata.tables),  # noqa: S608 (our own)
    ]
)
_ENVIRON = {"LC_ALL": "C.UTF-8", "PATH": os.defpath}


@dataclass
class Server:
    """A running server and its folder."""

    folder: Path
    options: Sequence[str]
    process: subprocess.Popen[bytes] | None = None
    _numbers: Iterator[int] = field(default_factory=count)
    _has_usual: bool = False

    def url(self, database: str = "postgres") -> str:
        """Return the address of one of its databases."""
        return f"postgresql+psycopg://journal@/{database}?host={self.folder}"

    def start(self) -> None:
        """Start the server and wait until it answers."""
        command = [_program("postgres"), "-D", f"{self.folder}/data", "-k", str(self.folder)]
        for setting in ("listen_addresses=", *self.options):
            command += ["-c", setting]
        log = (self.folder / "log").open("ab")
        with log:
            self.process = subprocess.Popen(
                [*_as_owner(), "--pdeathsig=INT", "--", *command],
                cwd=self.folder,
                env=_ENVIRON,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                # Ctrl and C is for the tests: they end the server when they are done with it.
                start_new_session=True,
            )
        self._wait_until_ready()

    def kill(self) -> None:
        """End the server and its children at once, as a crash of the machine's memory would."""
        assert self.process is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def stop(self) -> None:
        """End the server; nobody needs its data any longer."""
        if self.process is None or self.process.poll() is not None:
            return
        self.process.send_signal(signal.SIGQUIT)
        try:
            self.process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            self.kill()

    def run(self, *statements: str, database: str = "postgres") -> None:
        """Run statements outside of a transaction, such as CREATE DATABASE."""
        engine = sa.create_engine(self.url(database), isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            for statement in statements:
                connection.exec_driver_sql(statement)
        engine.dispose()

    def make_database(self, *, migrated: bool = True) -> str:
        """Make one more database, empty or at the newest migration, and return its address."""
        name = f"journal_{next(self._numbers)}"
        self.run(f"CREATE DATABASE {name} TEMPLATE {MIGRATED if migrated else 'template1'}")
        return self.url(name)

    def empty_database(self) -> str:
        """Return the address of the usual database, without a row and without a visitor.

        Emptying takes some ten milliseconds; a new database takes ten times as long.
        """
        if not self._has_usual:
            self.run(f"CREATE DATABASE {USUAL} TEMPLATE {MIGRATED}")
            self._has_usual = True
        self.run(_SEND_OFF, _EMPTY, database=USUAL)
        return self.url(USUAL)

    def _wait_until_ready(self) -> None:
        end = time.monotonic() + LONGEST_START_S
        while True:
            try:
                self.run("SELECT 1")
            except sa.exc.OperationalError:
                assert self.process is not None
                ended = self.process.poll() is not None
                if ended or time.monotonic() > end:
                    raise RuntimeError((self.folder / "log").read_text()) from None
                time.sleep(0.05)
            else:
                return


@contextmanager
def running_server(options: Sequence[str] = THROW_AWAY) -> Iterator[Server]:
    """Run a new server, with a database at the newest migration to copy from."""
    # Its owner has to reach it and a socket's path is short, so it lies beside no test's files.
    folder = Path(tempfile.mkdtemp(prefix="journal_pg_", dir="/tmp"))
    server = Server(folder, tuple(options))
    try:
        if os.geteuid() == 0:
            owner = _owner()
            os.chown(folder, owner.pw_uid, owner.pw_gid)
        make = [_program("initdb"), "-D", f"{folder}/data", "-U", "journal", "-A", "trust"]
        subprocess.run(
            [*_as_owner(), "--", *make, "-E", "UTF8", "--locale=C.UTF-8", "--no-sync"],
            cwd=folder,
            env=_ENVIRON,
            check=True,
            capture_output=True,
        )
        server.start()
        server.run(f"CREATE DATABASE {MIGRATED}")
        store = Store(server.url(MIGRATED))
        migrate.upgrade(store.engine)
        store.close()
        yield server
    finally:
        server.stop()
        shutil.rmtree(folder, ignore_errors=True)


def _program(name: str) -> str:
    """Return the path of a program of the newest version that is installed."""
    found = sorted(PROGRAMS.glob(f"*/bin/{name}"), key=lambda path: int(path.parts[-3]))
    if not found:
        message = f"{name} is not below {PROGRAMS}: apt-get install postgresql, or bash .ci/test"
        raise RuntimeError(message)
    return str(found[-1])


def _owner() -> pwd.struct_passwd:
    known = {one.pw_name: one for one in pwd.getpwall()}
    return next(known[name] for name in OWNERS if name in known)


def _as_owner() -> list[str]:
    if os.geteuid() != 0:
        return ["setpriv"]
    owner = _owner()
    return ["setpriv", f"--reuid={owner.pw_uid}", f"--regid={owner.pw_gid}", "--clear-groups"]
