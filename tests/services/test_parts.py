"""Parts: made when first needed, lost, broken, mended, lent to another group and taken back."""

from __future__ import annotations

import pytest

from journal.domain.actors import NOBODY, OPERATOR, Actor, Role, TabletState
from journal.domain.errors import NotAllowed, NotFound, Refused, SignedOut
from journal.domain.part_states import PartCondition, PartState
from journal.domain.parts import PartEventKind
from journal.domain.revisions import RevisionEntry
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.parts import (
    borrow_part,
    borrowable_parts,
    borrowed_in_context,
    ensure_parts,
    give_back,
    parts_of_context,
    report_event,
)
from journal.services.revisions import make_revision
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.sentences import raises


def _states(store: Store, room: Classroom, group: int = 0) -> tuple[PartState, ...]:
    with open_work(store, room.tablets[group], writing=False) as work:
        return parts_of_context(work, get_group_context(work, room.group_ids[group]))


def _report(
    store: Store, room: Classroom, clock: StandingClock, number: int, kind: PartEventKind
) -> None:
    part = _states(store, room)[number].part
    with open_work(store, room.tablets[0], clock=clock) as work:
        report_event(work, room.group_ids[0], part.id, kind)


def test_shared_parts_stand_first_and_are_called_by_their_kind(
    store: Store, classroom: Classroom
) -> None:
    """A child's own part is called by the child's name."""
    names = [state.name for state in _states(store, classroom)]
    assert ["Launcher", "Ada’s dart", "Ben’s dart", "Cleo’s dart"] == names


def test_the_revisions_in_use_are_one_a_part(store: Store, classroom: Classroom) -> None:
    """What a trial can use now is the newest revision of each part."""
    used = [state.current and state.current.id for state in _states(store, classroom)]
    assert [classroom.shared_revision_ids[0], *classroom.own_revision_ids[0]] == used


def test_parts_are_there_before_anything_is_written_and_kept_once(
    store: Store, clock: StandingClock
) -> None:
    """A form can name a part that nobody has built: it is kept under the same id."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), nicknames=(("Ada", "Ben", "Cleo"),))
        work.session.connection().exec_driver_sql("DELETE FROM revisions")
        work.session.connection().exec_driver_sql("DELETE FROM parts")
    before = [state.part for state in _states(store, room)]
    assert [PartCondition.NOT_BUILT] * 4 == [one.condition for one in _states(store, room)]
    for _ in range(2):
        with open_work(store, room.tablets[0], clock=clock) as work:
            ensure_parts(work, get_group_context(work, room.group_ids[0]))
    assert before == [state.part for state in _states(store, room)]


@pytest.mark.parametrize("kind", [PartEventKind.LOST, PartEventKind.BROKEN])
def test_a_part_is_out_of_use_until_it_is_mended(
    store: Store, classroom: Classroom, clock: StandingClock, kind: PartEventKind
) -> None:
    """Lost or broken, reported twice or once; mended, it can be tested again."""
    _report(store, classroom, clock, 1, kind)
    _report(store, classroom, clock, 1, kind)
    state = _states(store, classroom)[1]
    assert kind.value == state.condition.value
    assert 1 == len(state.events)
    _report(store, classroom, clock, 1, PartEventKind.MENDED)
    assert _states(store, classroom)[1].is_usable


def test_building_it_anew_puts_a_broken_part_right(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """A revision made after it broke is whole."""
    _report(store, classroom, clock, 0, PartEventKind.BROKEN)
    state = _states(store, classroom)[0]
    assert state.current is not None
    entry = RevisionEntry(
        part_id=state.part.id, parent_id=state.current.id, reason="The rail broke."
    )
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        make_revision(work, classroom.group_ids[0], entry)
    assert _states(store, classroom)[0].is_usable


def test_a_part_in_use_needs_no_mending(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Mending what is whole is refused."""
    with raises(Refused, match="nothing to mend"):
        _report(store, classroom, clock, 0, PartEventKind.MENDED)


def test_a_dart_goes_to_another_group_and_back(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """It is with one group at a time, and its own group can take it back."""
    lender, borrower = classroom.group_ids
    dart = _states(store, classroom)[1].part
    with open_work(store, classroom.tablets[1], clock=clock) as work:
        context = get_group_context(work, borrower)
        offered = [state.name for state in borrowable_parts(work, context)]
        assert ["Launcher", "Ada’s dart", "Ben’s dart", "Cleo’s dart"] == offered
        borrow_part(work, borrower, dart.id)
        assert [dart] == [state.part for state in borrowed_in_context(work, context)]
        assert dart not in [state.part for state in borrowable_parts(work, context)]
    assert borrower == _states(store, classroom)[1].lent_to
    with open_work(store, classroom.tablets[1], clock=clock) as work:
        with raises(Refused, match="with you already"):
            borrow_part(work, borrower, dart.id)
        give_back(work, borrower, dart.id)
        assert () == borrowed_in_context(work, get_group_context(work, borrower))
        borrow_part(work, borrower, dart.id)
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        borrow_part(work, lender, dart.id)
    assert _states(store, classroom)[1].lent_to is None


def test_a_dart_that_another_group_has_is_asked_for_first(
    store: Store, clock: StandingClock
) -> None:
    """A third group cannot take it out of the second one's hands, nor is it offered there."""
    names = (("Ada", "Ben", "Cleo"), ("Dara", "Eli", "Finn"), ("Gia", "Hana", "Ivo"))
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), nicknames=names)
    dart = _states(store, room)[1].part
    second, third = room.group_ids[1:]
    with open_work(store, room.tablets[1], clock=clock) as work:
        borrow_part(work, second, dart.id)
    with open_work(store, room.tablets[2], clock=clock) as work:
        with raises(Refused, match="Another group has Ada’s dart now"):
            borrow_part(work, third, dart.id)
        assert () == borrowed_in_context(work, get_group_context(work, third))
        with pytest.raises(NotFound):
            give_back(work, third, dart.id)
    assert second == _states(store, room)[1].lent_to
    with open_work(store, room.tablets[1], clock=clock) as work:
        give_back(work, second, dart.id)
    with open_work(store, room.tablets[2], clock=clock) as work:
        borrow_part(work, third, dart.id)
    assert third == _states(store, room)[1].lent_to


def test_a_borrowed_dart_breaks_where_it_is(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """The borrower reports it; who it was is a child of the borrower's."""
    dart = _states(store, classroom)[1].part
    lender_child, child = classroom.student_ids[0][0], classroom.student_ids[1][0]
    with open_work(store, classroom.tablets[1], clock=clock) as work:
        with raises(NotFound, match="no such child"):
            borrow_part(work, classroom.group_ids[1], dart.id, lender_child)
        borrow_part(work, classroom.group_ids[1], dart.id, child)
        report_event(work, classroom.group_ids[1], dart.id, PartEventKind.BROKEN, child)
    state = _states(store, classroom)[1]
    assert PartCondition.BROKEN == state.condition
    assert [child, child] == [event.student_id for event in state.events]


def test_borrowing_is_not_reported_as_something_that_happened(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Without whose part it is, nothing is kept."""
    with raises(Refused, match="Say which group"):
        _report(store, classroom, clock, 1, PartEventKind.BORROWED)
    assert () == tuple(_states(store, classroom)[1].events)


def test_what_is_not_built_yet_cannot_break(store: Store, clock: StandingClock) -> None:
    """A sentence names the part."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), nicknames=(("Ada", "Ben", "Cleo"),))
        work.session.connection().exec_driver_sql("DELETE FROM revisions")
    with raises(Refused, match="Launcher is not built yet"):
        _report(store, room, clock, 0, PartEventKind.BROKEN)


def test_a_broken_dart_is_not_lent(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Only what can be used is borrowed."""
    _report(store, classroom, clock, 1, PartEventKind.BROKEN)
    dart = _states(store, classroom)[1].part
    with (
        open_work(store, classroom.tablets[1], clock=clock) as work,
        raises(Refused, match="cannot be used now"),
    ):
        borrow_part(work, classroom.group_ids[1], dart.id)


def test_a_part_of_another_class_is_not_found(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Borrowing stays within the class."""
    with open_work(store, OPERATOR, clock=clock) as work:
        other = make_classroom(work.session, clock())
    dart = _states(store, other)[1].part
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        with pytest.raises(NotFound):
            borrow_part(work, classroom.group_ids[0], dart.id)
        with pytest.raises(NotFound):
            report_event(work, classroom.group_ids[0], dart.id, PartEventKind.LOST)


def test_each_event_is_news_for_the_overview(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """The class's version counts it."""
    with open_work(store, classroom.teacher, writing=False) as work:
        before = classes.find_version(work.session, classroom.class_id)
    _report(store, classroom, clock, 1, PartEventKind.LOST)
    with open_work(store, classroom.teacher, writing=False) as work:
        after = classes.find_version(work.session, classroom.class_id)
    assert before is not None
    assert before + 1 == after


@pytest.mark.parametrize(
    ("who", "error"), [("nobody", SignedOut), ("other", NotFound), ("waiting", NotAllowed)]
)
def test_only_the_group_and_its_teacher_report(
    store: Store, classroom: Classroom, who: str, error: type[Exception]
) -> None:
    """Nobody, another group's tablet and one that waits at the door are refused."""
    actors = {
        "nobody": NOBODY,
        "other": classroom.tablets[1],
        "waiting": Actor(
            role=Role.TABLET,
            group_id=classroom.group_ids[0],
            tablet_state=TabletState.WAITING,
        ),
    }
    part = _states(store, classroom)[0].part
    for verb in (
        lambda work: report_event(work, classroom.group_ids[0], part.id, PartEventKind.LOST),
        lambda work: borrow_part(work, classroom.group_ids[0], part.id),
        lambda work: give_back(work, classroom.group_ids[0], part.id),
    ):
        with open_work(store, actors[who]) as work, pytest.raises(error):
            verb(work)
