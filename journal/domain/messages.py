"""What is to be said to a person, before it is put into a language: a key and values.

The lower floors say which sentence it is and what stands in it; `content/messages.py` has the
sentence. So a second language is a folder of texts and no code.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias, Union

#: A number is written as the language writes it; a tuple is listed; a message is worded first.
MessageValue: TypeAlias = Union[str, float, "Message", "tuple[MessageValue, ...]"]


@dataclass(frozen=True, slots=True, init=False)
class Message:
    """A sentence by its key, such as `trials.no_session`, with the values of its slots by name.

    The key is always written out where the message is made, so that a test finds each one that has
    no sentence. `count` decides between the singular and the plural.
    """

    key: str
    values: tuple[tuple[str, MessageValue], ...]

    def __init__(self, key: str, /, **values: MessageValue) -> None:
        object.__setattr__(self, "key", key)
        object.__setattr__(self, "values", tuple(sorted(values.items())))


#: What an error or a problem says. A text is what is in a language already, such as a sentence
#: that comes from `content/` itself.
Words: TypeAlias = Message | str


def list_sentences(sentences: tuple[Words, ...]) -> Message:
    """Return several sentences as one message, one after the other."""
    return Message("lists.sentences", sentences=sentences)


def list_lines(lines: tuple[Words, ...]) -> Message:
    """Return several sentences as one message, a line each."""
    return Message("lists.lines", lines=lines)
