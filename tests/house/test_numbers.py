"""Text becomes a number, and a number text, in one module alone."""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
#: The reader and writer of numbers.
HOME = "journal/domain/numbers.py"
#: The analysis works with numbers alone; in every other room they come in or go out as text.
ROOMS = sorted(
    path.name
    for path in (ROOT / "journal").iterdir()
    if path.is_dir() and path.name not in {"analysis", "__pycache__"}
)
#: A whole number or a pair of them as `float(...)`: what goes in is a number already, never text.
NUMBERS_ALREADY = {
    "journal/charts/dot_columns.py": {"float(min(ends)[1])"},
    "journal/charts/drawing.py": {"float(value or 0)"},
    "journal/charts/scales.py": {"float(value)"},
    "journal/charts/strip_marks.py": {"float(_MOST_ACROSS)"},
    "journal/domain/documents.py": {"float(value)"},
    "journal/domain/goal_documents.py": {
        "float(row.whole('from', Message('goal_documents.number_of_the_first_hit'), lowest=1))",
        "float(to)",
    },
    "journal/domain/panel_documents.py": {"float(x)", "float(y)"},
    "journal/services/demo/steps.py": {"float(amount)"},
    "journal/services/demo/trials.py": {
        "float(scene.chance.randint(2, 6))",
        "float(x_mm)",
        "float(y_mm)",
    },
    "journal/pictures/group_pictures.py": {"float(revision.number)"},
}
#: Places and times for a machine: coordinates of a drawing, seconds in an ETag.
FOR_MACHINES = {
    "journal/screens/desk/overviews.py": {".0f"},
    "journal/screens/tablet/trial_panels.py": {".2f"},
}


def _files() -> Iterator[tuple[str, ast.Module]]:
    for room in ROOMS:
        for path in sorted((ROOT / "journal" / room).rglob("*.py")):
            name = path.relative_to(ROOT).as_posix()
            if name != HOME and "/migrations/" not in name:
                yield name, ast.parse(path.read_text("utf-8"))


def test_text_is_read_as_a_number_in_one_place() -> None:
    """No float(...) or Decimal(...) of anything that could be text, and no comma made a point."""
    stray = []
    for name, tree in _files():
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call):
                continue
            told = ast.unparse(node)
            reads = isinstance(node.func, ast.Name) and node.func.id in {"float", "Decimal"}
            swaps = isinstance(node.func, ast.Attribute) and told.endswith(".replace(',', '.')")
            if swaps or (reads and told not in NUMBERS_ALREADY.get(name, set())):
                stray.append(f"{name}:{node.lineno}: {told}")
    assert [] == stray


def test_a_number_is_written_in_one_place() -> None:
    """No format such as .2f or g in what people read; a drawing's coordinates are for machines."""
    stray = []
    for name, tree in _files():
        if name.startswith("journal/charts/"):
            continue
        for node in ast.walk(tree):
            if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
                form = ast.unparse(node.format_spec).strip("f'\"")
                if form[-1:] not in "gGeEfFn%" or form in {"", *FOR_MACHINES.get(name, ())}:
                    continue
                stray.append(f"{name}:{node.lineno}: {form}")
    assert [] == stray


def test_every_exception_is_still_needed() -> None:
    """A name in the lists above that no file holds any more is taken out."""
    sources = {name: ast.unparse(tree) for name, tree in _files()}
    unused = [
        f"{name}: {told}"
        for name, every in NUMBERS_ALREADY.items()
        for told in every
        if told not in sources.get(name, "")
    ]
    assert [] == unused
