"""Nothing is kept that nothing reads: fields, functions, and functions that only pass on a call."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
MODULES = [
    path for path in sorted((ROOT / "journal").rglob("*.py")) if "migrations" not in path.parts
]
TREES = {path: ast.parse(path.read_text("utf-8")) for path in MODULES}
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
#: Fields that are read otherwise than by their name, each with the reason. Figures of `analysis/`
#: are results of a method, and tests compare all of them with published values.
READ_OTHERWISE = {
    "GroupOutline.trial_mark": "two outlines are compared as a whole",
    "Setting.meaning": "the table of settings in the README is compared with it",
}
#: Functions that wait for the module that will call them.
WAIT_FOR_A_CALLER = {"find_panel_map": "hits read from a photograph"}
#: A call passed on for a reason other than its arguments.
PASSED_ON = {
    "_needed": "gives a quantity of a table its arguments in order",
    "find_revision": "the mapping behind it belongs to the record",
    "_mm": "says that nobody measures a hit finer",
    "text_column": "a type by its length, as the promise that a form can check",
}


def _read_names() -> set[str]:
    """Return every name that a module reads of a value, or that a template or a schema names."""
    names = {
        node.attr
        for tree in TREES.values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load)
    }
    text = "\n".join(path.read_text("utf-8") for path in TEMPLATES)
    schemas = "\n".join(path.read_text("utf-8") for path in TREES if "schemas" in path.parts)
    attributes = re.findall(r'attribute="([\w.]+)"', schemas)
    names |= {part for attribute in attributes for part in attribute.split(".")}
    names |= set(re.findall(r"^    (\w+) = fields", schemas, re.MULTILINE))
    return names | set(re.findall(r"\.([a-z_]\w*)", text))


def _fields(tree: ast.Module) -> Iterator[tuple[str, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef) and "dataclass" in _decorators(node):
            for line in node.body:
                if isinstance(line, ast.AnnAssign) and isinstance(line.target, ast.Name):
                    yield node.name, line.target.id


def _decorators(node: ast.ClassDef | ast.FunctionDef) -> str:
    return " ".join(ast.unparse(decorator) for decorator in node.decorator_list)


def test_every_field_is_read() -> None:
    """A field that no module and no template names is not asked for."""
    read = _read_names()
    dead = {
        f"{owner}.{name}"
        for path, tree in TREES.items()
        if "analysis" not in path.parts
        for owner, name in _fields(tree)
        if name not in read
    }
    assert set(READ_OTHERWISE) == dead


def test_every_function_is_called() -> None:
    """A function or class of a module is named somewhere else in the house."""
    named: Counter[str] = Counter()
    for tree in TREES.values():
        for node in ast.walk(tree):
            if isinstance(node, ast.Name):
                named[node.id] += 1
            elif isinstance(node, ast.Attribute):
                named[node.attr] += 1
            elif isinstance(node, ast.ImportFrom):
                named.update(alias.name for alias in node.names)
    unused = {
        node.name
        for tree in TREES.values()
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        if not node.decorator_list and not named[node.name]
    }
    assert set(WAIT_FOR_A_CALLER) == unused


def find_forwarders(tree: ast.Module) -> set[str]:
    """Return the functions that only call another one with the very same arguments."""
    found = set()
    for node in ast.walk(tree):
        # A decorator does something; a method of that name belongs to its class's promises.
        if not isinstance(node, ast.FunctionDef) or node.decorator_list or node.name[:2] == "__":
            continue
        body = [line for line in node.body if not _is_docstring(line)]
        call = body[0].value if len(body) == 1 and isinstance(body[0], ast.Return) else None
        if not isinstance(call, ast.Call):
            continue
        given = [argument.id for argument in call.args if isinstance(argument, ast.Name)]
        given += [
            pair.value.id
            for pair in call.keywords
            if isinstance(pair.value, ast.Name) and pair.value.id == pair.arg
        ]
        taken = [argument.arg for argument in (*node.args.args, *node.args.kwonlyargs)]
        own = [name for name in taken if name not in {"self", "cls"}]
        if own and sorted(given) == sorted(own) and len(given) == len(call.args + call.keywords):
            found.add(node.name)
    return found


def _is_docstring(line: ast.stmt) -> bool:
    return isinstance(line, ast.Expr) and isinstance(line.value, ast.Constant)


def test_no_function_only_passes_on() -> None:
    """Whoever needs the other function calls it."""
    found = {name for tree in TREES.values() for name in find_forwarders(tree)}
    assert set(PASSED_ON) == found


def test_the_rule_for_passing_on() -> None:
    """The same arguments in any order or by keyword are passed on; another one is an addition."""
    text = """
def same(a, b): return other(a, b)
def by_keyword(*, a, b): return other(b=b, a=a)
def adds(a): return other(a, 1)
def works(a): return other(a.b)
@lru_cache
def keeps(a): return other(a)
"""
    assert {"same", "by_keyword"} == find_forwarders(ast.parse(text))
