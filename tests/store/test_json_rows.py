"""Rows read as JSON have the values of their columns, whichever module was imported first."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import journal

STORE = Path(journal.__file__).parent / "store"
MODULES = sorted(
    path.stem for path in STORE.glob("*.py") if "JsonRows(" in path.read_text(encoding="utf-8")
)
#: Imports one module before all others, then asks each of its columns for a reader.
CHECK = """
import importlib, sys
from uuid import UUID
module = importlib.import_module(f"journal.store.{sys.argv[1]}")
import journal.store.models
from journal.store.json_rows import JsonRows
found = [value for value in vars(module).values() if isinstance(value, JsonRows)]
assert found, "no rows"
for rows in found:
    for column, read in zip(rows._columns, rows._readers, strict=True):
        is_id = column.name == "id" or column.name.endswith("_id")
        assert (read is UUID) == is_id, f"{column} is read by {read}"
"""


@pytest.mark.parametrize("module", [name for name in MODULES if name != "json_rows"])
def test_ids_are_read_as_ids(module: str) -> None:
    """A key to a table that is not known yet has no type: it must not stay without."""
    done = subprocess.run(
        [sys.executable, "-c", CHECK, module], capture_output=True, text=True, check=False
    )

    assert done.returncode == 0, done.stderr
