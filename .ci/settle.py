"""Make a virtual environment independent of where its project folder lies.

pip writes the path of the folder into the commands of `.venv/bin` and into the file that leads to
the package. Here each command is made to start the Python beside it, and the package is found from
where the environment stands, so the folder can be moved, renamed or copied without installing.

Run with the environment's own Python: `.venv/bin/python .ci/settle.py`
"""

from __future__ import annotations

import os
import sys
import sysconfig
from pathlib import Path

#: A shell starts the Python in the same folder; Python reads these lines as a text and goes on.
START = b"""#!/bin/sh
'''exec' "$(dirname -- "$(realpath -- "$0")")"/'python' "$0" "$@"
' '''
"""


def settle(commands: Path, packages: Path, project: Path) -> None:
    """Rewrite what pip wrote with a path in it; what is settled already stays as it is."""
    for path in sorted(commands.iterdir()):
        if path.is_file() and not path.is_symlink():
            _settle_command(path)
    there = os.path.relpath(project, packages)
    for path in packages.glob("*journal*.pth"):
        _write(path, f"{there}\n".encode())


def _settle_command(path: Path) -> None:
    with path.open("rb") as file:
        if file.read(2) != b"#!":
            return
    content = path.read_bytes()
    first, _, rest = content.partition(b"\n")
    if first == b"#!/bin/sh" and rest.startswith(b"'''exec'"):
        # What pip writes for a path with spaces or a long one, and what is written here.
        _, _, rest = rest.partition(b"\n' '''\n")
    elif b"python" not in first:
        return
    _write(path, START + rest)


def _write(path: Path, content: bytes) -> None:
    if path.read_bytes() == content:
        return
    # Beside it first, so that a stop half-way leaves the old one whole.
    fresh = path.with_name(f".{path.name}.fresh")
    fresh.write_bytes(content)
    fresh.chmod(path.stat().st_mode)
    fresh.replace(path)


if __name__ == "__main__":
    settle(
        Path(sys.prefix) / "bin",
        Path(sysconfig.get_path("purelib")),
        Path(__file__).absolute().parent.parent,
    )
