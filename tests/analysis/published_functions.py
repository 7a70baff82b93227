"""The registry of the published checks: a name in a TOML file -> a callable.

A callable takes the check's `input` table as keyword arguments and returns a number, a truth value,
a text, None, a list or a mapping of these. Append a function to `FUNCTIONS`; wrap it in a small
`def` here where the published figure is not what our function returns by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tests.analysis.published_measures import MEASURES
from tests.analysis.published_statistics import STATISTICS

FUNCTIONS: dict[str, Callable[..., Any]] = {**MEASURES, **STATISTICS}
