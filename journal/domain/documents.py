"""Reads values from a document by key and collects every problem with them.

Comes in: nested mappings and lists, as a TOML or JSON reader leaves them. Goes out: typed values,
and one Problem a mistake, naming the document and the path of the key, so that all are mended at
once.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypeVar

from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message, Words

Choice = TypeVar("Choice", bound=StrEnum)

_KEY = re.compile(r"[a-z][a-z0-9_]*")


@dataclass(slots=True)
class Reading:
    """One reading of one document: what has been found wrong so far."""

    #: The name of the document in messages; empty where the messages stand beside a form's fields.
    source: str
    problems: list[Problem] = field(default_factory=list)

    def note(self, path: str, what: Words) -> None:
        """Note that something is wrong at a path; `what` goes on after the path's name.

        Without a source the sentence stands beside a field of a form, where the path says nothing.
        """
        sentence = (
            Message("documents.at_a_path", source=self.source, path=path, what=what)
            if self.source
            else Message("documents.beside_a_field", what=what)
        )
        self.problems.append(Problem(path, sentence))

    def finish(self) -> None:
        """Raise Invalid with everything noted, unless nothing was."""
        if self.problems:
            raise Invalid.of(self.problems, by_line=True)


@dataclass(slots=True)
class Table:
    """One table of a document; a wrong value is noted and stands in as empty until `finish`."""

    reading: Reading
    values: Mapping[str, object]
    path: str = ""
    used: set[str] = field(default_factory=set)

    def at(self, key: str) -> str:
        """Return the path of a key of this table."""
        return f"{self.path}.{key}" if self.path else key

    def note(self, key: str, what: Words) -> None:
        """Note that something is wrong with a key of this table."""
        self.reading.note(self.at(key), what)

    def has(self, key: str) -> bool:
        """Tell whether the key, which may be left out, stands in the table."""
        self.used.add(key)
        return key in self.values

    def text(self, key: str, hint: Words, default: str | None = None) -> str:
        """Return a text; it may be left out, or be empty, only where there is a default."""
        value = self._take(key, hint, default)
        if value is None:
            return ""
        if not isinstance(value, str):
            self.note(key, Message("documents.must_be_a_text_in_quotation_marks", hint=hint))
            return ""
        if not value.strip() and default is None:
            self.note(key, Message("documents.is_empty", hint=hint))
        return value.strip()

    def key(self, hint: Words) -> str:
        """Return the table's own key: small letters, digits and low lines."""
        value = self.text("key", hint)
        if value and not _KEY.fullmatch(value):
            self.note("key", Message("documents.must_start_with_a_small_letter_and_hold"))
        return value

    def flag(self, key: str, hint: Words, *, default: bool | None = None) -> bool:
        """Return true or false."""
        value = self._take(key, hint, default)
        if value is not None and not isinstance(value, bool):
            self.note(key, Message("documents.must_be_true_or_false"))
        return value is True

    def number(
        self,
        key: str,
        hint: Words,
        default: float | None = None,
        *,
        lowest: float = -math.inf,
        highest: float = math.inf,
        above: float = -math.inf,
    ) -> float:
        """Return a finite number within the limits; `above` is a limit it must pass."""
        value = self._take(key, hint, default)
        if value is None:
            return 0.0
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.note(key, Message("documents.must_be_a_number_without_quotation_marks", hint=hint))
        elif not math.isfinite(value):
            self.note(key, Message("documents.must_be_an_ordinary_number", hint=hint))
        elif not lowest <= value <= highest or value <= above:
            self.note(key, Message("documents.cannot_be", value=value, hint=hint))
        else:
            return float(value)
        return 0.0

    def find_number(self, key: str, hint: Words, **limits: float) -> float | None:
        """Return a number, or None where the key is left out."""
        return self.number(key, hint, **limits) if self.has(key) else None

    def whole(self, key: str, hint: Words, *, lowest: int = 0) -> int:
        """Return a whole number."""
        value = self.number(key, hint, lowest=lowest)
        if value != int(value):
            self.note(key, Message("documents.must_be_a_whole_number", hint=hint))
        return int(value)

    def find_whole(self, key: str, hint: Words, *, lowest: int = 0) -> int | None:
        """Return a whole number, or None where the key is left out."""
        return self.whole(key, hint, lowest=lowest) if self.has(key) else None

    def choice(self, key: str, kind: type[Choice], default: Choice | None = None) -> Choice:
        """Return one of a few named choices."""
        names = tuple(member.value for member in kind)
        value = self._take(key, Message("documents.one_of", names=names), default)
        members = list(kind)
        if value is None:
            return members[0]
        if value not in {member.value for member in members}:
            self.note(key, Message("documents.cannot_be_choose", value=repr(value), names=names))
            return members[0]
        return kind(str(value))

    def texts(self, key: str, hint: Words, default: Sequence[str] | None = None) -> tuple[str, ...]:
        """Return a list of different texts; it is empty only where there is a default."""
        value = self._take(key, hint, default)
        if value is None:
            return ()
        if not isinstance(value, list | tuple) or not all(isinstance(text, str) for text in value):
            self.note(key, Message("documents.must_be_a_list_of_texts_in_square", hint=hint))
            return ()
        texts = tuple(text.strip() for text in value)
        if not texts and default is None:
            self.note(key, Message("documents.is_empty", hint=hint))
        if "" in texts:
            self.note(key, Message("documents.holds_an_empty_text"))
        if len(set(texts)) < len(texts):
            self.note(key, Message("documents.names_one_thing_twice"))
        return texts

    def table(self, key: str, hint: Words) -> Table:
        """Return the table under a key; an empty one where there is none."""
        value = self._take(key, hint, None)
        if value is not None and not isinstance(value, Mapping):
            self.note(key, Message("documents.must_be_a_table", at=self.at(key), hint=hint))
            value = None
        if value is None:
            return Table(Reading(self.reading.source), {}, self.at(key))
        return Table(self.reading, value, self.at(key))

    def tables(self, key: str, hint: Words, *, needed: bool = True) -> list[Table]:
        """Return the tables listed under a key, each with its own key in its path."""
        value = self._take(key, hint, None if needed else [])
        if value is None:
            return []
        if not isinstance(value, list | tuple) or not all(isinstance(r, Mapping) for r in value):
            self.note(
                key, Message("documents.must_be_a_list_of_tables", at=self.at(key), hint=hint)
            )
            return []
        if needed and not value:
            self.note(key, Message("documents.is_empty_add", hint=hint))
        seen: set[str] = set()
        rows = []
        for number, row in enumerate(value, start=1):
            name = row.get("key")
            path = f"{key}.{name}" if isinstance(name, str) and name else f"{key}[{number}]"
            if name in seen:
                self.note(path, Message("documents.stands_there_twice"))
            if isinstance(name, str):
                seen.add(name)
            rows.append(Table(self.reading, row, self.at(path)))
        return rows

    def any_value(self, key: str) -> object:
        """Return whatever stands under a key, or None; the caller judges it."""
        self.used.add(key)
        return self.values.get(key)

    def finish(self) -> None:
        """Note every key that nobody asked for: a slip of the pen would go unseen otherwise."""
        for key in self.values:
            if key not in self.used:
                known = tuple(sorted(self.used))
                self.note(key, Message("documents.not_known_here", known=known))

    def _take(self, key: str, hint: Words, default: object) -> object:
        self.used.add(key)
        if key not in self.values and default is None:
            self.note(key, Message("panel_documents.is_missing", hint=hint))
        return self.values.get(key, default)
