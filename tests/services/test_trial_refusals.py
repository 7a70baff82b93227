"""What the state of things forbids a trial: session, gate, parts, attempts."""

from __future__ import annotations

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import GateShut, Invalid, Refused
from journal.domain.parts import PartEvent, PartEventKind
from journal.domain.sessions import LAUNCHING_CHECKS, LOADING_CHECKS
from journal.domain.trials import Place, TrialKind
from journal.records.work import open_work
from journal.services.sessions import open_gate
from journal.store import parts, revisions, sessions, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.sentences import raises, sentences_of
from tests.services.trial_entries import bridge_entry, entry_of, log


def test_logging_waits_for_a_session(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Without a session there is nothing to log into."""
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
    clock.move(minutes=1)

    with raises(Refused, match="has not started a session"):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))


def test_late_entry_belongs_to_the_session_in_which_it_was_made(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An entry that waited for the network is taken after the lesson."""
    entry = entry_of(classroom, clock)
    clock.move(minutes=5)
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
    clock.move(hours=2)

    trial = log(store, clock, classroom.tablets[0], entry)

    assert classroom.session_id == trial.session_id
    assert trial.received_at - trial.logged_at > timedelta(hours=2)


def test_launching_waits_for_the_gate(store: Store, clock: StandingClock) -> None:
    """Before the teacher's checklist the entry is refused with the waiting line."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), gate_open=False)

    with raises(GateShut, match="checks the lane"):
        log(store, clock, room.tablets[0], entry_of(room, clock))


def test_loading_a_bridge_until_it_breaks_waits_for_a_gate_of_its_own(
    store: Store, clock: StandingClock
) -> None:
    """Nothing is launched, but a load falls: heads, feet and hands clear, and what it falls on."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), challenge_key="paper_bridge", gate_open=False)

    with raises(GateShut, match="checks the load"):
        log(store, clock, room.tablets[0], bridge_entry(room, clock))
    with open_work(store, room.teacher, clock=clock) as work:
        with raises(Invalid, match="until each line"):
            open_gate(work, room.session_id, [check.value for check in LAUNCHING_CHECKS])
        open_gate(work, room.session_id, [check.value for check in LOADING_CHECKS])

    assert log(store, clock, room.tablets[0], bridge_entry(room, clock)).value == 340.0


def test_revision_set_aside_is_refused(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What the group put away is taken up again first."""
    with open_work(store, OPERATOR, clock=clock) as work:
        revisions.set_aside(work.session, classroom.shared_revision_ids[0], clock())

    with raises(Refused, match="Launcher 1 was set aside"):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))


def own_part(store: Store, room: Classroom, group: int, student: int) -> UUID:
    """Return the id of a student's own part."""
    with open_work(store, OPERATOR, writing=False) as work:
        revision = revisions.get_revision(work.session, room.own_revision_ids[group][student])
    return revision.part_id


def happen(
    store: Store,
    clock: StandingClock,
    room: Classroom,
    part_id: UUID,
    kind: PartEventKind,
    borrower: UUID | None = None,
) -> None:
    """Let something happen to a part."""
    event = PartEvent(
        id=uuid4(), part_id=part_id, kind=kind, at=clock(), borrower_group_id=borrower
    )
    with open_work(store, OPERATOR, clock=clock) as work:
        parts.add_event(work.session, room.school_id, event)


@pytest.mark.parametrize(
    ("kind", "words"),
    [(PartEventKind.LOST, "Ada’s dart is lost"), (PartEventKind.BROKEN, "Ada’s dart is broken")],
)
def test_lost_or_broken_part_is_refused_until_mended(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    kind: PartEventKind,
    words: str,
) -> None:
    """What is gone cannot be used, what is back can."""
    part_id = own_part(store, classroom, 0, 0)
    happen(store, clock, classroom, part_id, kind)

    with raises(Refused, match=words):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    happen(store, clock, classroom, part_id, PartEventKind.MENDED)
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))


def test_group_mates_part_is_borrowed_by_naming_it(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Another child's dart of the same group is used without ceremony."""
    entry = entry_of(classroom, clock, revision_ids=classroom.revisions_for(0, 1))

    trial = log(store, clock, classroom.tablets[0], entry)

    assert classroom.student_ids[0][0] == trial.student_id


def test_another_groups_part_is_refused_unless_borrowed(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Only a part that was lent to the group counts as its own for the while."""
    foreign = (classroom.shared_revision_ids[0], classroom.own_revision_ids[1][2])

    with raises(Invalid, match="This dart is another group’s"):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, revision_ids=foreign))

    part_id = own_part(store, classroom, 1, 2)
    happen(
        store, clock, classroom, part_id, PartEventKind.BORROWED, borrower=classroom.group_ids[0]
    )
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock, revision_ids=foreign))


@pytest.mark.parametrize("which", ["missing", "twice", "unknown", "none"])
def test_each_part_is_named_once(
    store: Store, clock: StandingClock, classroom: Classroom, which: str
) -> None:
    """A trial uses one revision of each part of the challenge, no fewer and no more."""
    launcher, dart = classroom.revisions_for(0, 0)
    sent = {
        "missing": (launcher,),
        "twice": (launcher, dart, classroom.own_revision_ids[0][1]),
        "unknown": (launcher, dart, uuid4()),
        "none": (),
    }[which]

    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, revision_ids=sent))

    assert {"revision_ids"} == set(caught.value.by_field())


def test_counted_attempts_end_with_the_rule_and_a_misfire_takes_none(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Three counted attempts a member; a misfire is repeated."""
    misfire = entry_of(
        classroom, clock, kind=TrialKind.COUNTED, x_mm=None, y_mm=None, misfire="stuck"
    )
    log(store, clock, classroom.tablets[0], misfire)
    for _ in range(classroom.challenge.counting.attempts):
        log(
            store, clock, classroom.tablets[0],
            entry_of(classroom, clock, kind=TrialKind.COUNTED),
        )  # fmt: skip

    with raises(Refused, match="All 3 counted attempts are done"):
        log(
            store, clock, classroom.tablets[0],
            entry_of(classroom, clock, kind=TrialKind.COUNTED),
        )  # fmt: skip

    other = entry_of(
        classroom,
        clock,
        kind=TrialKind.COUNTED,
        student_id=classroom.student_ids[0][1],
        revision_ids=classroom.revisions_for(0, 1),
    )
    assert log(store, clock, classroom.tablets[0], other).kind is TrialKind.COUNTED


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"x_mm": 481.0}, "place", "off the wall"),
        ({"x_mm": None}, "place", "across and up"),
        ({"x_mm": None, "y_mm": None}, "place", "Say where it ended"),
        ({"place": Place.WALL}, "place", "Tap again"),
        ({"zone": "bark"}, "place", "another zone"),
        ({"value": 8.0}, "value", "worked out"),
        ({"amount": -1.0}, "amount", "less than 0"),
        ({"amount": float("inf")}, "amount", "no number"),
        ({"misfire": "stuck"}, "misfire", "no place"),
        ({"misfire": "hexed", "x_mm": None, "y_mm": None}, "misfire", "listed causes"),
        ({"handling": {"pull": "twice"}}, "handling.pull", "full, half"),
        ({"handling": {"wind": "none"}}, "handling", "no such choice"),
        ({"student_id": None}, "student_id", "tap a name"),
        ({"student_id": uuid4()}, "student_id", "not in this group"),
        ({"scribe_id": uuid4()}, "scribe_id", "must be in this group"),
        (
            {"x_mm": None, "y_mm": None, "place": Place.PANEL, "zone": "moon"},
            "place",
            "no such zone",
        ),
    ],
)
def test_wrong_entry_is_named_by_field(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    changes: dict[str, Any],
    field: str,
    words: str,
) -> None:
    """Each wrong thing is told beside its field, and nothing is kept."""
    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, **changes))

    assert words in " ".join(sentences_of(caught.value)[field])
    with open_work(store, OPERATOR, writing=False) as work:
        assert trials.find_last_trial(work.session, classroom.group_ids[0]) is None


def test_several_wrong_things_are_told_at_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Nobody mends one field only to learn of the next."""
    entry = entry_of(classroom, clock, amount=-2.0, student_id=None, x_mm=9999.0)

    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[0], entry)

    assert {"student_id", "amount", "place"} == set(caught.value.by_field())
