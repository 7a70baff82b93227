"""The teacher's next steps: a step in, its words out."""

from __future__ import annotations

from journal.content.texts import get_text
from journal.domain.next_steps import Step


def get_step_words(step: Step, language: str) -> tuple[str, str]:
    """Return what stands on the link to a step, and why it comes."""
    return (
        get_text("next_steps", language, step.value, "do"),
        get_text("next_steps", language, step.value, "why"),
    )


def get_later_words(step: Step, language: str) -> str:
    """Return what a step is called in the list of what comes afterwards."""
    return get_text("next_steps", language, step.value, "later")
