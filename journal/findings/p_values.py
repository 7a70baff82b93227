"""The p-values of a comparison in a teacher's words: what chance does, and what scatter does."""

from __future__ import annotations

from journal.analysis.compare import Comparison
from journal.analysis.looks import LIVE_STEPS
from journal.analysis.permutation.permute import Method
from journal.content.teacher_words import show_p_value, word_for_teacher


def describe_p_values(
    comparison: Comparison, together: int, unit: str, language: str
) -> tuple[str, ...]:
    """Say the p-value, adjusted for looks and for the comparisons shown `together`.

    Where the sides may scatter unequally, the interval that allows for it stands beside, and the
    p-value where that is what keeps the verdict open.
    """
    key = "p_value" if comparison.method is Method.EXACT else "p_value_shuffled"
    if comparison.course is None:
        key = f"{key}_waits"
    elif comparison.course:
        key = f"{key}_looks"
    sentences = [
        word_for_teacher(
            key,
            language,
            p_value=show_p_value(comparison.p_value),
            adjusted=show_p_value(comparison.adjusted_p),
            count=together,
            least=LIVE_STEPS[0],
        )
    ]
    if comparison.interval_unequal is not None and comparison.p_unequal is not None:
        low, high = comparison.interval_unequal
        sentences.append(
            word_for_teacher("interval_unequal", language, low=low, high=high, unit=unit)
        )
    if comparison.spread_explains:
        p_value = show_p_value(comparison.p_unequal)
        sentences.append(word_for_teacher("spread_explains", language, p_value=p_value))
    return tuple(sentences)
