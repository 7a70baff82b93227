"""What a browser sent is read in `web/forms/`; a page calls a reader and a service."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGES = sorted((ROOT / "journal/web/pages").glob("*.py"))
#: What tells that a text was looked at to see what it holds.
READING = {"ValueError", "KeyError", "NoNumber"}


def find_reading(source: str) -> list[str]:
    """Return what a module does that is the work of a reader of forms."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ExceptHandler) and node.type is not None:
            names = {part.id for part in ast.walk(node.type) if isinstance(part, ast.Name)}
            found += [f"except {name}" for name in sorted(names & READING)]
        if isinstance(node, ast.Call):
            name = ast.unparse(node.func)
            found += [name] if name in {"UUID", "Invalid", "Invalid.at", "find_number"} else []
    return found


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_a_page_reads_no_form_itself(path: Path) -> None:
    """No id, choice or number is taken apart in a page."""
    assert [] == find_reading(path.read_text("utf-8"))


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("try:\n    kind = Kind(text)\nexcept ValueError:\n    pass", ["except ValueError"]),
        ("try:\n    x = int(t)\nexcept (KeyError, TypeError):\n    pass", ["except KeyError"]),
        ("id_ = UUID(text)", ["UUID"]),
        ('raise Invalid.at("kind", "Choose one.")', ["Invalid.at"]),
        ("try:\n    keep()\nexcept Invalid as invalid:\n    show(invalid)", []),
        ("def show(group_id: UUID) -> str: ...", []),
    ],
)
def test_the_rule_itself(source: str, found: list[str]) -> None:
    """Each way of reading in a page is found; showing a problem again is none."""
    assert found == find_reading(source)
