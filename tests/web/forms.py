"""The forms of a page as a browser would send them, read from its HTML."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

#: Kinds of input into which a person writes.
WRITTEN = {"text", "search", "number", "password", "tel", "email", "date", "url"}
#: What stands in a field that nobody has filled in yet.
USUAL = {"text": "7", "number": "7", "textarea": "It flew left.", "date": "2030-06-28"}


@dataclass
class Form:
    """A form: where it goes, what it sends as it stands, and the fields written into, by kind."""

    action: str
    method: str
    values: dict[str, str] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)

    def filled(self) -> dict[str, str]:
        """Return what it sends with something in every field that was empty."""
        return {
            name: value or USUAL.get(self.written.get(name, ""), "")
            for name, value in self.values.items()
        }


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: list[Form] = []
        self._open: Form | None = None
        self._select = ""
        self._area = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        name = found.get("name", "")
        if tag == "form":
            self._open = Form(found.get("action", ""), found.get("method", "get").lower())
            self.forms.append(self._open)
        elif self._open is None:
            return
        elif tag == "input" and name:
            self._take_input(self._open, name, found)
        elif tag == "textarea" and name:
            self._area = name
            self._open.values[name] = ""
            self._open.written[name] = "textarea"
        elif tag == "select" and name:
            self._select = name
        elif tag == "option" and self._select and "disabled" not in found:
            if "selected" in found or self._select not in self._open.values:
                self._open.values[self._select] = found.get("value", "")
        elif tag == "button" and name and name not in self._open.values:
            self._open.values[name] = found.get("value", "")

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = None
        elif tag == "select":
            self._select = ""
        elif tag == "textarea":
            self._area = ""

    def handle_data(self, data: str) -> None:
        if self._open is not None and self._area:
            self._open.values[self._area] += data

    @staticmethod
    def _take_input(form: Form, name: str, found: dict[str, str]) -> None:
        kind = found.get("type", "text")
        if kind in {"radio", "checkbox"}:
            if "checked" in found or (kind == "radio" and name not in form.values):
                form.values[name] = found.get("value", "on")
            return
        form.values[name] = found.get("value", "")
        if kind in WRITTEN:
            form.written[name] = kind


def forms_of(html: str) -> list[Form]:
    """Return the forms of a page that are posted."""
    reader = _Reader()
    reader.feed(html)
    return [form for form in reader.forms if form.method == "post"]
