"""All results from the trials of one group: one frozen object for page, API, terminal and paper.

Comes in: records and the outcome's direction. Goes out: `Findings`, and `as_json` of it with null
where something cannot be said.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from journal.analysis.amounts import NOT_WORKED_OUT as AMOUNT_NOT_WORKED_OUT
from journal.analysis.amounts import AmountFinding, find_amount_within
from journal.analysis.compare import Comparison
from journal.analysis.comparisons import compare_revisions
from journal.analysis.failures import Questions
from journal.analysis.handling import (
    NO_HANDLING,
    HandlingContrast,
    HandlingFinding,
    contrast_handlings,
)
from journal.analysis.misfires import MisfireComparison
from journal.analysis.practice import NO_PRACTICE, Practice, practice_over
from journal.analysis.records import TrialRecord, by_revision, hits_of, in_order, own_trials
from journal.analysis.spread import Spread, spread_of
from journal.analysis.summary import Summary, count_only, summarise_trials
from journal.analysis.technique import PartShares, ShareReason, no_shares, part_shares
from journal.domain.outcomes import MORE_IS_BETTER, Direction

#: Findings of this many groups are kept, found again by the whole content of their records.
KEPT = 128

Json = dict[str, object]

NOT_WORKED_OUT = "could not be worked out from these trials"


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionFinding:
    """One revision by itself."""

    revision: str
    summary: Summary
    #: None where no position is known.
    spread: Spread | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """What the trials of one group can say."""

    group: str
    direction: Direction
    revisions: tuple[RevisionFinding, ...]
    comparisons: tuple[Comparison, ...]
    practice: Practice
    parts: PartShares
    amount: AmountFinding
    #: The revision with most amounts, in which it was found; "" where that is over all of them.
    amount_revision: str = ""
    handling: HandlingFinding
    #: Questions whose analysis raised an error; their answers are empty.
    failed: tuple[str, ...] = ()

    def as_json(self) -> Json:
        """Return the findings as plain values for JSON."""
        content: Json = {
            "group": self.group,
            "revisions": [_revision_json(revision) for revision in self.revisions],
            "comparisons": [_comparison_json(comparison) for comparison in self.comparisons],
            "practice": {
                "tau": self.practice.tau,
                "p_value": self.practice.p_value,
                "slope": self.practice.slope,
            },
            "parts": {
                "device": self.parts.device,
                "own_part": self.parts.own_part,
                "use": self.parts.use,
                "use_includes_own_part": self.parts.use_includes_own_part,
                "fit": self.parts.fit,
                "consistency": self.parts.consistency,
            },
            "handling": [_handling_json(contrast) for contrast in self.handling.contrasts],
            "amount": _amount_json(self.amount_revision, self.amount),
        }
        if self.failed:
            content["cannot_say"] = [f"{question}: {NOT_WORKED_OUT}" for question in self.failed]
        return content


def find_out(
    records: Sequence[TrialRecord],
    direction: Direction = MORE_IS_BETTER,
    *,
    group: str = "",
    parents: Mapping[str, Sequence[str]] | None = None,
    steps: Sequence[int] | None = None,
) -> Findings:
    """Return all results from the records of one group.

    `parents` names the revisions each one came from; without it each is compared with the one
    before. `steps` are the sizes of a comparison at which running data are looked
    at; None rests verdicts on one look at all trials (finished data). Trials by guests, or with
    another group's device, are left out. Results are cached, keyed by the records.
    """
    kept_parents = None
    if parents is not None:
        kept_parents = tuple((name, tuple(of)) for name, of in parents.items())
    kept_steps = None if steps is None else tuple(steps)
    return _find_out(
        tuple(in_order(own_trials(records))), direction, group, kept_parents, kept_steps
    )


@lru_cache(maxsize=KEPT)
def _find_out(
    records: tuple[TrialRecord, ...],
    direction: Direction,
    group: str,
    parents: tuple[tuple[str, tuple[str, ...]], ...] | None,
    steps: tuple[int, ...] | None,
) -> Findings:
    questions = Questions()
    ask = questions.ask
    kept_parents = None if parents is None else dict(parents)
    no_amount: tuple[str, tuple[TrialRecord, ...], AmountFinding] = ("", (), AMOUNT_NOT_WORKED_OUT)
    amount_revision, _, amount = ask(
        "amount", lambda: find_amount_within(records, direction), no_amount
    )
    found = Findings(
        group=group,
        direction=direction,
        revisions=tuple(
            _look_at(name, own, questions) for name, own in by_revision(records).items()
        ),
        comparisons=ask(
            "comparisons", lambda: compare_revisions(records, direction, kept_parents, steps), ()
        ),
        practice=ask("practice", lambda: practice_over(records), NO_PRACTICE),
        parts=ask("parts", lambda: part_shares(records), no_shares(ShareReason.NOT_WORKED_OUT)),
        amount=amount,
        amount_revision=amount_revision,
        handling=ask(
            "handling", lambda: contrast_handlings(records, direction, steps), NO_HANDLING
        ),
    )
    return replace(found, failed=tuple(questions.failed))


def _look_at(name: str, own: Sequence[TrialRecord], questions: Questions) -> RevisionFinding:
    return RevisionFinding(
        revision=name,
        summary=questions.ask("numbers", lambda: summarise_trials(own), count_only(own)),
        spread=questions.ask("hits", lambda: spread_of(hits_of(own)), None),
    )


def _revision_json(finding: RevisionFinding) -> Json:
    summary, spread = finding.summary, finding.spread
    return {
        "revision": finding.revision,
        "n": summary.n,
        "mean": summary.mean,
        "median": summary.median,
        "sd": summary.sd,
        "mad": summary.mad,
        "lower_quartile": summary.lower_quartile,
        "upper_quartile": summary.upper_quartile,
        "misfires": summary.misfires,
        "misfire_rate": summary.misfire_rate,
        "misfire_interval": _pair(summary.misfire_interval),
        "offset_mm": None if spread is None else spread.offset_mm,
        "scatter_mm": None if spread is None else spread.scatter_mm,
        "half_radius_mm": None if spread is None else spread.half_radius_mm,
    }


def _comparison_json(comparison: Comparison) -> Json:
    return {
        "old": comparison.old,
        "new": comparison.new,
        "difference": comparison.difference,
        "interval": _pair(comparison.interval),
        "interval_unequal": _pair(comparison.interval_unequal),
        "p_value": comparison.p_value,
        "p_unequal": comparison.p_unequal,
        "cliff_delta": comparison.cliff_delta,
        "verdict": comparison.verdict.value,
        "misfires": _misfires_json(comparison.misfires),
        "practice": comparison.practice.value,
        "comparable": comparison.comparable,
    }


def _misfires_json(misfires: MisfireComparison | None) -> Json | None:
    if misfires is None:
        return None
    return {
        "old": misfires.old,
        "old_n": misfires.old_n,
        "new": misfires.new,
        "new_n": misfires.new_n,
        "p_value": misfires.p_value,
        "verdict": misfires.word.value,
    }


def _amount_json(revision: str, amount: AmountFinding) -> Json | None:
    """Return the amount against the outcome; None where no trial has an amount."""
    if not amount.n:
        return None
    return {
        "revision": revision or None,
        "n": amount.n,
        "slope": amount.slope,
        "tau": amount.tau,
        "p_value": amount.p_value,
        "trend": amount.trend and amount.trend.value,
        "bands": [
            {"least": band.least, "most": band.most, "n": band.n, "mean": band.mean}
            for band in amount.bands
        ],
        "peak": amount.peak and amount.peak.value,
        "cannot_say": amount.cannot_say and amount.cannot_say.value,
    }


def _handling_json(contrast: HandlingContrast) -> Json:
    comparison = contrast.comparison
    return {
        "name": contrast.name,
        "old": comparison.old,
        "new": comparison.new,
        "old_n": comparison.old_n,
        "new_n": comparison.new_n,
        "students": contrast.students,
        "difference": comparison.difference,
        "interval": _pair(comparison.interval),
        "p_value": comparison.p_value,
        "smallest_p": comparison.smallest_p,
        "verdict": comparison.verdict.value,
        "practice": comparison.practice.value,
    }


def _pair(interval: tuple[float, float] | None) -> list[float] | None:
    return None if interval is None else list(interval)
