"""Where tablets find the journal: every address of this machine in its networks."""

from __future__ import annotations

import fcntl
import socket
import struct

ANY_HOSTS = frozenset({"0.0.0.0", "::", ""})  # noqa: S104 (compared with, not bound to)
#: Linux: ask an interface for its IPv4 address (from memory, linux/sockios.h).
_SIOCGIFADDR = 0x8915
_NAME_BYTES = 256


def addresses_of(host: str) -> tuple[str, ...]:
    """Return the addresses under which a server bound to `host` is reached, others' first.

    The loopback address is named last, and only where there is no other one.
    """
    if host not in ANY_HOSTS:
        return (host,)
    found = [
        address
        for _, name in socket.if_nameindex()
        if (address := _find_address(name)) and not address.startswith("127.")
    ]
    return tuple(dict.fromkeys(found)) or ("127.0.0.1",)


def link(address: str, port: int) -> str:
    """Return the address as a browser takes it."""
    shown = f"[{address}]" if ":" in address else address
    return f"http://{shown}:{port}/"


def links_of(host: str, port: int) -> tuple[str, ...]:
    """Return what tablets open to reach a server bound to a host: others' addresses first."""
    return tuple(link(address, port) for address in addresses_of(host))


def is_own_machine(host: str) -> bool:
    """Tell whether a host in an address means the machine that asks, whichever that is."""
    name = host.rpartition(":")[0] if host.rpartition(":")[2].isdigit() else host
    name = name.strip("[]")
    return name in {"localhost", "::1"} or name.startswith("127.")


def _find_address(interface: str) -> str | None:
    packed = struct.pack(f"{_NAME_BYTES}s", interface.encode()[:15])
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            answer = fcntl.ioctl(probe.fileno(), _SIOCGIFADDR, packed)
        except OSError:
            return None
    return socket.inet_ntoa(answer[20:24])
