"""Sentences for people stand in `content/`, and each one that the code asks for is there."""

import ast
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import Path
from string import Formatter

import pytest

ROOT = Path(__file__).parents[2] / "journal"
MESSAGES = ROOT / "content/messages"
#: So many words make a sentence of a literal; a slot counts as one.
FEWEST_WORDS = 4
#: What is made in these rooms or files is for programmers and operators, in English.
FOR_OPERATORS = {
    "cli": "helps and reports of commands, whose doors these are",
    "store/migrations": "statements of SQL",
    "domain/settings.py": "helps of settings, shown by a command",
}
#: A literal that is handed to one of these is a statement, a line of a log, or an error that only a
#: programmer sees.
NOT_FOR_READERS = {
    "CheckConstraint", "text", "execute", "compile", "getLogger", "debug", "info", "warning",
    "error", "exception", "ValueError", "TypeError", "RuntimeError", "LookupError",
    "NoSentence", "AssertionError", "note_at_door", "alt_response",
}  # fmt: skip
#: How other literals begin that no reader sees as they stand, with the reason.
NOT_SENTENCES = {
    "the same so far": "name of a verdict, worded in content/findings",
    "could not be worked out from": "reason in the JSON of a command",
    "the weights add up to": "error for programmers",
    "There are no texts called": "error for programmers",
    "There is no text ": "error for programmers",
    "There is no list ": "error for programmers",
    "Paper takes nothing from": "line of the log",
    "browser of a teacher": "part of a key that is hashed",
    "set_config('lock_timeout'": "SQL",
    "CAST(COALESCE(": "SQL",
    "default-src 'self'": "content security policy",
    "waiting for the database": "answer to whoever watches the server",
    " ({} more since the last line)": "line of the log",
}
#: Rooms whose literals are still to move, with how many there are: a number can only shrink.
STILL_TO_MOVE: Mapping[str, int] = {"charts": 22}


def _modules() -> Iterator[tuple[str, ast.Module]]:
    for path in sorted(ROOT.rglob("*.py")):
        yield path.relative_to(ROOT).as_posix(), ast.parse(path.read_text("utf-8"))


MODULES = dict(_modules())


def _called(node: ast.AST) -> str:
    function = node.func if isinstance(node, ast.Call) else None
    return getattr(function, "attr", getattr(function, "id", ""))


def _is_sentence(node: ast.AST) -> bool:
    if isinstance(node, ast.JoinedStr):
        text = "".join(
            part.value if isinstance(part, ast.Constant) else "{}" for part in node.values
        )
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        text = node.value
    else:
        return False
    if text.startswith(tuple(NOT_SENTENCES)):
        return False
    words = text.split()
    spoken = [word for word in words if any(letter.isalpha() for letter in word)]
    return len(words) >= FEWEST_WORDS and len(spoken) >= FEWEST_WORDS - 1


def _sentences(node: ast.AST) -> Iterator[int]:
    """Yield the line of each sentence below a node, without docstrings and what is not read."""
    raised = _raised_for_programmers(node)
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Assign) and child in raised:
            continue
        if isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant):
            continue
        if _called(child) in NOT_FOR_READERS:
            continue
        if _is_sentence(child):
            yield child.lineno  # type: ignore[attr-defined]
        elif isinstance(child, ast.JoinedStr):
            for part in child.values:
                yield from _sentences(part)
        else:
            yield from _sentences(child)


def _raised_for_programmers(node: ast.AST) -> list[ast.stmt]:
    """Return the lines that set a message which the next line raises for programmers only."""
    body = getattr(node, "body", [])
    if not isinstance(body, list):
        return []
    return [
        line
        for line, following in pairwise(body)
        if isinstance(following, ast.Raise) and _called(following.exc or node) in NOT_FOR_READERS
    ]


def _found() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for name, tree in MODULES.items():
        if not name.startswith(tuple(FOR_OPERATORS)):
            room = name.split("/")[0]
            found.setdefault(room, []).extend(f"{name}:{line}" for line in _sentences(tree))
    return {room: lines for room, lines in found.items() if lines}


def test_no_sentence_stands_in_the_code() -> None:
    """A literal of four words and more is in `content/`; a room still to be moved only shrinks."""
    found = _found()
    more = {room: lines for room, lines in found.items() if len(lines) > STILL_TO_MOVE.get(room, 0)}
    assert {} == more


def test_the_finder_finds() -> None:
    """Plain texts, texts with slots and texts in calls are found; docstrings and SQL are not."""
    code = '"""Says what it is for."""\nx = "Choose one of these."\ny = f"{x} is not for you."\n'
    code += 'z = call(text("SELECT a FROM b"), "Write it here again.")\nshort = "Not here"\n'
    assert [2, 3, 4] == list(_sentences(ast.parse(code)))


def _messages() -> Iterator[tuple[str, ast.Call]]:
    for name, tree in MODULES.items():
        for node in ast.walk(tree):
            if _called(node) == "Message" and isinstance(node, ast.Call):
                yield f"{name}:{node.lineno}", node


def _kept(language: str) -> dict[str, list[str]]:
    """Return each key of a language with its sentence, or its plural forms."""
    kept = {}
    for path in sorted((MESSAGES / language).glob("*.toml")):
        for key, value in tomllib.loads(path.read_text("utf-8")).items():
            forms = [value] if isinstance(value, str) else list(value.values())
            kept[f"{path.stem}.{key}"] = forms
    return {key: forms for key, forms in kept.items() if not key.startswith("lists.")}


def _slots(forms: list[str]) -> set[str]:
    return {name for text in forms for _, name, _, _ in Formatter().parse(text) if name}


ENGLISH = _kept("en")
LISTS = {"lists.lines": ["{lines}"], "lists.sentences": ["{sentences}"]}


def test_each_message_has_its_sentence() -> None:
    """The key is written out, has a sentence, and the values given are those of its slots."""
    wrong = []
    for place, call in _messages():
        key = call.args[0].value if isinstance(call.args[0], ast.Constant) else ""
        given = {keyword.arg for keyword in call.keywords}
        forms = (ENGLISH | LISTS).get(key)
        if forms is None:
            wrong.append(f"{place}: no sentence {ast.unparse(call.args[0])}")
        elif given - {"count"} != _slots(forms) - {"count"}:
            wrong.append(f"{place}: {key} takes {_slots(forms)}, not {given}")
        elif "count" in _slots(forms) and "count" not in given:
            wrong.append(f"{place}: {key} needs a count")
    assert [] == wrong


def test_each_sentence_is_asked_for() -> None:
    """A sentence that no code asks for any more is taken out."""
    asked = Counter(
        call.args[0].value for _, call in _messages() if isinstance(call.args[0], ast.Constant)
    )
    assert [] == [key for key in ENGLISH if key not in asked]


@pytest.mark.parametrize("language", [path.name for path in sorted(MESSAGES.iterdir())])
def test_a_language_has_the_same_slots(language: str) -> None:
    """A translation has no slot that English lacks, and a plural form for each of its rule."""
    lists = tomllib.loads((MESSAGES / language / "lists.toml").read_text("utf-8"))
    forms = lists["plural"]["forms"]
    for key, texts in _kept(language).items():
        assert _slots(texts) <= _slots(ENGLISH[key]) | {"count"}, key
        assert len(texts) in {1, len(forms)}, key
