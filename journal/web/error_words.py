"""Errors and notices in the words of whoever asks: a message in, its sentences out."""

from __future__ import annotations

from flask import flash, has_request_context, request

from journal.content.languages import LANGUAGES
from journal.content.messages import word_error, word_message, word_problems
from journal.content.texts import FALLBACK_LANGUAGE
from journal.domain.errors import Invalid, JournalError
from journal.domain.messages import Words


def request_language() -> str:
    """Return the language that the browser asks for, among those that the journal has."""
    if not has_request_context():
        return FALLBACK_LANGUAGE
    codes = [code for code, _ in LANGUAGES]
    return request.accept_languages.best_match(codes, FALLBACK_LANGUAGE) or FALLBACK_LANGUAGE


def sentence_of(error: JournalError) -> str:
    """Return what an error says."""
    return word_error(error, request_language())


def sentences_of(error: JournalError, field: str = "") -> dict[str, list[str]]:
    """Return the sentences by the field of a form that each stands beside.

    An error that has no fields stands beside `field`.
    """
    if isinstance(error, Invalid):
        return word_problems(error.problems, request_language())
    return {field: [sentence_of(error)]}


def word_for_request(words: Words) -> str:
    """Return what a message says to whoever asks."""
    return word_message(words, request_language())


def notify(message: Words) -> None:
    """Show a message on the next page."""
    flash(word_for_request(message))
