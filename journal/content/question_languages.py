"""In which language a kept question was put: a question in, the code of a language out.

An answer keeps its question as it was read, with the group's own factor in it; its language is that
of the one ladder which has such a question, since no two ladders share a sentence.
"""

from __future__ import annotations

import re
from functools import cache
from itertools import product

from journal.content.ladders import all_questions
from journal.content.languages import QUESTION_LANGUAGES
from journal.domain.classes import GradeBand
from journal.domain.ladders import Rung

_SLOT = re.compile(r"\\\{(?:factor|old|new)\\\}")


def find_question_language(question: str) -> str | None:
    """Return the language of a question of the journal's; None for a teacher's own question."""
    codes = (code for code, _ in QUESTION_LANGUAGES)
    return next((code for code in codes if _wordings(code).fullmatch(question)), None)


@cache
def _wordings(language: str) -> re.Pattern[str]:
    """Return what matches every wording of a ladder, whatever stands in its slots."""
    texts = {
        text
        for rung, band in product(Rung, GradeBand)
        for question in all_questions(rung, band, language)
        for text in (question.text, question.plain)
    }
    return re.compile("|".join(_SLOT.sub(".+", re.escape(text)) for text in sorted(texts)))
