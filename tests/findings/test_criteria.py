"""Where a group stands with each criterion and the budget: reached beside asked."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from journal.domain.challenges import Criterion
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, Direction, near_is_better
from journal.domain.revisions import MaterialAmount
from journal.findings.criteria import judge_criteria, show_beside
from journal.findings.group_findings import find_for_group
from journal.portfolio.revisions import make_spread
from journal.screens.desk.side_notes import gather_side_notes
from journal.screens.tablet.journal_findings import show_finding
from journal.screens.tablet.material_lists import list_materials
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with, told_values

BANDS = list(GradeBand)


def asked(
    record: GroupRecord,
    measure: str,
    threshold: float,
    direction: Direction = MORE_IS_BETTER,
    text: str = "It flies every time.",
) -> GroupRecord:
    """Return the record with this criterion only."""
    criterion = Criterion(
        key="k", text=text, unit="points", direction=direction, threshold=threshold, measure=measure
    )
    context = record.context
    outcome = replace(context.challenge.outcome, direction=direction)
    challenge = replace(context.challenge, criteria=(criterion,), outcome=outcome)
    return replace(record, context=replace(context, challenge=challenge))


def spending(record: GroupRecord, *amounts: float) -> GroupRecord:
    """Return the record with the first material used so many times in each revision in turn."""
    key = record.context.challenge.materials[0].key
    main = record.parts[0]
    revisions = tuple(
        replace(one, materials=(MaterialAmount(material=key, amount=amount),))
        for one, amount in zip(main.revisions, amounts, strict=True)
    )
    others = tuple(
        replace(
            state, revisions=tuple(replace(revision, materials=()) for revision in state.revisions)
        )
        for state in record.parts[1:]
    )
    return replace(record, parts=(replace(main, revisions=revisions), *others))


@pytest.mark.parametrize("band", BANDS)
def test_eight_of_ten_is_not_every_time(
    store: Store, classroom: Classroom, band: GradeBand
) -> None:
    """Met at the threshold: what went and what is asked stand beside the words."""
    told = [*told_values([4.0] * 8), *(Told(misfire="stuck") for _ in range(2))]
    (state,) = judge_criteria(asked(record_with(store, classroom, told), "reliability", 8), band)
    assert state.is_met
    assert "8 of 10" in state.sentence
    assert state.sentence.endswith("went. Asked: 8 of 10 or more.")


@pytest.mark.parametrize("band", BANDS)
@pytest.mark.parametrize("measure", ["mean", "best", "reliability"])
@pytest.mark.parametrize("direction", [MORE_IS_BETTER, LESS_IS_BETTER, near_is_better(4)])
def test_both_figures_are_there_and_say_what_is_judged(
    store: Store, classroom: Classroom, band: GradeBand, measure: str, direction: Direction
) -> None:
    """What was reached and what is asked are on their side of each other, in every band."""
    for values in ([4.0] * 4, [2.0, 4, 8, 8], [0.0, 0, 1, 2], [3.9, 4, 4, 4]):
        record = asked(record_with(store, classroom, told_values(values)), measure, 4, direction)
        (state,) = judge_criteria(record, band)
        assert state.is_met is not None
        assert "Asked: " in state.sentence
        assert state.is_met == ("not" not in state.sentence)
        if measure == "reliability":
            continue
        reached = re.search(r"Reached: (.*?)\. Asked", state.sentence)
        wanted = re.search(r"Asked: ([\d.]+)", state.sentence)
        assert reached is not None
        assert wanted is not None
        words = reached[1].split()
        if wanted[1] in words and not {"just", "nearly"} & set(words):
            assert state.is_met


@pytest.mark.parametrize(
    ("value", "asked_for", "shown"),
    [
        (7.999, 8.0, "just under 8"),
        (8.001, 8.0, "just over 8"),
        (8.0, 8.0, "8"),
        (7.5, 8.0, "7.5"),
    ],
)
def test_two_figures_look_the_same_only_where_they_are(
    value: float, asked_for: float, shown: str
) -> None:
    """7.999 rounds to the 8 that it did not reach."""
    assert shown == show_beside(value, asked_for, GradeBand.SIX_TO_EIGHT)
    assert "8" != show_beside(7.9, 8.0, GradeBand.TWO)


@pytest.mark.parametrize("band", BANDS)
def test_a_mean_is_a_sum_below_grade_6(store: Store, classroom: Classroom, band: GradeBand) -> None:
    """Common Core State Standards (2010): the mean comes with 6.SP; 3 x 4 = 12, by hand."""
    record = asked(record_with(store, classroom, told_values([2.0, 4, 8])), "mean", 4)
    (state,) = judge_criteria(record, band)
    if band is GradeBand.SIX_TO_EIGHT:
        assert state.sentence.endswith("Reached: mean 4.67 points. Asked: 4 or more.")
    else:
        assert "Reached: 14 points in 3" in state.sentence
        assert state.sentence.endswith("Asked: 12 or more.")


@pytest.mark.parametrize("band", BANDS)
def test_a_broken_budget_is_said_on_tablet_page_and_sheet(
    store: Store, classroom: Classroom, band: GradeBand
) -> None:
    """Neither revision is over it alone; both together are."""
    two = [*told_values([1.0, 2], 1), *told_values([1.0, 2], 2)]
    record = in_band(record_with(store, classroom, two), band)
    challenge = record.context.challenge
    assert challenge.budget_hundredths is not None
    price = challenge.materials[0].price_hundredths
    half = challenge.budget_hundredths / price / 2

    within, over = spending(record, half, half), spending(record, half, half + 1)
    spent = (challenge.budget_hundredths + price) / 100
    said = f"Over the budget: {spent:.2f} of {challenge.budget_hundredths / 100:.2f}"

    found = find_for_group(over)
    assert show_finding(over, found).over_budget.startswith(said)
    assert gather_side_notes(over, found).criteria[-1][1].startswith(said)
    main = over.parts[0]
    bill = make_spread(over, main, main.revisions[1], found, ()).bill
    assert bill is not None
    assert (f"{spent:.2f}", "Over the budget") == (bill.so_far, bill.over)
    materials = list_materials(over.context, over.parts, {}, apart_from=(main.part.id, 99))
    assert materials.is_over

    found = find_for_group(within)
    assert "" == show_finding(within, found).over_budget
    assert "Over" not in gather_side_notes(within, found).criteria[-1][1]
    main = within.parts[0]
    bill = make_spread(within, main, main.revisions[1], found, ()).bill
    assert bill is not None
    assert "" == bill.over
