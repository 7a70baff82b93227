"""An amount against the outcome, in words: trial records in, AmountWords out."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from journal.analysis.amounts import (
    LEAST_AMOUNTS,
    LEAST_TRIALS,
    AmountFinding,
    Band,
    CannotSay,
    Peak,
    find_amount_within,
)
from journal.analysis.records import TrialRecord
from journal.content.teacher_words import show_p_value, word_for_teacher
from journal.domain.challenges import Outcome
from journal.domain.numbers import show_number
from journal.findings.voices import Voice, non_empty


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountWords:
    """What the amount has to do with the outcome."""

    #: What there is more or less of, such as "Paint" in "drops".
    name: str
    unit: str
    found: AmountFinding
    #: The records it was found among.
    records: tuple[TrialRecord, ...]
    #: Among which trials: one revision's, or all of them; for the teacher.
    among: str
    sentences: tuple[str, ...]
    #: Line, tau and the three bands, for the teacher.
    figures: tuple[str, ...]


def find_amounts(
    records: tuple[TrialRecord, ...], outcome: Outcome, voice: Voice
) -> tuple[AmountWords, ...]:
    """Set amounts against outcomes; nothing where the challenge has no amount.

    Within the revision with most amounts, so that the device stays the same; over all revisions
    only where no revision alone has enough.
    """
    if not outcome.amount_name:
        return ()
    revision, own, found = _found(records, outcome.direction)
    among = ""
    if found.n:
        key = "amount_in_revision" if revision else "amount_over_revisions"
        among = word_for_teacher(key, voice.language, revision=revision)
    amount = Amount(name=outcome.amount_name, unit=outcome.amount_unit)
    return (word_amount(amount, found, own, outcome, voice, among),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """What there is more or less of."""

    name: str
    unit: str


def word_amount(
    amount: Amount,
    found: AmountFinding,
    records: tuple[TrialRecord, ...],
    outcome: Outcome,
    voice: Voice,
    among: str,
) -> AmountWords:
    """Put what was found about an amount into words."""
    return AmountWords(
        name=amount.name,
        unit=amount.unit,
        found=found,
        records=records,
        among=among,
        sentences=_describe(found, amount, voice),
        figures=_list_figures(found, amount, outcome, voice),
    )


_found = lru_cache(maxsize=128)(find_amount_within)


def _describe(found: AmountFinding, about: Amount, voice: Voice) -> tuple[str, ...]:
    amount = about.name.lower()
    if found.cannot_say is not None:
        few = found.cannot_say is CannotSay.TOO_FEW_AMOUNTS
        return non_empty(
            voice.say(
                f"amount_{found.cannot_say.value}",
                n=found.n,
                distinct=found.distinct,
                least=LEAST_AMOUNTS if few else LEAST_TRIALS,
                amount=amount,
            )
        )
    trend = "" if found.trend is None else found.trend.value
    peak = found.peak if found.peak in {Peak.PEAK, Peak.PERHAPS} else None
    return non_empty(
        voice.say(f"amount_{trend}", amount=amount, n=found.n),
        "" if peak is None else voice.say(f"amount_{peak.value}"),
    )


def _range(band: Band) -> str:
    ends = (show_number(band.least), show_number(band.most))
    return " to ".join(dict.fromkeys(ends))


def _list_figures(
    found: AmountFinding, about: Amount, outcome: Outcome, voice: Voice
) -> tuple[str, ...]:
    if found.cannot_say is not None:
        return ()
    units = {"unit": outcome.unit, "amount_unit": about.unit}
    line = word_for_teacher(
        "amount_line",
        voice.language,
        slope=found.slope,
        tau=found.tau,
        amount=about.name.lower(),
        p_value=show_p_value(found.p_value),
        **units,
    )
    bands = [
        word_for_teacher(
            "amount_band",
            voice.language,
            range=_range(band),
            mean=band.mean,
            n=band.n,
            **units,
        )
        for band in found.bands
    ]
    return (line, f"{'; '.join(bands)}.")
