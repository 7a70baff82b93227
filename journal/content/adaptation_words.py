"""Words about adaptations: kinds, what is looked at again, and what was adapted."""

from __future__ import annotations

from journal.content.texts import get_text
from journal.domain.adaptations import AdaptationKind, AdaptedCheck, adapted_checks_of


def get_kind_words(kind: AdaptationKind, language: str) -> tuple[str, str]:
    """Return the name of a kind and the hint beside it."""
    return (
        get_text("adaptations", language, "kinds", kind.value),
        get_text("adaptations", language, "hints", kind.value),
    )


def get_check_lines(language: str, *, launches: bool) -> dict[AdaptedCheck, str]:
    """Return the line of each check, in order."""
    return {
        check: get_text("adaptations", language, "checks", check.value)
        for check in adapted_checks_of(launches=launches)
    }


def describe_adaptation(kind: AdaptationKind, language: str, **slots: str) -> str:
    """Return what was adapted in one sentence."""
    return get_text("adaptations", language, "kept", kind.value).format(**slots)
