"""Templates are plain: no logic, no style or script of their own, nothing from elsewhere."""

import re
from pathlib import Path

import jinja2
import pytest
from flask import Flask

from journal.app import create_app
from journal.domain.settings import settings_from
from journal.store.engine import Store

ROOT = Path(__file__).parents[2]
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
PAPER = ROOT / "templates" / "print"
CONTENT = sorted((ROOT / "journal" / "content").rglob("*.toml"))
#: Statements that a template may hold.
PLAIN = {
    "extends", "block", "endblock", "include", "from", "import", "macro", "endmacro", "call",
    "endcall", "if", "elif", "else", "endif", "for", "endfor",
}  # fmt: skip
STATEMENT = re.compile(r"\{%-?\s*(\w+)")
COMMENT = re.compile(r"\{#.*?#\}", re.DOTALL)
#: What the content security policy refuses, or what would ask another host.
REFUSED = {
    "style attribute": re.compile(r"<[^>{]*\sstyle\s*=", re.IGNORECASE),
    "inline style": re.compile(r"<style\b", re.IGNORECASE),
    "inline script": re.compile(r"<script\b(?![^>]*\bsrc=)", re.IGNORECASE),
    "event attribute": re.compile(r"<[^>]*\son[a-z]+\s*=\s*[\"']", re.IGNORECASE),
    "another host": re.compile(r"(?:https?:)?//(?!www\.w3\.org/)[a-zA-Z0-9.-]+\.[a-zA-Z]{2,}"),
    "markup let through": re.compile(r"\|\s*tojson\s*\|\s*safe"),
}
FORBIDDEN_WORDS = re.compile(
    r"\b(?:safe(?:ly|r|st)?|unsafe(?:ly)?|weapons?|shoot(?:s|ing)?|shots?|guns?|fir(?:e|ed|ing)|"
    r"targets?|winners?|losers?|fail(?:s|ed|ure|ures)?|wrong|best child)\b",
    re.IGNORECASE,
)
FORM = re.compile(r"<form\b[^>]*\bmethod=[\"']?post[^>]*>(.*?)</form>", re.IGNORECASE | re.DOTALL)


def _plain_text(path: Path) -> str:
    return COMMENT.sub("", path.read_text("utf-8"))


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@pytest.mark.parametrize("path", TEMPLATES, ids=_name)
def test_a_template_holds_no_logic(path: Path) -> None:
    """Loops, conditions, macros and includes only: values come ready in `page`."""
    assert set() == set(STATEMENT.findall(_plain_text(path))) - PLAIN


@pytest.mark.parametrize("path", TEMPLATES, ids=_name)
def test_a_template_brings_nothing_the_policy_refuses(path: Path) -> None:
    """No style or script inside a page, no event attribute, no other host."""
    text = _plain_text(path)
    found = [what for what, pattern in REFUSED.items() if pattern.search(text)]
    # Paper has no policy and no other place for its rules: one document, one style.
    on_paper = ["inline style"] if path.is_relative_to(PAPER) else []
    assert [] == [what for what in found if what not in on_paper]


@pytest.mark.parametrize("path", TEMPLATES, ids=_name)
def test_a_form_that_posts_carries_its_token(path: Path) -> None:
    """Each posting form calls the macro csrf()."""
    forms = FORM.findall(_plain_text(path))
    assert [] == [form[:80] for form in forms if "csrf()" not in form]


@pytest.mark.parametrize("path", [*TEMPLATES, *CONTENT], ids=_name)
def test_texts_keep_to_the_words_of_the_house(path: Path) -> None:
    """No text promises that nothing can happen, praises or blames, or speaks of weapons."""
    # The filter of that name and the attributes of htmx are no words anyone reads.
    text = re.sub(r"\|\s*safe\b|\bhx-[a-z-]+", "", _plain_text(path))
    assert [] == FORBIDDEN_WORDS.findall(text)


@pytest.mark.parametrize("path", sorted((ROOT / "journal/web/static").rglob("*.*ss")), ids=_name)
def test_styles_load_nothing_from_elsewhere(path: Path) -> None:
    """Every url() in a style sheet is a file of our own that is there."""
    named = re.findall(r"url\(\"?([^)\"]+)\"?\)", path.read_text("utf-8"))
    assert [] == [name for name in named if not (path.parent / name).is_file()]


def _blocks(source: jinja2.nodes.Template) -> set[str]:
    return {block.name for block in source.find_all(jinja2.nodes.Block)}


def find_unknown_blocks(path: Path, root: Path) -> set[str]:
    """Return the blocks that a template fills and no template it extends defines."""
    syntax = jinja2.Environment(autoescape=True)
    source = syntax.parse(path.read_text("utf-8"))
    filled = {node.name for node in source.body if isinstance(node, jinja2.nodes.Block)}
    defined: set[str] = set()
    extended = source.find(jinja2.nodes.Extends)
    if extended is None:
        return set()
    while extended is not None:
        assert isinstance(extended.template, jinja2.nodes.Const)
        source = syntax.parse((root / extended.template.value).read_text("utf-8"))
        defined |= _blocks(source)
        extended = source.find(jinja2.nodes.Extends)
    return filled - defined


@pytest.mark.parametrize("path", TEMPLATES, ids=_name)
def test_a_template_fills_blocks_of_its_base(path: Path) -> None:
    """A block that no base defines would never be shown."""
    assert set() == find_unknown_blocks(path, ROOT / "templates")


def test_a_block_that_no_base_defines_is_found(tmp_path: Path) -> None:
    """The rule itself: a slip in a name is found, through two bases as well."""
    (tmp_path / "bare.html").write_text("{% block page %}{% endblock %}")
    middle = tmp_path / "middle.html"
    middle.write_text(
        '{% extends "bare.html" %}{% block page %}{% block body %}{% endblock %}{% endblock %}'
    )
    leaf = tmp_path / "leaf.html"
    leaf.write_text(
        '{% extends "middle.html" %}{% block body %}.{% endblock %}'
        "{% block margins %}.{% endblock %}"
    )
    assert (set(), {"margins"}) == (
        find_unknown_blocks(middle, tmp_path),
        find_unknown_blocks(leaf, tmp_path),
    )


def test_every_template_can_be_read(store: Store, tmp_path: Path) -> None:
    """Each template of a screen compiles in the application's own environment."""
    app: Flask = create_app(settings_from({"JOURNAL_INSTANCE": str(tmp_path)}), store)
    for path in [path for path in TEMPLATES if not path.is_relative_to(PAPER)]:
        app.jinja_env.get_template(path.relative_to(ROOT / "templates").as_posix())
