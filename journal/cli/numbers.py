"""A number as a value of an option at the terminal."""

from __future__ import annotations

import click

from journal.content.messages import word_message
from journal.domain.numbers import NoNumber, read_number


class NumberType(click.ParamType):  # type: ignore[type-arg]
    """A number as the one reader takes it, such as 12.5 or 12,5."""

    name = "number"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the number; stop with the sentence that says what is wrong."""
        if isinstance(value, float):
            return value
        try:
            return read_number(str(value))
        except NoNumber as error:
            self.fail(word_message(error.message), param, ctx)


NUMBER = NumberType()
