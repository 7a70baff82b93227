"""Files are small, their names say what is in them, and nothing unfinished is left."""

import os
import re
from fnmatch import fnmatch
from pathlib import Path

ROOT = Path(__file__).parents[2]
MOST_LINES = 300
FORBIDDEN_NAMES = {"utils", "util", "helpers", "helper", "common", "misc", "base", "manager"}
FORBIDDEN_CLASS = re.compile(r"^class \w*(?:Manager|Helper|Util|Utils|Mixin)\b", re.MULTILINE)
#: Written in two halves, so that this file does not find itself.
UNFINISHED = re.compile(r"\b(?:TO" + r"DO|FIX" + r"ME|XX" + r"X)\b|raise NotImplemented" + "Error")
#: Whole, so that a reader sees at once when something new lies at the top.
TOP_LEVEL = {
    ".ci",
    ".gitignore",
    "DEVELOPERS.md",
    "README.md",
    "instance",
    "journal",
    "pyproject.toml",
    "templates",
    "tests",
}
#: What is not written by hand: data of others, vendored files, pictures.
NOT_OURS = ("journal/web/static/vendor/", "journal/web/static/fonts/", "journal/printing/fonts/")
WRITTEN = {".py", ".html", ".css", ".js", ""}


def _kept_files() -> list[str]:
    """Return every file of the source, as `.gitignore` has it; works without git as well."""
    # In a second work tree of git, `.git` is a file.
    listed = (ROOT / ".gitignore").read_text("utf-8").split()
    ignored = [".git", *(line.strip("/") for line in listed)]
    found = []
    for folder, folders, files in os.walk(ROOT):
        inside = [name for name in folders if not _is_ignored(name, ignored)]
        # What a running journal keeps is nobody's source.
        folders[:] = [] if Path(folder) == ROOT / "instance" else inside
        kept = [".gitignore"] if Path(folder) == ROOT / "instance" else files
        found += [Path(folder, name) for name in kept if not _is_ignored(name, ignored)]
    return sorted(path.relative_to(ROOT).as_posix() for path in found)


def _is_ignored(name: str, patterns: list[str]) -> bool:
    return any(fnmatch(name, pattern) for pattern in patterns)


KEPT = _kept_files()
OURS = [name for name in KEPT if not name.startswith(NOT_OURS)]
CODE = [name for name in OURS if name.endswith(".py")]


def test_the_top_level_is_exactly_what_is_named() -> None:
    """Nothing lies at the top of the repository beyond the named files and folders."""
    assert TOP_LEVEL == {Path(name).parts[0] for name in KEPT}


def test_a_file_is_short() -> None:
    """No file is longer than the hard stop."""
    written = [name for name in OURS if Path(name).suffix in WRITTEN]
    lines = {name: _read(name).count("\n") for name in written}
    assert {} == {name: count for name, count in lines.items() if count > MOST_LINES}


def test_file_names_say_what_is_in_them() -> None:
    """No file is a drawer for odds and ends."""
    assert [] == [name for name in CODE if Path(name).stem in FORBIDDEN_NAMES]


def test_class_names_are_nouns_of_the_house() -> None:
    """No class is named after a pattern."""
    found = [name for name in CODE if FORBIDDEN_CLASS.search(_read(name))]
    assert [] == found


def test_nothing_unfinished_is_left() -> None:
    """No mark stands for work that was put off."""
    assert [] == [name for name in CODE if UNFINISHED.search(_read(name))]


def test_every_module_says_what_it_is_for() -> None:
    """Each module of the package starts with a docstring."""
    package = [name for name in CODE if name.startswith("journal/")]
    assert [] == [name for name in package if not _read(name).lstrip().startswith('"""')]


def _read(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")
