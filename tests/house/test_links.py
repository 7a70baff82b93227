"""An address is written once, at its route: elsewhere a page is named and `url_for` finds it."""

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from uuid import UUID

import pytest
from flask import Flask

from journal.screens.links import Link, Target, link_to
from journal.web.links import ENDPOINTS, address_of
from tests.web.conftest import app

__all__ = ["app"]

ROOT = Path(__file__).parents[2]
MODULES = sorted((ROOT / "journal").rglob("*.py"))
PAGES = sorted((ROOT / "templates").rglob("*.html"))
SCRIPTS = sorted((ROOT / "journal/web/static/scripts").rglob("*.js"))
#: An address that nothing matched has no endpoint: the answer to a machine goes by how it begins.
MACHINE_PATHS = {"/api/", "/healthz"}
#: An address in a template or a script: a quoted "/", alone or with a word behind it.
QUOTED = re.compile(r"""["'`=]/(?:[a-z][^"'` ]*)?["'` {]""")
COMMENT = re.compile(r"\{#.*?#\}", re.DOTALL)


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def find_addresses(source: str, words: set[str]) -> list[str]:
    """Return the texts of a module that look like an address, apart from those of its routes.

    `words` are the fixed parts of all routes: one of them behind "/" gives away a text whose
    beginning is in a variable.
    """
    tree = ast.parse(source)
    routes: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            routes |= {part for route in node.decorator_list for part in ast.walk(route)}
        if isinstance(node, ast.keyword) and node.arg == "url_prefix":
            routes.add(node.value)
    texts = (
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in routes
    )
    return [text for text in texts if _is_address(text, words)]


def _is_address(text: str, words: set[str]) -> bool:
    found = re.match(r"/([a-z][a-z-]*)", text)
    return found is not None and found.group(1) in words


def _words(app: Flask) -> set[str]:
    return {word for rule in app.url_map.iter_rules() for word in _fixed_parts(rule.rule)}


def _fixed_parts(rule: str) -> Iterator[str]:
    return (part.split(".")[0] for part in rule.split("/") if re.match(r"[a-z]", part))


def test_no_module_writes_an_address(app: Flask) -> None:
    """Screens return what to link to; the web makes the address of it."""
    words = _words(app)
    found = {
        _name(path): sorted(texts)
        for path in MODULES
        if (texts := set(find_addresses(path.read_text("utf-8"), words)) - MACHINE_PATHS)
    }
    assert {} == found


@pytest.mark.parametrize("path", [*PAGES, *SCRIPTS], ids=_name)
def test_no_template_or_script_writes_an_address(path: Path) -> None:
    """A template says url_for, or `| address` of a link; a script reads it from the page."""
    # A script takes an address apart at its slashes.
    text = COMMENT.sub("", path.read_text("utf-8")).replace('.split("/")', "")
    assert [] == QUOTED.findall(text)


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ('home = f"/groups/{group_id}"', ["/groups/"]),
        ('where = f"{home}/revisions/new?part={part}"', ["/revisions/new?part="]),
        ('go("/sign-out")', ["/sign-out"]),
        ('@pages.get("/groups/<uuid:group_id>")\ndef show(): ...', []),
        ('folder = "/etc"; name = f"{folder}/journal.sqlite3"', []),
    ],
)
def test_the_rule_for_modules(source: str, found: list[str]) -> None:
    """An address is found whole or in pieces; a route and a file are none."""
    words = {"groups", "revisions", "sign-out", "journal"} - {"journal"}
    assert found == find_addresses(source, words)


@pytest.mark.parametrize(
    "text",
    ['<a href="/groups/{{ id }}">', "link(\"A\", '/')", 'quiet_link("A", "/groups/" ~ id)',
     '"/classes/%s" | format(id)', "fetch(`/api/trials/${id}`)", "<form action=/sign-out >"],
)  # fmt: skip
def test_the_rule_for_templates(text: str) -> None:
    """Each way in which an address was written once is found."""
    assert QUOTED.search(text)


def _example(target: Target) -> Link:
    ids: dict[str, UUID] = dict.fromkeys(
        ("group_id", "class_id", "challenge_id", "revision_id"), UUID(int=0)
    )
    return link_to(target, **ids, swap_test_id=UUID(int=0))


@pytest.mark.parametrize("target", Target)
def test_each_target_is_a_page(app: Flask, target: Target) -> None:
    """Every target has its endpoint, and that answers a reader."""
    with app.test_request_context():
        path = address_of(_example(target)).partition("?")[0]
        endpoint, _ = app.url_map.bind("localhost").match(path, method="GET")
    assert ENDPOINTS[target] == endpoint


def test_a_link_leaves_out_what_is_none(app: Flask) -> None:
    """Choices stand behind the path, in the order given, and the place at the end."""
    link = link_to(Target.FINDINGS, group_id=UUID(int=0), challenge=None, part="a b")
    with app.test_request_context():
        assert address_of(replace(link, place="use")).endswith("/findings?part=a+b#use")
