"""Names in the code are nouns of what they hold."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MODULES = [
    path for path in sorted((ROOT / "journal").rglob("*.py")) if "migrations" not in path.parts
]
#: Words that say nothing of what a value is.
EMPTY = {"one", "told"}


def find_empty_names(tree: ast.AST) -> Iterator[str]:
    """Return each empty name that a variable, an argument or a field is given, with its line."""
    for node in ast.walk(tree):
        if isinstance(node, ast.arg) and node.arg in EMPTY:
            yield f"{node.arg}, line {node.lineno}"
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store) and node.id in EMPTY:
            yield f"{node.id}, line {node.lineno}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_a_name_says_what_it_holds(path: Path) -> None:
    """A loop over trials has a trial; a list of sentences is called so."""
    assert [] == list(find_empty_names(ast.parse(path.read_text("utf-8"))))


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("for one in trials: pass", ["one, line 1"]),
        ("told = [one for one in trials]", ["told, line 1", "one, line 1"]),
        ("max(trials, key=lambda one: one.value)", ["one, line 1"]),
        ("def show(told): ...", ["told, line 1"]),
        ("for trial in trials: print(trial.one)", []),
    ],
)
def test_the_rule_itself(source: str, found: list[str]) -> None:
    """Loops, comprehensions, lambdas and arguments are looked at."""
    assert sorted(found) == sorted(find_empty_names(ast.parse(source)))
