"""The server as a classroom meets it: over the network, quickly, and with all a teacher needs."""

import json
import os
import re
import resource
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from click.testing import CliRunner

from journal.cli.addresses import draw_code
from journal.cli.main import main
from journal.web.addresses import addresses_of, link

LONGEST_START_S = 20
#: Of one core; on a machine with nothing else to do the journal is open as soon.
MOST_WORK_OF_A_START_S = 5


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("", 0))
        return int(probe.getsockname()[1])


@contextmanager
def _serving(instance: Path, port: int) -> Iterator[subprocess.Popen[str]]:
    environ = {**os.environ, "JOURNAL_INSTANCE": str(instance), "PYTHONUNBUFFERED": "1"}
    server = subprocess.Popen(
        [sys.executable, "-m", "journal", "serve", "--port", str(port)],
        env=environ,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        yield server
    finally:
        server.send_signal(signal.SIGTERM)
        try:
            server.communicate(timeout=5)
        except subprocess.TimeoutExpired:
            server.kill()
            server.communicate()


def _ask_until_ready(address: str, within_s: float) -> dict[str, str]:
    end = time.monotonic() + within_s
    while True:
        try:
            with urllib.request.urlopen(f"{address}healthz", timeout=2) as answer:
                body: dict[str, str] = json.load(answer)
                return body
        except OSError:
            if time.monotonic() > end:
                raise
            time.sleep(0.05)


def test_the_server_is_reached_from_the_network_and_starts_again_quickly(tmp_path: Path) -> None:
    """It answers on an address that is not loopback; a second start is less than 5 s of work."""
    (address, *_) = addresses_of("0.0.0.0")
    assert not address.startswith("127."), "This test needs a machine with a network of its own."
    port = _free_port()
    instance = tmp_path / "instance"
    new = CliRunner().invoke(main, ["database", "new", "--instance", str(instance)])
    assert 0 == new.exit_code, new.output
    with _serving(instance, port) as server:
        assert "ok" == _ask_until_ready(link(address, port), LONGEST_START_S)["status"]
        server.send_signal(signal.SIGTERM)
        told, _ = server.communicate(timeout=5)
    assert f"Tablets open http://{address}:{port}/" in told
    assert "\u2588" in told
    assert 0o600 == (instance / "journal.sqlite3").stat().st_mode & 0o777
    key = (instance / "secret_key").read_text()
    # Counted in work and not by the clock: other programs of this machine are no fault of ours.
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    with _serving(instance, port):
        _ask_until_ready(link(address, port), LONGEST_START_S)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    work_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    assert 0 < work_s < MOST_WORK_OF_A_START_S
    assert key == (instance / "secret_key").read_text()


def test_a_taken_port_is_said_in_one_sentence(tmp_path: Path) -> None:
    """Another program on the port is no trace but a sentence with a way out."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = str(other.getsockname()[1])
        told = CliRunner().invoke(
            main,
            ["serve", "--demo", "--host", "127.0.0.1", "--port", port, "--instance", str(tmp_path)],
        )
    assert 2 == told.exit_code
    assert re.search(r"cannot listen on 127\.0\.0\.1, port \d+: .*--port \d+", told.output)


def test_an_address_is_written_as_a_browser_takes_it() -> None:
    """IPv6 addresses stand in brackets (RFC 3986, 3.2.2)."""
    assert "http://192.0.2.7:8080/" == link("192.0.2.7", 8080)
    assert "http://[2001:db8::1]:8080/" == link("2001:db8::1", 8080)


def test_a_host_of_its_own_is_the_only_address() -> None:
    """Bound to one address, the server names that one only."""
    assert ("192.0.2.7",) == addresses_of("192.0.2.7")


def test_a_code_fits_a_terminal() -> None:
    """The QR code of the longest IPv4 address stays within 80 columns and 24 lines."""
    lines = draw_code(link("255.255.255.255", 65_535)).splitlines()
    assert len(lines) < 24
    assert max(len(re.sub(r"\x1b\[[0-9;]*m", "", line)) for line in lines) <= 80
