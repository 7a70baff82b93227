"""The chores install what they need, also on a machine that has next to nothing."""

import re
import subprocess
import tomllib
from pathlib import Path

import playwright
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

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


def _locked(name: str) -> dict[str, str]:
    text = (ROOT / ".ci" / name).read_text("utf-8")
    return dict(re.findall(r"^([a-z0-9._-]+)==(\S+) \\$", text, re.MULTILINE))


def test_the_locked_packages_are_those_that_are_asked_for() -> None:
    """Each requirement of pyproject.toml is met by both lists, with hashes, from no named host."""
    asked = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    to_run = [*asked["project"]["dependencies"], *asked["build-system"]["requires"]]
    to_test = [*to_run, *asked["project"]["optional-dependencies"]["test"]]
    run, test = _locked("locked.txt"), _locked("locked-test.txt")
    for wanted, locked in ((to_run, run), (to_test, test)):
        for requirement in map(Requirement, wanted):
            version = locked[canonicalize_name(requirement.name)]
            assert requirement.specifier.contains(version), requirement
    assert run.items() <= test.items()
    for name in ("locked.txt", "locked-test.txt"):
        text = (ROOT / ".ci" / name).read_text("utf-8")
        assert text.count("==") == len(_locked(name))
        assert "://" not in text
        assert all("--hash=sha256:" in block for block in re.split(r"\n(?=[a-z0-9])", text))
