"""Who needs a visit next: the order of reasons, and how long a shown order stands."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid4

import pytest

from journal.domain.needs import NeedKind, Pulse, find_need, hold_order, order_needs, put_off

NOW = datetime(2030, 3, 4, 10, 0, tzinfo=UTC)


def ago(minutes: float) -> datetime:
    """Return a moment before now."""
    return NOW - timedelta(minutes=minutes)


def make_pulse(group_id: UUID | None = None, **given: object) -> Pulse:
    """Return the pulse of a group that gives no reason but the time since the last visit."""
    plain = Pulse(
        group_id=group_id or uuid4(),
        session_started_at=ago(40),
        last_visit_at=ago(30),
        last_entry_at=ago(1),
    )
    return replace(plain, **given)  # type: ignore[arg-type]


EVERY_REASON = {
    "near_miss_at": ago(2),
    "asked_at": ago(3),
    "stalled_at": ago(4),
    "stalled_trials": 8,
    "misfires": 4,
    "misfired_at": ago(1),
    "is_testing": True,
    "last_entry_at": ago(9),
}


@pytest.mark.parametrize(
    ("gone", "kind"),
    [
        ((), NeedKind.NEAR_MISS),
        (("near_miss_at",), NeedKind.ASKED),
        (("near_miss_at", "asked_at"), NeedKind.STALLED),
        (("near_miss_at", "asked_at", "stalled_at"), NeedKind.MISFIRES),
        (("near_miss_at", "asked_at", "stalled_at", "misfires"), NeedKind.SILENT),
        (("near_miss_at", "asked_at", "stalled_at", "misfires", "is_testing"), NeedKind.UNVISITED),
    ],
)
def test_the_first_reason_of_the_order_is_told(gone: tuple[str, ...], kind: NeedKind) -> None:
    """With one reason gone the next one stands."""
    given = {key: value for key, value in EVERY_REASON.items() if key not in gone}
    assert kind is find_need(make_pulse(**given), NOW).kind


def test_a_third_of_the_last_nine_is_not_yet_above_a_third() -> None:
    """Three misfires of nine are borne, four are not."""
    kinds = [find_need(make_pulse(misfires=n, misfired_at=ago(1)), NOW).kind for n in (3, 4)]
    assert [NeedKind.UNVISITED, NeedKind.MISFIRES] == kinds


def test_silence_begins_after_eight_minutes_of_testing() -> None:
    """Just below eight minutes the group is left alone."""
    kinds = [
        find_need(make_pulse(is_testing=True, last_entry_at=ago(minutes)), NOW).kind
        for minutes in (7.9, 8)
    ]
    assert [NeedKind.UNVISITED, NeedKind.SILENT] == kinds


def test_a_visit_answers_what_arose_before_it() -> None:
    """Every reason older than the visit is gone; minutes count from the visit."""
    need = find_need(make_pulse(**EVERY_REASON, last_visit_at=ago(0.5)), NOW)
    assert (NeedKind.UNVISITED, 0) == (need.kind, need.minutes)


def test_ties_go_by_minutes() -> None:
    """Of two groups with the same reason the one that waits longer comes first."""
    short, long = make_pulse(asked_at=ago(3)), make_pulse(asked_at=ago(7))
    ordered = order_needs(find_need(pulse, NOW) for pulse in (short, long))
    assert [long.group_id, short.group_id] == [need.group_id for need in ordered]


def test_a_shown_order_stands_for_twenty_seconds() -> None:
    """A new stall waits below until the 20 s are over, then it moves up."""
    first, second = uuid4(), uuid4()
    fresh = order_needs(
        find_need(pulse, NOW)
        for pulse in (make_pulse(first), make_pulse(second, stalled_at=ago(0)))
    )
    since = NOW - timedelta(seconds=19)
    held, held_since = hold_order(fresh, (first, second), since, NOW)
    assert [first, second] == [need.group_id for need in held]
    assert since == held_since
    moved, moved_since = hold_order(fresh, (first, second), since, NOW + timedelta(seconds=1))
    assert [second, first] == [need.group_id for need in moved]
    assert NOW + timedelta(seconds=1) == moved_since


def test_a_near_miss_and_a_visit_break_the_hold() -> None:
    """A near-miss jumps up at once; a group that was just visited gives its place up."""
    first, second, third = uuid4(), uuid4(), uuid4()
    fresh = order_needs(
        find_need(pulse, NOW)
        for pulse in (
            make_pulse(first, last_visit_at=ago(0)),
            make_pulse(second),
            make_pulse(third, near_miss_at=ago(0)),
        )
    )
    held, _ = hold_order(fresh, (first, second, third), NOW - timedelta(seconds=2), NOW)
    assert [third, second, first] == [need.group_id for need in held]


def test_what_was_put_off_comes_last_for_ten_minutes() -> None:
    """The others keep their order; a near-miss waits for nobody, nor does a clock set ahead."""
    first, second, third = (make_pulse(uuid4()) for _ in range(3))
    needs = [find_need(pulse, NOW) for pulse in (first, second, third)]
    ids = [need.group_id for need in needs]
    for at, order in (
        (ago(9.9), (1, 2, 0)),
        (ago(10), (0, 1, 2)),
        (ago(-60 * 24), (0, 1, 2)),
    ):
        shown = put_off(needs, {ids[0]: at}, NOW)
        assert [ids[place] for place in order] == [need.group_id for need in shown]
    missed = [replace(needs[0], kind=NeedKind.NEAR_MISS), *needs[1:]]
    assert ids == [need.group_id for need in put_off(missed, {ids[0]: NOW}, NOW)]
