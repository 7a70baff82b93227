"""Messages become sentences: slots, lists, plurals, and what stands in for a missing language."""

import re
from pathlib import Path

import pytest

from journal.content import messages
from journal.content.messages import NoSentence, choose_plural, word_error, word_message
from journal.domain.errors import Clash, Invalid, Problem
from journal.domain.messages import Message
from tests.sentences import sentences_of


def _put(monkeypatch: pytest.MonkeyPatch, texts: dict[tuple[str, str], dict[str, object]]) -> None:
    usual = messages.read_messages

    def read(noun: str, language: str) -> object:
        return texts.get((noun, language)) or usual(noun, language)

    monkeypatch.setattr(messages, "read_messages", read)


def test_values_stand_in_the_slots(monkeypatch: pytest.MonkeyPatch) -> None:
    """A number is written as people write it, and braces in a value stay as they are."""
    _put(monkeypatch, {("fish", "en"): {"weighs": "{name} weighs {weight} g."}})
    message = Message("fish.weighs", name="{weight} <b>", weight=2.50)
    assert "{weight} <b> weighs 2.5 g." == word_message(message)


def test_a_list_is_joined_as_the_slot_says(monkeypatch: pytest.MonkeyPatch) -> None:
    """Commas where it says nothing; the last of two or more stands behind its own word."""
    _put(monkeypatch, {("fish", "en"): {"are": "{names}; {names:or}; {names:and}."}})
    assert "a, b, c; a, b or c; a, b and c." == word_message(
        Message("fish.are", names=("a", "b", "c"))
    )
    assert "a; a; a." == word_message(Message("fish.are", names=("a",)))


def test_a_message_may_hold_messages(monkeypatch: pytest.MonkeyPatch) -> None:
    """What stands in a slot is put into the same language."""
    _put(
        monkeypatch,
        {
            ("fish", "es"): {"why": "{what} ¡Mira!", "away": "Se fue."},
            ("fish", "en"): {"why": "{what} Look!", "away": "It left."},
        },
    )
    message = Message("fish.why", what=Message("fish.away"))
    assert ["It left. Look!", "Se fue. ¡Mira!"] == [
        word_message(message, language) for language in ("en", "es")
    ]


def test_english_stands_in_for_one_missing_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    """A language that lacks a sentence, or has none at all, never leaves a screen empty."""
    _put(monkeypatch, {("errors", "es"): {"disk_full": "No hay sitio."}})
    assert word_error(Clash()) == word_error(Clash(), "es")
    assert word_error(Clash()).startswith("Somebody else did the same just now.")


@pytest.mark.parametrize(("count", "said"), [(0, "0 fish"), (1, "1 fishes"), (2, "2 fish")])
def test_a_count_chooses_the_form(monkeypatch: pytest.MonkeyPatch, count: int, said: str) -> None:
    """English has one form for 1 and another for the rest, none included."""
    forms = {"one": "{count} fishes", "other": "{count} fish"}
    _put(monkeypatch, {("fish", "en"): {"there": forms}})
    assert said == word_message(Message("fish.there", count=count))


#: Rule and table: GNU gettext manual 0.22, section 11.2.6 "Additional functions for plural forms",
#: rule for Polish, from memory; Unicode CLDR 44, plural rules for pl: few are 2-4, 22-24 ..., from
#: memory.
_POLISH = "n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2"


@pytest.mark.parametrize(
    ("count", "form"),
    [(1, "one"), (2, "few"), (4, "few"), (5, "many"), (12, "many"), (22, "few"), (101, "many")],
)
def test_a_language_may_have_more_forms(
    monkeypatch: pytest.MonkeyPatch, count: int, form: str
) -> None:
    """The rule stands with the language's texts, as GNU gettext writes it."""
    plural = {"rule": _POLISH, "forms": ["one", "few", "many"]}
    _put(monkeypatch, {("lists", "pl"): {"plural": plural}})
    assert form == choose_plural(count, "pl")


def test_a_slot_without_its_value_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """A mistake in code or text says which sentence it is about."""
    _put(monkeypatch, {("fish", "en"): {"weighs": "{name} weighs a lot.", "n": {"one": "a"}}})
    for message in (Message("fish.weighs"), Message("fish.n"), Message("fish.none")):
        with pytest.raises(NoSentence, match=re.escape(message.key)):
            word_message(message)


def test_problems_are_grouped_by_field() -> None:
    """Sentences keep the order in which they were found; a text stays as it is."""
    problems = [Problem("a", "One."), Problem("b", Message("errors.clash")), Problem("a", "Two.")]
    error = Invalid.of(problems)
    clash = "Somebody else did the same just now. Load the page again and look."
    assert {"a": ["One.", "Two."], "b": [clash]} == sentences_of(error)
    assert f"One. {clash} Two." == word_error(error)
    assert f"One.\n{clash}\nTwo." == word_error(Invalid.of(problems, by_line=True))


def test_equal_messages_are_one() -> None:
    """Two messages are the same if key and values are, whatever the order of the values."""
    assert Message("a.b", x=1, y=2) == Message("a.b", y=2, x=1)
    assert 1 == len({Message("a.b", x=(1, 2)), Message("a.b", x=(1, 2))})


def test_no_other_place_outside_the_folder_is_read() -> None:
    """A language or a noun that is a path finds nothing."""
    assert Path(messages.__file__).with_name("bands.toml").is_file()
    assert {} == messages.read_messages("bands", "..")
