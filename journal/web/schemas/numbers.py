"""A number of a JSON body: as a number, or as text that the one reader of numbers takes."""

from __future__ import annotations

from marshmallow import ValidationError, fields

from journal.domain.numbers import NoNumber, read_number
from journal.web.error_words import word_for_request


class SentNumber(fields.Float):
    """A finite number; text such as "12,5" is read as a form reads it."""

    def _validated(self, value: object) -> float:
        if isinstance(value, str):
            try:
                value = read_number(value)
            except NoNumber as error:
                raise ValidationError(word_for_request(error.message)) from error
        return super()._validated(value)
