"""Published values, one TOML file a source, all run by one test.

Each file in `published/` reads

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

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.analysis.published_functions import FUNCTIONS

FOLDER = Path(__file__).parent / "published"


def checks() -> Iterator[Any]:
    """Yield every check of every file, named by file and place."""
    for path in sorted(FOLDER.glob("*.toml")):
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
