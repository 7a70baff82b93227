"""Which group needs the teacher next, and why: the pulse of each group in, an ordered list out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

#: The window in which misfires are counted, and from how many of them on they need a visit:
#: more than a third (common practice, no source).
MISFIRE_WINDOW = 9
MISFIRES_TOLERATED = 3
#: A group that tests and logs nothing for so long may have a reason that it does not log.
SILENCE = timedelta(minutes=8)
#: How long the shown order stands still, so that it does not jump under a finger.
HOLD = timedelta(seconds=20)
#: How long a group that was put off comes after the others.
LATER = timedelta(minutes=10)


class NeedKind(StrEnum):
    """A reason for a visit; the order here is the order in which they come."""

    NEAR_MISS = "near_miss"
    #: Something was launched, or loaded, while the lane was closed.
    LANE_CLOSED = "lane_closed"
    ASKED = "asked"
    STALLED = "stalled"
    MISFIRES = "misfires"
    SILENT = "silent"
    UNVISITED = "unvisited"


_RANK = {kind: rank for rank, kind in enumerate(NeedKind)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulse:
    """What matters about one group right now."""

    group_id: UUID
    session_started_at: datetime
    last_visit_at: datetime | None = None
    near_miss_at: datetime | None = None
    #: Trials made while the lane was closed that came in since the last visit, and the newest.
    lane_closed: int = 0
    lane_closed_at: datetime | None = None
    #: Since when the ladder calls the teacher: the last rung, with the youngest the first.
    asked_at: datetime | None = None
    #: When the open rung was opened, and trials without a better result.
    stalled_at: datetime | None = None
    stalled_trials: int = 0
    #: Of the last nine trials, and when the newest of them was.
    misfires: int = 0
    misfired_at: datetime | None = None
    is_testing: bool = False
    last_entry_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """Why a group needs the teacher: the kind, a count where there is one, and for how long."""

    group_id: UUID
    kind: NeedKind
    minutes: int
    n: int = 0


def find_need(pulse: Pulse, now: datetime) -> Need:
    """Return the first reason of the order that holds; the last one always does.

    What arose before the last visit has been seen, so it is no reason any more.
    """
    seen = pulse.last_visit_at or datetime.min.replace(tzinfo=now.tzinfo)
    reasons: list[tuple[NeedKind, datetime | None, int]] = [
        (NeedKind.NEAR_MISS, pulse.near_miss_at, 0),
        (NeedKind.LANE_CLOSED, pulse.lane_closed_at, pulse.lane_closed),
        (NeedKind.ASKED, pulse.asked_at, 0),
        (NeedKind.STALLED, pulse.stalled_at, pulse.stalled_trials),
    ]
    if pulse.misfires > MISFIRES_TOLERATED:
        reasons.append((NeedKind.MISFIRES, pulse.misfired_at, pulse.misfires))
    for kind, since, n in reasons:
        if since is not None and since > seen:
            return Need(group_id=pulse.group_id, kind=kind, minutes=_minutes(since, now), n=n)
    heard = max(pulse.last_entry_at or pulse.session_started_at, seen)
    if pulse.is_testing and now - heard >= SILENCE:
        return Need(group_id=pulse.group_id, kind=NeedKind.SILENT, minutes=_minutes(heard, now))
    since = max(seen, pulse.session_started_at)
    return Need(group_id=pulse.group_id, kind=NeedKind.UNVISITED, minutes=_minutes(since, now))


def order_needs(needs: Iterable[Need]) -> tuple[Need, ...]:
    """Return the needs in order: by kind, then the longer ones first."""
    return tuple(sorted(needs, key=lambda need: (_RANK[need.kind], -need.minutes)))


def hold_order(
    fresh: Sequence[Need], shown: Sequence[UUID], shown_since: datetime | None, now: datetime
) -> tuple[tuple[Need, ...], datetime]:
    """Return the needs in the order to show, and since when that order stands.

    The order that a screen shows stands for 20 s, but for a near-miss and for a group that was
    visited meanwhile: its place is given up at once.
    """
    if shown_since is None or now - shown_since >= HOLD:
        same = tuple(need.group_id for need in fresh) == tuple(shown)
        return tuple(fresh), shown_since if same and shown_since is not None else now
    place = {group_id: index for index, group_id in enumerate(shown)}
    held = sorted(fresh, key=lambda need: _held_key(need, place, len(shown)))
    return tuple(held), shown_since


def put_off(
    needs: Sequence[Need], put_off_at: Mapping[UUID, datetime], now: datetime
) -> tuple[Need, ...]:
    """Return the needs with those that were put off at the end, but for a near-miss."""
    return tuple(
        sorted(
            needs,
            key=lambda need: (
                need.kind is not NeedKind.NEAR_MISS
                and is_put_off(put_off_at.get(need.group_id), now)
            ),
        )
    )


def is_put_off(at: datetime | None, now: datetime) -> bool:
    """Tell whether a group that was put off at a moment still waits."""
    return at is not None and abs(now - at) < LATER


def _held_key(need: Need, place: dict[UUID, int], end: int) -> tuple[int, int]:
    if need.kind is NeedKind.NEAR_MISS:
        return (0, place.get(need.group_id, end))
    just_seen = need.kind is NeedKind.UNVISITED and need.minutes == 0
    return (2 if just_seen else 1, place.get(need.group_id, end))


def _minutes(since: datetime, now: datetime) -> int:
    return max(0, int((now - since).total_seconds() // 60))
