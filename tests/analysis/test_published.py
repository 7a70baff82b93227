"""Published and computed values, one TOML file a source, all run by one test.

`published/` holds what a source prints: author, year, page or table, or "from memory". `computed/`
holds what was worked out apart from our code, by hand or with another tool, and says from what; its
source begins with "Computed". Each file reads

    source = "Author, title, page or table; how it was looked up"

    [[check]]
    function = "mean"                 # a name in published_functions.FUNCTIONS
    input = { values = [1.0, 2.0] }   # keyword arguments
    value = 1.5                       # number, truth value, text, list, or a table of these
    tolerance = 1e-9                  # absolute; or `relative = 1e-9`; needed where numbers stand
    note = "table 2"                  # optional

`undefined = true` in place of `value` says that the function must return None.
A table as `value` is compared key by key with a mapping or with attributes of that name.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.analysis.published_functions import FUNCTIONS

FOLDERS = {name: Path(__file__).parent / name for name in ("published", "computed")}
#: Where in a source a value stands.
PLACE = re.compile(r"table|page|example|chapter|section|lesson|CFR|from memory")
YEAR = re.compile(r"\b(?:19|20)\d\d\b|from memory")


def checks() -> Iterator[Any]:
    """Yield every check of every file, named by file and place."""
    for path in sorted(path for folder in FOLDERS.values() for path in folder.glob("*.toml")):
        content = tomllib.loads(path.read_text(encoding="utf-8"))
        assert content["source"].strip(), f"{path.name}: a source is needed"
        for number, check in enumerate(content["check"], start=1):
            yield pytest.param(check, id=f"{path.stem}-{number}-{check['function']}")


def close_to(value: object, check: dict[str, Any]) -> object:
    """Return what the published value is compared with, tolerance in hand."""
    if isinstance(value, bool | str):
        return value
    if isinstance(value, list):
        return [close_to(item, check) for item in value]
    assert ("tolerance" in check) != ("relative" in check), "give tolerance or relative"
    return pytest.approx(value, abs=check.get("tolerance", 0.0), rel=check.get("relative", 0.0))


def part(found: object, key: str) -> object:
    """Return one named part of what a function returned."""
    return found[key] if isinstance(found, dict) else getattr(found, key)


def plain(found: object) -> object:
    """Return a pair or list as a list, all the way down."""
    return [plain(item) for item in found] if isinstance(found, list | tuple) else found


def test_a_source_says_where_its_values_stand() -> None:
    """What is published names year and place; what was computed says so first, and only that."""
    wrong = []
    for name, folder in FOLDERS.items():
        for path in sorted(folder.glob("*.toml")):
            source = tomllib.loads(path.read_text(encoding="utf-8"))["source"]
            told = source.startswith("Computed")
            placed = PLACE.search(source) is not None and YEAR.search(source) is not None
            if told is not (name == "computed") or (name == "published" and not placed):
                wrong.append(f"{name}/{path.name}: {source}")
    assert [] == wrong


def test_a_published_source_says_whether_it_was_looked_up() -> None:
    """None claims more than it holds: "looked up", "not looked up" or "from memory"."""
    sources = {
        path.name: tomllib.loads(path.read_text(encoding="utf-8"))["source"]
        for path in sorted(FOLDERS["published"].glob("*.toml"))
    }
    known = re.compile(r"looked up|from memory")
    assert {} == {name: source for name, source in sources.items() if not known.search(source)}
    # A result that was only reproduced is not called the printed one.
    assert {} == {name: source for name, source in sources.items() if "as printed" in source}


@pytest.mark.parametrize("check", list(checks()))
def test_published_value_is_reproduced(check: dict[str, Any]) -> None:
    """What a source prints comes out of our function, within what the source prints."""
    found = FUNCTIONS[check["function"]](**check.get("input", {}))
    if check.get("undefined", False):
        assert found is None
        return
    expected = check["value"]
    if isinstance(expected, dict):
        for key, value in expected.items():
            assert close_to(value, check) == plain(part(found, key)), key
        return
    assert close_to(expected, check) == plain(found)
