"""The languages in which every text is there."""

from __future__ import annotations

#: Code and the language's own name for itself.
LANGUAGES = (("en", "English"),)
