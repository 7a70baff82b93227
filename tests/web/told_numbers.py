"""Every number of a rendered sentence, held against the trials: what contradicts them is listed.

The facts are counted here anew from what was logged, with the standard library alone.
"""

from __future__ import annotations

import html
import re
import statistics
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from journal.content.finding_words import show_figure
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import DirectionKind
from journal.domain.part_states import PartState
from journal.domain.trials import TrialState
from journal.findings.trial_records import label_revision

LABEL = r"Launcher \d+"
NUMBER = r"(?:about )?(-?[\d.]+)"


def words_of_page(page: str) -> str:
    """Return what a page says, without drawings, tables and marks."""
    bare = re.sub(r"<(svg|table|script|style|head)\b.*?</\1>", " ", page, flags=re.DOTALL)
    bare = re.sub(r"</(p|li|dd|h\d|div)>", " | ", bare)
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", bare)).split())


def section_of(page: str, name: str) -> str:
    """Return a section of a page, by its class."""
    found = re.search(rf'<section class="{name}">(.*?)</section>', page, flags=re.DOTALL)
    assert found is not None, f"no section {name}"
    return found[1]


@dataclass(frozen=True, slots=True)
class Facts:
    """What was logged with one revision of a part."""

    label: str
    logged: int
    misfires: int
    values: tuple[float, ...]
    #: The values of each student.
    by_student: dict[str, list[float]]


def facts_of(record: GroupRecord) -> dict[str, Facts]:
    """Count what was logged, revision by revision of every part."""
    return {one.label: one for state in record.parts for one in _count(record, state)}


def _count(record: GroupRecord, state: PartState) -> Iterator[Facts]:
    for revision in state.revisions:
        own = [
            trial
            for trial in record.trials
            if revision.id in trial.revision_ids
            and trial.state in {TrialState.MEASURED, TrialState.MISFIRE}
        ]
        by_student: dict[str, list[float]] = {}
        for one in own:
            if one.value is not None and one.state is TrialState.MEASURED:
                by_student.setdefault(str(one.student_id), []).append(one.value)
        yield Facts(
            label=label_revision(state, revision),
            logged=len(own),
            misfires=sum(one.state is TrialState.MISFIRE for one in own),
            values=tuple(value for values in by_student.values() for value in values),
            by_student=by_student,
        )


def find_contradictions(
    text: str, record: GroupRecord, band: GradeBand, *, finished: bool
) -> list[str]:
    """Return each sentence of a page that its own trials contradict."""
    facts = facts_of(record)
    checks = (
        _numbers_of_one(text, facts, band),
        _verdicts(text, facts, record),
        _compared_counts(text, facts, finished=finished),
        _differences(text, facts),
        _pairs(text, facts, record),
        find_forbidden(text),
    )
    return [one for found in checks for one in found]


def _numbers_of_one(text: str, facts: dict[str, Facts], band: GradeBand) -> Iterator[str]:
    for n, label in re.findall(rf"(\d+) trials? with ({LABEL})", text):
        if int(n) != facts[label].logged:
            yield f"{n} trials with {label}: {facts[label].logged} were logged"
    for misfires, n in re.findall(r"(\d+) of (\d+) (?:darts |launches )?did not fly", text):
        if (int(misfires), int(n)) not in {(one.misfires, one.logged) for one in facts.values()}:
            yield f"{misfires} of {n} did not fly"
    middles = {
        (show_figure(statistics.fmean(v), band), show_figure(statistics.median(v), band), len(v))
        for one in facts.values()
        if (v := one.values)
    }
    for mean, median, n in re.findall(r"Mean ([\d.]+), median ([\d.]+) points?, n = (\d+)", text):
        if (mean, median, int(n)) not in middles:
            yield f"mean {mean}, median {median}, n = {n}: {middles}"
    ranges = {show_figure(max(v) - min(v), band) for one in facts.values() if (v := one.values)}
    spread = r"(?:Range|Biggest minus smallest is) (?:about )?([\d.]+) points?"
    for told in re.findall(spread, text):
        if told not in {one.removeprefix("about ") for one in ranges}:
            yield f"range {told}: {ranges}"


def _verdicts(text: str, facts: dict[str, Facts], record: GroupRecord) -> Iterator[str]:
    """Better and worse of two, once each; the same so far where nothing differs."""
    better = set(re.findall(rf"({LABEL}) (?:did|does|may do) better than ({LABEL})", text))
    worse = set(re.findall(rf"({LABEL}) (?:did|does|may do) worse than ({LABEL})", text))
    for pair in better & worse:
        yield f"{pair} better and worse"
    less = record.context.challenge.outcome.direction.kind is DirectionKind.LESS
    more = record.context.challenge.outcome.direction.kind is DirectionKind.MORE
    for new, way in re.findall(rf"({LABEL}) lies [\d.]+ points? (higher|lower) on average", text):
        olds_better = {old for one, old in better if one == new}
        olds_worse = {old for one, old in worse if one == new}
        good = (more and way == "higher") or (less and way == "lower")
        if (more or less) and not (olds_better if good else olds_worse):
            told_open = "cannot tell" in text
            if not told_open:
                yield f"{new} lies {way}: {better} {worse}"
    for new, old in re.findall(rf"({LABEL}) (?:was set )?beside ({LABEL})\. The same so far", text):
        for student, values in facts[new].by_student.items():
            before = facts[old].by_student.get(student)
            if before and len({*before, *values}) > 1:
                yield f"{new} beside {old}: the same so far"


def _compared_counts(text: str, facts: dict[str, Facts], *, finished: bool) -> Iterator[str]:
    """Say n as it is shown, or explain it; on paper there is one n."""
    counts = {len(one.values) for one in facts.values()}
    explained = {
        (int(a), int(b))
        for a, b in (
            *re.findall(rf"first (\d+) of {LABEL}, (\d+) of {LABEL}", text),
            *re.findall(r"tried both: (\d+) and (\d+) trials", text),
        )
    }
    for new, old in re.findall(r"n = (\d+) against (\d+)", text):
        pair = (int(old), int(new))
        if not (set(pair) <= counts or pair in explained or "within pairs" in text):
            yield f"n = {new} against {old}: shown {sorted(counts)}, explained {explained}"
    if finished and re.search(r"rests on the first|looked at the first", text):
        yield "a part of the trials on paper"


def _differences(text: str, facts: dict[str, Facts]) -> Iterator[str]:
    """Hold each difference against the means: equal, or said to be another thing."""
    pattern = rf"({LABEL}) lies ([\d.]+) points? (higher|lower) on average([^.]*)\. n ="
    plain = {
        (new, old): show_figure(
            abs(statistics.fmean(facts[new].values) - statistics.fmean(facts[old].values)),
            GradeBand.SIX_TO_EIGHT,
        )
        for new, old in product(facts, facts)
        if facts[new].values and facts[old].values
    }
    for new, told, _, basis in re.findall(pattern, text):
        equal = told in {value for (one, _), value in plain.items() if one == new}
        explained = "within" in basis or re.search(r"rests on the first|tried both", text)
        if not equal and not explained:
            yield f"{new} lies {told} off: {plain}"
        unequal = "within students" in basis and not equal
        if unequal and not re.search(r"Turns were unequal|rests on the first|tried both", text):
            yield f"{new} lies {told} within students, and nothing says why the means differ"


def _pairs(text: str, facts: dict[str, Facts], record: GroupRecord) -> Iterator[str]:
    """Say "every pair" of the pairs that are all led."""
    if "every pair" not in text or "nearly every pair" in text or "first" in text:
        return
    merit = record.context.challenge.outcome.direction.merit
    for new, old in product(facts.values(), facts.values()):
        pairs = [
            merit(after) - merit(before)
            for student, values in new.by_student.items()
            for before in old.by_student.get(student, ())
            for after in values
        ]
        if pairs and (min(pairs) > 0 or not any(pairs)):
            return
    yield "every pair"


def find_forbidden(text: str) -> Iterator[str]:
    """Find what no page says, whatever was logged."""
    for told in (
        *("scored more", "scored less", "look much the same", "No clear difference", "10 of 10 p"),
        *("about 0 ", "1000 times", " 0 times in", "not known", "best result so far", "lies 0 "),
        *("over 0 in 100", "for 0 trials"),
    ):
        if re.search(rf"(?<!\d){re.escape(told)}", text):
            yield f"never: {told}"
