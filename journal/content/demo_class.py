"""The story of the demo class: what its groups did, step by step, as written in TOML."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def read_demo_class() -> dict[str, Any]:
    """Return the demo class as its document says it."""
    text = (files("journal.content") / "demo" / "class.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
