"""The glossary is complete, and pages get what they show from one object."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from journal.domain.stages import Stage
from journal.domain.trials import Place, TrialState
from journal.store.models import Row

ROOT = Path(__file__).parents[2]
GLOSSARY_ROW = re.compile(r"^\| ([^|]+) \| ([^|]+) \| ([^|]*) ?\|$", re.MULTILINE)
MOST_FIELDS = 12
#: Of DEVELOPERS.md.
MOST_BYTES = 20 * 1024


def _glossary() -> list[tuple[str, str, str]]:
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    section = text.split("## Words", 1)[1].split("\n## ", 1)[0]
    return [
        row for row in GLOSSARY_ROW.findall(section) if row[0] != "word" and "---" not in row[0]
    ]


def _trees(folder: str) -> Iterator[tuple[Path, ast.Module]]:
    for path in sorted((ROOT / "journal" / folder).rglob("*.py")):
        yield path.relative_to(ROOT), ast.parse(path.read_text("utf-8"))


def test_each_table_belongs_to_one_word() -> None:
    """The glossary names every table of the database, once, and no other."""
    named = [table for _, _, kept in _glossary() for table in re.findall(r"`(\w+)`", kept)]
    assert sorted(Row.metadata.tables) == sorted(named)


def test_the_developers_page_stays_short() -> None:
    """Whoever carries on reads all of it: what concerns one file belongs at its head."""
    assert len((ROOT / "DEVELOPERS.md").read_bytes()) <= MOST_BYTES


def test_the_developers_page_names_files_that_are_there() -> None:
    """A file or folder of the project that it names exists."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    named = set(re.findall(r"`((?:[\w.-]+/)+[\w.-]*)`", text))
    places = [ROOT / start for start in ("", "journal", "templates")]
    lost = [
        name
        for name in sorted(named)
        # A module, or a name in one: `findings/measures.measures_of`.
        for plain in [(name, f"{name}.py", f"{name.rpartition('.')[0]}.py")]
        if not any((place / path).exists() for place in places for path in plain)
    ]
    assert [] == lost


def test_the_glossary_names_each_choice() -> None:
    """Stages, places and what a trial can be are explained with their words."""
    meanings = " ".join(meaning for _, meaning, _ in _glossary())
    choices = [*Stage, *Place, *TrialState]
    assert [] == [choice.value for choice in choices if choice.value not in meanings]


def test_a_template_gets_exactly_one_object() -> None:
    """Every page is rendered with `page` and nothing else."""
    others = []
    for path, tree in _trees("web"):
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            if node.func.id == "render_template":
                given = (len(node.args), [keyword.arg for keyword in node.keywords])
                if given != (1, ["page"]):
                    others.append(f"{path}:{node.lineno}")
    assert [] == others


def test_a_page_object_is_small_and_frozen() -> None:
    """A class called ...Page has at most twelve fields and cannot be changed."""
    large = []
    for folder in ("screens", "portfolio", "services", "web", "printing"):
        for path, tree in _trees(folder):
            for node in ast.walk(tree):
                if not isinstance(node, ast.ClassDef) or not node.name.endswith("Page"):
                    continue
                fields = sum(isinstance(part, ast.AnnAssign) for part in node.body)
                frozen = any("frozen=True" in ast.unparse(one) for one in node.decorator_list)
                if fields > MOST_FIELDS or not frozen:
                    large.append(f"{path}: {node.name}, {fields} fields")
    assert [] == large


def test_views_are_short() -> None:
    """A view reads the request, calls a service and answers: 25 lines at most, docstring aside."""
    long = []
    for folder in ("web/pages", "web/api"):
        for path, tree in _trees(folder):
            for node in tree.body:
                if isinstance(node, ast.FunctionDef) and node.decorator_list:
                    first = node.body[1] if ast.get_docstring(node) and node.body[1:] else node
                    if (node.end_lineno or 0) - first.lineno > 25:
                        long.append(f"{path}: {node.name}")
    assert [] == long
