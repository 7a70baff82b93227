"""When running data are looked at."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from journal.analysis.looks import LIVE_STEPS, adjust, find_looks
from journal.analysis.verdicts import holm
from tests.analysis.trial_records import trials

P_VALUES = st.lists(st.floats(0.0001, 1), max_size=6)


def test_a_look_comes_when_the_comparison_reaches_a_size() -> None:
    """30 old trials, new ones one by one: no look before six, and each with all old ones."""
    old, new = trials("A", [1.0] * 30), trials("B", [2.0] * 11, start=31)
    assert () == find_looks(old, new[:5], LIVE_STEPS)
    looks = find_looks(old, new, LIVE_STEPS)
    assert [(8, 36), (12, 38), (16, 41)] == [(look.step, look.order) for look in looks]
    # 2 * 30 * 6 / 36 = 10 of 48, then 2 * 30 * 8 / 38 = 12.63, and 2 * 30 * 11 / 41 = 16.10.
    assert [0.2083, 0.2632, 0.3354] == [round(look.fraction, 4) for look in looks]


def test_trials_of_who_used_one_alone_bring_no_look_nearer() -> None:
    """Only students who had used both are compared, and only their trials count."""
    old = [*trials("A", [1.0] * 6, student="1"), *trials("A", [1.0] * 9, start=7, student="2")]
    new = trials("B", [2.0] * 6, start=16, student="1")
    assert [(6, 21)] == [(look.step, look.order) for look in find_looks(old, new, LIVE_STEPS)]
    more = [*new, *trials("B", [2.0] * 2, start=22, student="2")]
    # The second student's nine old trials are compared from trial 22 on.
    assert [(6, 21), (8, 22)] == [
        (look.step, look.order) for look in find_looks(old, more, LIVE_STEPS)
    ]
    strangers = trials("B", [2.0] * 20, start=16, student="3")
    assert () == find_looks(old, strangers, LIVE_STEPS)


def test_a_group_that_goes_on_with_its_new_revision_is_looked_at_again() -> None:
    """The old side stays at eight: the new one is looked at with 8 trials, and with 24."""
    old, new = trials("A", [1.0] * 8), trials("B", [2.0] * 40, start=9)
    looks = find_looks(old, new, LIVE_STEPS)
    assert [(6, 14), (8, 16), (12, 32)] == [(look.step, look.order) for look in looks]


def test_misfires_are_no_trials_with_a_value_but_can_be_counted() -> None:
    """By default six values a side; with another count, six trials."""
    old, new = trials("A", [1.0] * 6), trials("B", [None, 1.0] * 3, start=7)
    assert () == find_looks(old, new, LIVE_STEPS)
    assert 1 == len(find_looks(old, new, LIVE_STEPS, lambda _: True))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6))
def test_relabelling_students_moves_no_look(seed: int) -> None:
    """Names decide nothing, only who used both."""
    draw = Random(seed)
    names, others = "abcd", "wzxy"
    old = [
        record
        for order in range(1, 25, 2)
        for record in trials("A", [1.0], start=order, student=draw.choice(names))
    ]
    new = [
        record
        for order in range(2, 25, 2)
        for record in trials("B", [1.0], start=order, student=draw.choice(names))
    ]
    renamed = dict(zip(names, others, strict=True))
    looks = find_looks(old, new, LIVE_STEPS)
    assert looks == find_looks(
        [
            other
            for record in old
            for other in trials("A", [1.0], start=record.order, student=renamed[record.student])
        ],
        [
            other
            for record in new
            for other in trials("B", [1.0], start=record.order, student=renamed[record.student])
        ],
        LIVE_STEPS,
    )
    assert all(look.fraction <= 0.25 for look in looks)


@settings(max_examples=60, deadline=None)
@given(P_VALUES)
def test_finished_data_are_adjusted_by_holm_alone(p_values: list[float]) -> None:
    """One look at all of it costs nothing more."""
    adjusted = adjust(p_values, [()] * len(p_values))
    assert [round(value, 12) for value in holm(p_values)] == [
        round(value, 12) for value in adjusted
    ]


@settings(max_examples=60, deadline=None)
@given(P_VALUES.filter(bool))
def test_looks_and_more_comparisons_only_ever_cost(p_values: list[float]) -> None:
    """No adjusted p-value is below the p-value; one that waits counts and is never clear."""
    course = (0.125, 0.17, 0.25)
    with_looks = adjust(p_values, [course] * len(p_values))
    assert all(a >= p for a, p in zip(with_looks, p_values, strict=True))
    waiting = adjust([*p_values, 0.0001], [*([course] * len(p_values)), None])
    assert 1.0 == waiting[-1]
    assert all(a >= b for a, b in zip(waiting, with_looks, strict=False))
