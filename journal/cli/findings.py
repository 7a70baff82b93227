"""`journal findings`: what a table of trials can and cannot say."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

import click

from journal.analysis.amounts import Peak, Trend
from journal.analysis.compare import Comparison
from journal.analysis.findings import NOT_WORKED_OUT, Findings, find_out
from journal.analysis.misfires import MisfireWord
from journal.analysis.records import TrialRecord
from journal.cli.group_results import write_elements, write_lines
from journal.cli.sentences import Stop
from journal.cli.tables import read_table
from journal.content.messages import word_error
from journal.domain.errors import Invalid
from journal.domain.numbers import show_figures, show_number
from journal.domain.outcomes import Direction, read_direction
from journal.exchange.trials import direction_of, records_of
from journal.findings.comparisons import choose_verdict

#: What the terminal says of a verdict; the others go by their own names.
_VERDICTS = {
    "hint_better": "a hint that it does better",
    "hint_worse": "a hint that it does worse",
    "hint_level": "so few trials cannot tell them apart yet",
    "did_better": "did better",
    "did_worse": "did worse",
    "came_higher": "came higher",
    "came_lower": "came lower",
    "no_clear_difference": "these trials cannot tell them apart",
}

_TRENDS = {
    Trend.RISES: "more of it goes with a higher outcome",
    Trend.FALLS: "more of it goes with a lower outcome",
    Trend.NO_CLEAR_TREND: "no clear trend",
}
_PEAKS = {
    Peak.PEAK: "; the middle does best",
    Peak.PERHAPS: "; the middle may do best, these trials cannot tell",
    Peak.NO_PEAK: "; the middle does not do best",
    Peak.TOO_FEW_IN_BAND: "; too few in a band to compare them",
}

#: Digits of a mean or a median that count.
_FIGURES = 4


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON array, one element a group.")
@click.option(
    "--direction",
    help="Which outcome is better: more, less, or near: and a value, as in near:40.",
)
@click.option("--ignore-unknown", is_flag=True, help="Pass over columns with other names.")
def findings(file: Path, direction: str | None, *, as_json: bool, ignore_unknown: bool) -> None:
    """Say what the trials of FILE, a CSV, show: each revision, and each beside the one before.

    Without --direction more is better; in a table without values the distance from the aim point
    is the outcome, and less is better. What cannot be said is null. Needs no journal at all.
    """
    asked = _read(direction)
    table = read_table(file, ignore_unknown=ignore_unknown)
    groups, direction_asked = records_of(table), direction_of(table, asked)
    if as_json:
        write_elements(
            {name: partial(_element, name, own, direction_asked) for name, own in groups.items()}
        )
    else:
        write_lines(
            {name: partial(_lines, name, own, direction_asked) for name, own in groups.items()}
        )


def _element(group: str, records: Sequence[TrialRecord], direction: Direction) -> dict[str, object]:
    return find_out(records, direction, group=group).as_json()


def _lines(group: str, records: Sequence[TrialRecord], direction: Direction) -> list[str]:
    return _describe(find_out(records, direction, group=group))


def _read(direction: str | None) -> Direction | None:
    try:
        return None if direction is None else read_direction(direction)
    except Invalid as error:
        raise Stop(word_error(error)) from error


def _describe(found: Findings) -> list[str]:
    head = f"{found.group}: " if found.group else ""
    lines = []
    for finding in found.revisions:
        figures = [f"n = {finding.summary.n}"]
        if finding.summary.mean is not None and finding.summary.median is not None:
            middle = (("mean", finding.summary.mean), ("median", finding.summary.median))
            figures += [f"{name} {show_figures(value, _FIGURES)}" for name, value in middle]
        figures.append(f"misfires {finding.summary.misfires}")
        lines.append(f"{head}revision {finding.revision}: {', '.join(figures)}")
    asked = found.direction
    lines += [f"{head}revision {_set_beside(pair, asked)}" for pair in found.comparisons]
    contrasts = found.handling.contrasts
    lines += [f"{head}handling {_set_beside(contrast.comparison, asked)}" for contrast in contrasts]
    lines += [f"{head}amount {words}" for words in _word_amount(found)]
    lines += [
        f"{head}cannot say {question}, because it {NOT_WORKED_OUT}" for question in found.failed
    ]
    return lines


def _set_beside(pair: Comparison, direction: Direction) -> str:
    """Tell one beside another; better or worse never without what else could explain it."""
    key = choose_verdict(pair, direction)
    line = f"{pair.new} beside {pair.old}: {_VERDICTS.get(key, pair.verdict.value)}"
    if key.startswith("came_"):
        line = f"{line}, which is nearer to {show_number(direction.near or 0.0)} cannot be told"
    if key.startswith(("did_", "came_")):
        line = f"{line}, practice {pair.practice.value}"
    misfires = pair.misfires
    if misfires is None or misfires.word is MisfireWord.NO_CLEAR_DIFFERENCE:
        return line
    counts = f"{misfires.new} of {misfires.new_n}, before {misfires.old} of {misfires.old_n}"
    return f"{line}; misfires {misfires.word.value} ({counts})"


def _word_amount(found: Findings) -> list[str]:
    """Tell what goes along with the amount; nothing where no trial has one."""
    amount = found.amount
    if not amount.n:
        return []
    if amount.cannot_say is not None or amount.trend is None:
        reason = "" if amount.cannot_say is None else amount.cannot_say.value.replace("_", " ")
        return [f"cannot be told: {reason or NOT_WORKED_OUT} (n = {amount.n})"]
    figures = ", ".join(
        f"{name} {show_figures(value, _FIGURES)}"
        for name, value in (("slope", amount.slope), ("tau", amount.tau), ("p", amount.p_value))
        if value is not None
    )
    bands = "; ".join(
        f"{show_number(band.least)} to {show_number(band.most)}: "
        f"mean {show_figures(band.mean, _FIGURES)}, n = {band.n}"
        for band in amount.bands
    )
    peak = "" if amount.peak is None else _PEAKS[amount.peak]
    among = f"within {found.amount_revision}" if found.amount_revision else "over all revisions"
    return [
        f"and outcome, {among}: {_TRENDS[amount.trend]} ({figures})",
        f"in bands: {bands}{peak}",
    ]
