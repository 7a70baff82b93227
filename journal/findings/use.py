"""Shares of device and use in the variance, in words: trial records in, UseFinding out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from journal.analysis.cells import Effect
from journal.analysis.descriptive import mean_of
from journal.analysis.records import TrialRecord, by_revision, by_student, measured_values
from journal.analysis.technique import PartShares, part_shares, share_intervals
from journal.charts.tables import NOTHING, ChartTable, mean_text
from journal.content.messages import word_message
from journal.content.rounding import show_part, split_up
from journal.content.teacher_words import word_for_teacher
from journal.domain.groups import FORMER_MEMBER
from journal.domain.messages import Message

#: Replays for the intervals: enough for 95 in 100, and done within a few seconds.
DRAWS = 99
_SEED = 1
_EFFECT_NAMES = {
    Effect.REVISION: "share_device",
    Effect.OWN_PART: "share_own_part",
    Effect.STUDENT: "share_use",
    Effect.INTERACTION: "share_fit",
    Effect.REPEAT: "share_consistency",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareLine:
    """One share of the ups and downs."""

    name: str
    #: Of 100, and how it is told: a share that is there is never shown as none.
    in_100: int
    shown: str
    #: Ends of the 95 % interval of 100; None where they were not asked for.
    interval_in_100: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class UseFinding:
    """What goes along with the device and what with its use."""

    shares: PartShares
    lines: tuple[ShareLine, ...]
    #: What is said with the shares, or why nothing can be said.
    sentences: tuple[str, ...]
    #: Whether an exchange of own parts would give more information.
    offers_exchange: bool
    #: Students and revisions with the mean and the number of trials.
    table: ChartTable


def find_use(
    records: tuple[TrialRecord, ...],
    names: Mapping[str, str],
    part: str,
    language: str,
    *,
    intervals: bool = False,
) -> UseFinding:
    """Find what goes along with device and use; `intervals` takes some seconds.

    `names` gives each student's nickname, `part` is what an own part is called.
    """
    shares = _shares(records)
    known = _intervals(records) if intervals and shares.reason is None else {}
    return UseFinding(
        shares=shares,
        lines=_lines(shares, known, language),
        sentences=_describe(shares, part, language, with_intervals=bool(known)),
        offers_exchange=bool(
            part and shares.own_part_reason and shares.own_part_reason.offers_exchange
        ),
        table=_two_way(records, names, language),
    )


@lru_cache(maxsize=128)
def _shares(records: tuple[TrialRecord, ...]) -> PartShares:
    return part_shares(records)


@lru_cache(maxsize=32)
def _intervals(records: tuple[TrialRecord, ...]) -> Mapping[str, tuple[float, float]]:
    return share_intervals(records, seed=_SEED, draws=DRAWS)


def _lines(
    shares: PartShares, intervals: Mapping[str, tuple[float, float]], language: str
) -> tuple[ShareLine, ...]:
    together = shares.use_includes_own_part and shares.own_part_reason is not None
    bound = (
        together and shares.own_part_reason is not None and (shares.own_part_reason.offers_exchange)
    )
    found = {
        "device": ("share_device", shares.device),
        "own_part": ("share_own_part", shares.own_part),
        "use": ("share_use_with_part" if bound else "share_use", shares.use),
        "fit": ("share_fit", shares.fit),
        "consistency": ("share_consistency", shares.consistency),
    }
    known = {name: (key, share) for name, (key, share) in found.items() if share is not None}
    parts = split_up([share for _, share in known.values()], 100)
    return tuple(
        ShareLine(
            name=word_for_teacher(key, language),
            in_100=part,
            shown=show_part(share, part),
            interval_in_100=_in_100(intervals.get(name), part),
        )
        for (name, (key, share)), part in zip(known.items(), parts, strict=True)
    )


def _in_100(interval: tuple[float, float] | None, part: int) -> tuple[int, int] | None:
    """Return the ends in 100; rounding never leaves the share itself out."""
    if interval is None:
        return None
    low, high = (round(100 * end) for end in interval)
    return min(low, part), max(high, part)


def _describe(
    shares: PartShares, part: str, language: str, *, with_intervals: bool
) -> tuple[str, ...]:
    sentences = []
    if shares.reason is not None:
        sentences.append(word_for_teacher(f"reason_{shares.reason.value}", language))
    else:
        sentences.append(word_for_teacher("shares_said", language, n=shares.trials))
    if with_intervals:
        sentences.append(word_for_teacher("intervals_said", language))
    if part and shares.own_part_reason is not None:
        key = f"part_{shares.own_part_reason.value}"
        sentences.append(word_for_teacher(key, language, part=part))
    if shares.held_at_zero:
        names = [
            word_for_teacher(_EFFECT_NAMES[effect], language).lower()
            for effect in shares.held_at_zero
        ]
        sentences.append(word_for_teacher("share_held_at_zero", language, names=", ".join(names)))
    notes = shares.notes if shares.reason is None else ()
    sentences += [word_for_teacher(f"note_{note.value}", language) for note in notes]
    return tuple(sentence for sentence in sentences if sentence)


def _mean_cell(values: Sequence[float]) -> str:
    mean = mean_of(values)
    return NOTHING if mean is None else f"{mean_text(mean)} ({len(values)})"


def _two_way(
    records: tuple[TrialRecord, ...], names: Mapping[str, str], language: str
) -> ChartTable:
    """Return the means of each student with each revision, with the number of trials."""
    revisions = by_revision(records)
    rows = []
    for student, trials in by_student(records).items():
        own = by_revision(trials)
        values = [measured_values(own.get(revision, ())) for revision in revisions]
        if student:
            rows.append((names.get(student, FORMER_MEMBER), *map(_mean_cell, values)))
    return ChartTable(
        caption=word_message(Message("use.mean_of_each_student_with_each_revision"), language),
        header=("Student", *revisions),
        rows=tuple(rows),
    )
