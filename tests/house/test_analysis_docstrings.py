"""Docstrings of the analysis say what goes in, what None means, and what is raised."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2] / "journal" / "analysis"


def _functions() -> Iterator[tuple[str, ast.FunctionDef]]:
    for path in sorted(ROOT.rglob("*.py")):
        for node in ast.parse(path.read_text("utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield path.relative_to(ROOT).as_posix(), node


#: Parameters that mean the same everywhere, as the package's own docstring says.
CONVENTIONS = set(
    re.findall(r"`(\w+)`", ast.get_docstring(ast.parse((ROOT / "__init__.py").read_text())) or "")
)
FUNCTIONS = list(_functions())


@pytest.mark.parametrize(
    "function",
    [function for _, function in FUNCTIONS],
    ids=[f"{path}:{function.name}" for path, function in FUNCTIONS],
)
def test_a_public_function_is_documented(function: ast.FunctionDef) -> None:
    """Each parameter is named, here or in the package; None and what is raised are explained."""
    text = ast.get_docstring(function) or ""
    arguments = function.args
    names = {
        argument.arg
        for argument in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs)
    }
    assert set() == {
        name for name in names - CONVENTIONS if not re.search(rf"\b{re.escape(name)}\b", text)
    }
    if function.returns is not None and "None" in ast.unparse(function.returns):
        assert "None" in text
    raised = {
        ast.unparse(node.exc).split("(")[0].split(".")[0]
        for node in ast.walk(function)
        if isinstance(node, ast.Raise) and node.exc is not None
    }
    assert set() == {name for name in raised if f"Raises {name}" not in text}


def test_variables_of_pure_rooms_are_nouns() -> None:
    """A variable says what it holds: a trial, a revision, a comparison."""
    vague = []
    for room in ("analysis", "findings"):
        for path in sorted((ROOT.parent / room).rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.arg):
                    name = node.arg
                elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                    name = node.id
                else:
                    continue
                if name in {"one", "told"}:
                    vague.append(f"{path.relative_to(ROOT.parent)}:{node.lineno}: {name}")
    assert [] == vague
