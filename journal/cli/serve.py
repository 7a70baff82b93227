"""`journal serve`: open the journal for every tablet in the room."""

from __future__ import annotations

import errno
import socket
import threading
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import click
import waitress

from journal.analysis.permutation.shift_shuffles import get_ready
from journal.app import LARGEST_REQUEST_BYTES, create_app
from journal.cli.addresses import draw_code
from journal.cli.demo import describe_sign_in, fill_demo_once, renew_demo_word
from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.locks import hold_server
from journal.cli.log_lines import write_log
from journal.cli.places import require_access, require_journal
from journal.cli.sentences import Stop
from journal.domain.settings import HIGHEST_PORT, Settings
from journal.jobs.dispatcher import Dispatcher
from journal.jobs.prints import PRINTS, PrintFolder
from journal.store import classes
from journal.store.engine import Store
from journal.web.addresses import links_of

#: What fine measures need is imported once the first pages are out.
READY_AFTER_S = 3.0
#: 40 tablets with two idle connections each, the teacher, and room for reloading.
CONNECTION_LIMIT = 400


@click.command()
@click.option("--host", help="Address to listen on (instead of JOURNAL_HOST).")
@click.option("--port", type=click.IntRange(1, 65_535), help="Port (instead of JOURNAL_PORT).")
@instance_option
@click.option("--demo", "with_demo", is_flag=True, help="Fill an empty journal with demo classes.")
def serve(host: str | None, port: int | None, instance: Path | None, *, with_demo: bool) -> None:
    """Open the journal for every tablet in the room, until you press Ctrl and C.

    Brings the database to the newest shape, then prints each address of this machine with a QR
    code, the lesson words in force, and the demo teacher's sign-in where there is one.

    Only one server opens a journal at a time. Where there is no journal yet, --demo makes one with
    demo classes, and `journal database new` an empty one.
    """
    settings = get_settings(instance, host=host, port=port)
    write_log()
    if not with_demo:
        require_journal(settings)
    require_access(settings)
    settings.instance.mkdir(parents=True, exist_ok=True)
    with (
        hold_server(settings),
        closing(_listen(settings)) as listener,
        open_store(settings, may_make=with_demo) as store,
    ):
        if not settings.allow_unsafe_commit:
            require_safe_commit(store)
        if with_demo:
            _offer_demo(store, settings)
        dispatcher = Dispatcher(store, PrintFolder(settings.instance / PRINTS))
        app = create_app(settings, store, call_dispatcher=dispatcher.call)
        server = waitress.create_server(
            app,
            sockets=[listener],
            threads=settings.threads,
            connection_limit=CONNECTION_LIMIT,
            max_request_body_size=LARGEST_REQUEST_BYTES * 2,
            ident="journal",
            clear_untrusted_proxy_headers=True,
        )
        click.echo(describe_way_in(settings, store))
        ready = threading.Timer(READY_AFTER_S, get_ready)
        ready.daemon = True
        ready.start()
        try:
            with dispatcher.running():
                server.run()
        finally:
            server.close()


def require_safe_commit(store: Store) -> None:
    """Stop where the server says "kept" before an entry is on its disk."""
    unsafe = store.unsafe_settings()
    if not unsafe:
        return
    raise Stop(
        f"The PostgreSQL server has {' and '.join(unsafe)} off: a power cut would take entries of "
        f"which a tablet was told that they are kept. Switch {' and '.join(unsafe)} on in the "
        "server's postgresql.conf (or for this database or role) and let it read that again. Only "
        "where entries may be lost: JOURNAL_ALLOW_UNSAFE_COMMIT=yes"
    )


def _offer_demo(store: Store, settings: Settings) -> None:
    if fill_demo_once(store, settings.instance):
        click.echo(f"The demo classes were made in {settings.instance.absolute()}.")
    # The word of an earlier day has run out.
    renew_demo_word(store)


def describe_way_in(settings: Settings, store: Store) -> str:
    """Return what the teacher reads at the start: addresses, lesson words, the demo's sign-in."""
    lines: list[str] = []
    for where in links_of(settings.host, settings.port):
        lines += ["", draw_code(where).rstrip("\n"), f"Tablets open {where}"]
    with store.open_session(writing=False) as session:
        now = datetime.now(UTC)
        for school_class in classes.all_classes(session):
            word = classes.find_word(session, school_class.id, now)
            if word is not None:
                lines.append(f"Lesson word of {school_class.name}: {word[0]}")
    sign_in = describe_sign_in(settings.instance)
    if sign_in:
        lines.append(sign_in)
    if not settings.secure_cookies:
        lines.append("This is plain HTTP: use it in your own classroom network only.")
    lines.append("Stop with Ctrl and C; everything is kept.")
    return "\n".join(lines)


def _listen(settings: Settings) -> socket.socket:
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    listener = socket.socket(family, socket.SOCK_STREAM)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((settings.host, settings.port))
    except OSError as error:
        listener.close()
        raise Stop(
            f"The journal cannot listen on {settings.host}, port {settings.port}: "
            f"{_why_not(error, settings)}"
        ) from error
    return listener


def _why_not(error: OSError, settings: Settings) -> str:
    other = settings.port + 1 if settings.port < HIGHEST_PORT else settings.port - 1
    if error.errno == errno.EADDRINUSE:
        return (
            "another program uses it, or another journal. Stop that one, or choose another port: "
            f"journal serve --port {other}"
        )
    if error.errno == errno.EACCES:
        return "ports below 1024 are for root only. Choose another: journal serve --port 8080"
    if error.errno == errno.EADDRNOTAVAIL or isinstance(error, socket.gaierror):
        return (
            f"this machine has no address {settings.host}. Leave out --host and JOURNAL_HOST to "
            "listen on every network of this machine."
        )
    return f"{(error.strerror or str(error)).lower()}."
