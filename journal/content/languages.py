"""The languages of a class, in which every text is there, and those of the ladder's questions."""

from __future__ import annotations

#: Code and the language's own name for itself.
LANGUAGES = (("en", "English"),)
#: Of the ladder alone: one has a file in `ladders/` and one in `telling_words/`.
QUESTION_LANGUAGES = (("en", "English"), ("es", "Español"))
