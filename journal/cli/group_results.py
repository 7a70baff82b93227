"""What is found of each group of a table: lines, or elements of one JSON array.

A group that cannot be looked at is told so in its own place; all others are told as well.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping

import click

from journal.analysis.failures import work_out
from journal.analysis.findings import NOT_WORKED_OUT

Element = dict[str, object]


def write_elements(elements: Mapping[str, Callable[[], Element]]) -> None:
    """Write one JSON array, one element a group, each as soon as it is there."""
    separator = "["
    for group, find in elements.items():
        click.echo(separator + work_out("a group", _as_text(find), _reason_of(group)), nl=False)
        separator = ",\n "
    click.echo("[]" if separator == "[" else "]")


def write_lines(groups: Mapping[str, Callable[[], list[str]]]) -> None:
    """Write the lines of one group after another."""
    for group, tell in groups.items():
        head = f"{group}: " if group else ""
        for line in work_out("a group", tell, [f"{head}cannot say, because it {NOT_WORKED_OUT}"]):
            click.echo(line)


def _as_text(find: Callable[[], Element]) -> Callable[[], str]:
    return lambda: _dump(find())


def _reason_of(group: str) -> str:
    return _dump({"group": group, "cannot_say": [f"the group: {NOT_WORKED_OUT}"]})


def _dump(element: Element) -> str:
    return json.dumps(element, allow_nan=False, ensure_ascii=False)
