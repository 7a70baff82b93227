"""How it was handled: what differs within child and device, what does not, what cannot be said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.findings.group_findings import find_for_group
from journal.findings.handling import HandlingWords
from journal.portfolio.outcomes import describe_outcome
from journal.screens.tablet.journal_findings import show_finding
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with

FULL, HALF = {"pull": "full"}, {"pull": "half"}
#: In turn: A B B A A B for the first child, B A A B B A for the second.
TURNS = ((FULL, HALF, HALF, FULL, FULL, HALF), (HALF, FULL, FULL, HALF, HALF, FULL))


def told_ways(
    handling: dict[str, str], values: list[float], student: int = 0, revision: int = 1
) -> list[Told]:
    """Return trials of one child with one revision, all done the same way."""
    return [
        Told(value=value, student=student, revision=revision, handling=handling) for value in values
    ]


def in_turn() -> list[Told]:
    """Return two children who score 8 with full pull and 2 with half pull, in turn."""
    return [
        Told(value=8.0 if way is FULL else 2.0, student=student, handling=way)
        for student, ways in enumerate(TURNS)
        for way in ways
    ]


def words_of(record: GroupRecord, band: GradeBand | None = None) -> HandlingWords:
    """Return what is said of the handling."""
    return find_for_group(record, band).handling


def test_a_clear_difference_is_told_with_counts_interval_and_p(
    store: Store, classroom: Classroom
) -> None:
    """Each child's C(6,3) = 20 ways have one as far out on each side: p = 2 / 400, by hand."""
    words = words_of(record_with(store, classroom, in_turn()))
    (line,) = words.lines
    assert (
        "Pull: half did worse than full by the same 2 children with the same device: "
        "6 points lower on average (6 and 6 trials)."
    ) == line.sentence
    # At 6 and 6 trials the level is .0097 of .05.
    assert "Exact p = 0.005; 0.026 when the looks so far are counted." in line.figures
    assert not any("practice" in figure for figure in line.figures)
    (rests_on,) = words.notes
    assert "went along with the use, not with the device" in rests_on
    assert "Handled one way, the same device did better than the other way." == words.sentence


def test_one_way_after_the_other_leaves_practice_open(store: Store, classroom: Classroom) -> None:
    """2 of the 924 ways to deal 6 and 6 are as far out, by hand; turns were not kept."""
    told = [*told_ways(HALF, [1, 2, 1, 2, 1, 2]), *told_ways(FULL, [8, 4, 8, 8, 6, 8])]
    words = words_of(record_with(store, classroom, told))
    (line,) = words.lines
    assert line.sentence.startswith("Pull: full did better than half by one and the same child")
    # Means 7 and 1.5.
    assert ": 5.5 points higher on average (6 and 6 trials)." in line.sentence
    assert "Exact p = 0.002; 0.011 when the looks so far are counted." in line.figures
    assert any("practice can explain it" in figure for figure in line.figures)
    assert any(figure.endswith("points higher (95 % interval).") for figure in line.figures)
    assert "Handled one way, the same device did better. Practice can explain it." == words.sentence


def test_no_difference_is_said_as_none_seen(store: Store, classroom: Classroom) -> None:
    """Equal values: nothing for the group, and no interval of a difference that is none."""
    told = [*told_ways(HALF, [1, 2, 4, 8, 2, 4]), *told_ways(FULL, [2, 4, 1, 2, 4, 8])]
    words = words_of(record_with(store, classroom, told))
    (line,) = words.lines
    assert line.sentence.startswith("Pull: these trials cannot tell full and half apart")
    assert not any("interval" in figure for figure in line.figures)
    assert "" == words.sentence


def test_a_p_that_cannot_be_small_is_a_hint_and_says_so(store: Store, classroom: Classroom) -> None:
    """Mostly equal: 6 of the 7 ways to deal the only other value leave 0.5 at the smallest."""
    told = [*told_ways(HALF, [1] * 6), *told_ways(FULL, [1] * 5 + [8])]
    words = words_of(record_with(store, classroom, told))
    (line,) = words.lines
    assert "a hint, no more, that full does better than half" in line.sentence
    assert "The smallest p these trials could have reached is 1.000." in line.figures
    assert "" == words.sentence


def test_a_small_p_waits_for_six_trials_a_side(store: Store, classroom: Classroom) -> None:
    """1 of C(23,3) = 1771 ways: it could be told, but not at each trial anew."""
    told = [*told_ways(HALF, [1] * 20), *told_ways(FULL, [8, 4, 8])]
    (line,) = words_of(record_with(store, classroom, told)).lines
    assert "a hint, no more, that full does better than half" in line.sentence
    assert (
        "Exact p = below 0.001, not judged yet: the first look is at 6 trials a side by children "
        "who did both."
    ) in line.figures


def test_two_trials_a_side_are_too_early(store: Store, classroom: Classroom) -> None:
    """They are named, and nothing is tested."""
    told = [*told_ways(HALF, [1, 2]), *told_ways(FULL, [8, 4])]
    words = words_of(record_with(store, classroom, told))
    assert () == words.lines
    (note,) = words.notes
    assert note.startswith("Too early to tell, with fewer than 3 trials a side")
    assert note.endswith("Pull, half and full.")


@pytest.mark.parametrize(("student", "revision"), [(1, 1), (0, 2)])
def test_ways_that_no_child_used_with_one_device_cannot_be_compared(
    store: Store, classroom: Classroom, student: int, revision: int
) -> None:
    """Another child, or another revision, could have done it: what would help is described."""
    told = [*told_ways(HALF, [1, 2, 1, 2]), *told_ways(FULL, [8, 8, 8, 8], student, revision)]
    words = words_of(record_with(store, classroom, told))
    assert ((), "") == (words.lines, words.sentence)
    (note,) = words.notes
    assert (
        "Cannot be compared, because no child used both with the same device and all else alike: "
        "Pull, half and full. Two children who test one revision both ways would make it possible."
    ) == note


def test_many_pairs_are_counted_and_not_all_named(store: Store, classroom: Classroom) -> None:
    """Five tilts by five revisions make 10 pairs; four are named."""
    told = [
        one
        for mark in range(1, 6)
        for one in told_ways({"tilt": f"mark {mark}"}, [1.0, 2.0], revision=mark)
    ]
    (note,) = words_of(record_with(store, classroom, told)).notes
    assert "Tilt, mark 1 and mark 5; and 6 more pairs." in note


def test_one_way_and_no_record_say_so_or_nothing(store: Store, classroom: Classroom) -> None:
    """Nothing is made up where nothing differs."""
    same = words_of(record_with(store, classroom, told_ways(FULL, [1, 2, 4, 8])))
    assert ("As far as it was recorded, every trial was handled the same way.",) == same.notes
    unknown = words_of(record_with(store, classroom, told_ways({}, [1, 2, 4, 8])))
    assert ((), ()) == (unknown.lines, unknown.notes)


def test_several_shown_together_are_adjusted(store: Store, classroom: Classroom) -> None:
    """Three tilts: 2 of 924 ways at best, and a third of the level for the first of them."""
    told = [
        *told_ways({"tilt": "mark 1"}, [1, 2, 1, 2, 1, 2]),
        *told_ways({"tilt": "mark 2"}, [8, 8, 4, 8, 6, 8]),
        *told_ways({"tilt": "mark 3"}, [1, 1, 2, 1, 2, 1]),
    ]
    words = words_of(record_with(store, classroom, told))
    assert 3 == len(words.lines)
    assert 2 == sum(contrast.comparison.verdict.clear for contrast in words.found.contrasts)
    together = "when the looks so far and the 3 comparisons shown together are counted."
    assert f"Exact p = 0.002; 0.033 {together}" in words.lines[0].figures


@pytest.mark.parametrize("band", list(GradeBand))
def test_the_group_is_told_calmly_in_its_band(
    store: Store, classroom: Classroom, band: GradeBand
) -> None:
    """One sentence without a name, a way or a direction to take."""
    record = in_band(record_with(store, classroom, in_turn()), band)
    findings = find_for_group(record)
    more = show_finding(record, findings).more
    assert 1 == more.count(findings.handling.sentence)
    said = findings.handling.sentence.casefold()
    assert not {"full", "half", "pull", "ada", "ben"} & set(said.replace(".", "").split())
    level = [replace(one, value=4.0) for one in in_turn()]
    quiet = in_band(record_with(store, classroom, level), band)
    assert "" not in show_finding(quiet, find_for_group(quiet)).more


def test_the_portfolio_tells_it_where_a_revision_was_used_both_ways(
    store: Store, classroom: Classroom
) -> None:
    """Revision 2 was only ever used one way."""
    told = [*in_turn(), *told_ways(FULL, [8, 8, 4, 8], revision=2)]
    record = record_with(store, classroom, told)
    findings, state = find_for_group(record), record.parts[0]
    first, second = (
        describe_outcome(record, state, revision, None, findings)
        for revision in state.revisions[:2]
    )
    assert first is not None
    assert second is not None
    assert findings.handling.sentence in first.numbers
    assert findings.handling.sentence not in second.numbers
