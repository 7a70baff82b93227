"""The chores install what they need, also on a machine that has next to nothing."""

import re
import subprocess
from pathlib import Path

import playwright

ROOT = Path(__file__).parents[2]
#: On every Debian: its package manager needs them (`apt-cache depends apt`).
ALWAYS_THERE = {"libc6", "libgcc-s1", "libstdc++6"}
OBJECT = re.compile(r"^\s*(\S+) =>", re.MULTILINE)


def _packages_of_the_tests() -> set[str]:
    script = (ROOT / ".ci" / "test").read_text("utf-8")
    lines = re.findall(r"^need_debian (.+)$", script, re.MULTILINE)
    return {name for line in lines for name in line.split()}


def test_what_the_browser_driver_needs_is_installed() -> None:
    """Each shared object of Playwright's driver comes with Debian or with a package we name."""
    driver = Path(playwright.__file__).parent / "driver" / "node"
    told = subprocess.run(["ldd", str(driver)], capture_output=True, text=True, check=True).stdout
    names = set(OBJECT.findall(told))
    assert "libc.so.6" in names
    assert "not found" not in told
    owners = set()
    for name in names:
        found = subprocess.run(
            ["dpkg-query", "--search", f"*/{name}"], capture_output=True, text=True, check=True
        ).stdout
        owners.add(found.split(":", 1)[0])
    assert set() == owners - ALWAYS_THERE - _packages_of_the_tests()
