"""Words messages: a key and values in, one sentence in a language out.

The sentences stand in `messages/<language>/<noun>.toml`, under the key without its noun. A slot is
a name in braces; behind a colon stands how a list in it is joined (`lists.toml`). A sentence that
depends on a count is a table of plural forms; `lists.toml` has the rule of the language. Where a
language lacks a sentence, English stands in.
"""

from __future__ import annotations

import gettext
import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from string import Formatter
from typing import Any

from journal.content.texts import FALLBACK_LANGUAGE
from journal.domain.errors import JournalError, Problem
from journal.domain.messages import Message, MessageValue, Words
from journal.domain.numbers import show_number

#: What joins a list where the sentence does not say.
_USUAL_JOIN = "commas"


class NoSentence(LookupError):
    """A message has no sentence, or lacks a value of it: a mistake in the code or in a text."""


def word_message(words: Words, language: str = FALLBACK_LANGUAGE) -> str:
    """Return what a message says; a text is returned as it is."""
    if isinstance(words, str):
        return words
    values = dict(words.values)
    return _fill_in(words.key, _sentence(words.key, values, language), values, language)


def word_error(error: JournalError, language: str = FALLBACK_LANGUAGE) -> str:
    """Return what an error says."""
    return word_message(error.message, language)


def word_problems(
    problems: Iterable[Problem], language: str = FALLBACK_LANGUAGE
) -> dict[str, list[str]]:
    """Return the sentences of problems by field, in the order they were found."""
    grouped: dict[str, list[str]] = {}
    for problem in problems:
        grouped.setdefault(problem.field, []).append(word_message(problem.what, language))
    return grouped


@cache
def read_messages(noun: str, language: str) -> Mapping[str, Any]:
    """Return the sentences of a noun in a language by key; none where there is no such file."""
    file = files("journal.content") / "messages" / language / f"{noun}.toml"
    is_there = noun.isidentifier() and language.isalpha() and file.is_file()
    return tomllib.loads(file.read_text(encoding="utf-8")) if is_there else {}


def choose_plural(count: float, language: str) -> str:
    """Return which plural form a count takes in a language, such as "one"."""
    rule = _find("lists.plural", language)
    number = gettext.c2py(rule["rule"])(int(count)) if count == int(count) else -1
    form: str = rule["forms"][number]
    return form


def _find(key: str, language: str) -> Any:  # noqa: ANN401 (a value of TOML)
    noun, _, name = key.partition(".")
    for code in (language, FALLBACK_LANGUAGE):
        found = read_messages(noun, code).get(name)
        if found is not None:
            return found
    message = f"There is no sentence {key}."
    raise NoSentence(message)


def _sentence(key: str, values: Mapping[str, MessageValue], language: str) -> str:
    found = _find(key, language)
    if isinstance(found, str):
        return found
    count = values.get("count")
    if isinstance(count, str | tuple | Message) or count is None:
        message = f"The sentence {key} needs a count."
        raise NoSentence(message)
    sentence: str = found[choose_plural(count, language)]
    return sentence


def _fill_in(key: str, sentence: str, values: Mapping[str, MessageValue], language: str) -> str:
    pieces = []
    for text, slot, join, _ in Formatter().parse(sentence):
        pieces.append(text)
        if slot is None:
            continue
        if slot not in values:
            message = f"The sentence {key} lacks a value for {slot}."
            raise NoSentence(message)
        pieces.append(_show(values[slot], join or _USUAL_JOIN, language))
    return "".join(pieces)


def _show(value: MessageValue, join: str, language: str) -> str:
    if isinstance(value, Message | str):
        return word_message(value, language)
    if isinstance(value, tuple):
        return _join([_show(item, _USUAL_JOIN, language) for item in value], join, language)
    return show_number(value)


def _join(texts: list[str], join: str, language: str) -> str:
    between = _find(f"lists.{join}", language)
    if isinstance(between, str):
        return between.join(texts)
    first: str = between["between"].join(texts[:-1])
    last: str = between["last"].join([first, *texts[-1:]] if len(texts) > 1 else texts)
    return last
