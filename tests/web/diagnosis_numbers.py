"""What the page of a diagnosis says, held against the trials and against itself."""

from __future__ import annotations

import re
from collections.abc import Iterator

from journal.domain.group_records import GroupRecord
from tests.web.told_numbers import LABEL, facts_of, find_forbidden


def find_diagnosis_contradictions(text: str, record: GroupRecord) -> list[str]:
    """Return each sentence of the page that its trials, or another sentence, contradict."""
    shown = text.split("| What can be adapted", maxsplit=1)[0]
    # Here a place, or who tested, may well be not known.
    forbidden = find_forbidden(shown.replace("not known", ""))
    checks = (_counts(shown, record), _members(shown, record), _lengths(shown))
    return [wrong for found in (forbidden, *checks) for wrong in found]


def _counts(shown: str, record: GroupRecord) -> Iterator[str]:
    """Say every count of the newest trials alike, and of which trials another count is."""
    facts = facts_of(record)
    rests = re.search(r"From (\d+) trials? of the group, with ((?:Launcher \d+(?: and )?)+)", shown)
    n = int(rests[1]) if rests else 0
    if rests and n != sum(facts[label].logged for label in re.findall(LABEL, rests[2])):
        yield f"rests on {n} trials of {rests[2]}"
    for part, whole in re.findall(r"(\d+) of (\d+) trials misfired", shown):
        if int(whole) != n or int(part) > n:
            yield f"{part} of {whole} misfired, rests on {n}"
    for few in re.findall(r"(\d+) trials? (?:are|is) too (?:few|little)", shown):
        if int(few) != n:
            yield f"{few} are too few, rests on {n}"
    for misfires, window in re.findall(r"(\d+) misfires in ([^.|]*\d+) trials", shown):
        if "the last" not in window:
            yield f"{misfires} misfires in {window} trials, of how many?"
    yield from re.findall(r"\b1 trials\b", shown)


def _members(shown: str, record: GroupRecord) -> Iterator[str]:
    """Speak of several members only where there are several, and of one that is known."""
    main = record.main_part
    newest = {trial.student_id for trial in record.usable_trials}
    several = ("whoever tests", "from one member to the next", "of all members")
    if main is not None and len(newest) == 1:
        yield from (f"one member, and yet: {words}" for words in several if words in shown)
    if "Probably" in shown and "cannot be told apart" in shown:
        yield "named, and yet not told apart"
    if newest == {None} and "One member did all" in shown:
        yield "one member, where nobody is named"


def _lengths(shown: str) -> Iterator[str]:
    for low, high in re.findall(r"from (\d+) to (\d+) mm about", shown):
        if not int(low) < int(high):
            yield f"from {low} to {high}"
    for own, others in re.findall(r"wider \((\d+) mm\) than those of the others \((\d+) mm", shown):
        if not int(own) > int(others):
            yield f"{own} wider than {others}"
