"""The story of the demo classes: what their groups did, step by step, as written in TOML."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def read_demo_teacher() -> str:
    """Return the name of who teaches the demo classes."""
    return str(_read("teacher.toml")["name"])


@cache
def read_demo_classes() -> tuple[dict[str, Any], ...]:
    """Return the demo classes as their documents say them, in the order they are made."""
    return tuple(_read(name) for name in _read("teacher.toml")["classes"])


def _read(name: str) -> dict[str, Any]:
    text = (files("journal.content") / "demo" / name).read_text(encoding="utf-8")
    return tomllib.loads(text)
