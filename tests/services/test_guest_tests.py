"""Guest tests: who may launch, whose turn it is, and that nothing of it ever counts."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest

from journal.domain.actors import OPERATOR, Actor
from journal.domain.diagnoses import Reading
from journal.domain.errors import GateShut, Invalid, NotFound, Refused
from journal.domain.group_records import GroupRecord
from journal.domain.guest_tests import GuestKind, GuestTest, GuestTestEntry, GuestTrialEntry
from journal.domain.trials import TrialEntry, TrialKind, TrialState
from journal.findings.diagnoses import diagnose_group
from journal.findings.group_findings import find_for_group
from journal.findings.stalls import find_stall_of
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.desk.counted import prepare_counted
from journal.screens.tablet.guest_tests import GuestTestsPage, prepare_guest_tests
from journal.services.guest_tests import (
    answer_guest_test,
    end_guest_test,
    invite,
    log_guest_trial,
    propose_guests,
    strike_guest_trial,
)
from journal.services.trials import log_trial
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.factories.stories import Story

LOW = (0.0, -210.0)
ABOUT = ((0, 0), (30, 20), (-25, 10), (15, -30), (-20, -15), (25, 5), (-10, 25), (5, -20))


@pytest.fixture
def story(store: Store, clock: StandingClock, classroom: Classroom) -> Story:
    """Return a group at work."""
    return Story(store, clock, classroom)


def _record(story: Story, group: int = 0) -> GroupRecord:
    with open_work(story.store, story.room.teacher, writing=False) as work:
        return gather_group(work, get_group_context(work, story.room.group_ids[group]))


def _invite(story: Story, *students: UUID, actor: Actor | None = None) -> GuestTest:
    entry = GuestTestEntry(kind=GuestKind.GUESTS, student_ids=students)
    return story.do(invite, story.group_id, entry, actor=actor)


def _answer(story: Story, guest_test: GuestTest, *, agreed: bool) -> None:
    with open_work(story.store, story.room.tablets[1], clock=story.clock) as work:
        answer_guest_test(work, story.room.group_ids[1], guest_test.id, agreed=agreed)


def _launch(story: Story, guest_test: GuestTest, x_mm: float, y_mm: float, **told: object) -> None:
    entry = GuestTrialEntry(logged_at=story.clock(), x_mm=x_mm, y_mm=y_mm, **told)  # type: ignore[arg-type]
    story.do(log_guest_trial, story.group_id, guest_test.id, uuid4(), entry)


def _all_low(story: Story, rounds: int = 6) -> None:
    for turn in range(rounds):
        for student in range(3):
            dx, dy = ABOUT[(turn + 3 * student) % len(ABOUT)]
            story.launch(story.room.shared_revision_ids[0], student,
                         x_mm=LOW[0] + dx, y_mm=LOW[1] + dy)  # fmt: skip


def _page(story: Story, actor: Actor | None = None, group: int = 0) -> GuestTestsPage:
    who = actor or story.room.tablets[group]
    return story.do(prepare_guest_tests, story.room.group_ids[group], actor=who)


def test_guests_launch_when_their_group_agrees(story: Story) -> None:
    """Asked, agreed by a tap, four turns each, in turn; then it is through."""
    guests = story.room.student_ids[1][:2]
    guest_test = _invite(story, *guests)
    assert guest_test.is_waiting
    with pytest.raises(Refused):
        _launch(story, guest_test, 0.0, 0.0)
    asked = _page(story, group=1).asked
    assert ["Dara and Eli"] == [
        line.sentence.split("may ")[1].split(" launch")[0] for line in asked
    ]
    _answer(story, guest_test, agreed=True)
    for at in range(8):
        assert "Next: " + ("Dara", "Eli")[at % 2] in repr(_page(story).running)
        _launch(story, guest_test, 10.0 * at, 0.0)
    with pytest.raises(Refused):
        _launch(story, guest_test, 0.0, 0.0)
    kept = _record(story).guest_tests[0]
    assert kept.is_over
    assert list(guests) * 4 == [trial.student_id for trial in kept.usable_trials]


def test_a_group_that_says_no_is_left_alone(story: Story) -> None:
    """Not now ends it, and another one can be begun."""
    guest_test = _invite(story, *story.room.student_ids[1][:2])
    _answer(story, guest_test, agreed=False)
    with pytest.raises(Refused):
        _launch(story, guest_test, 0.0, 0.0)
    assert _invite(story).is_running


def test_guests_change_no_score_of_anybody(story: Story) -> None:
    """Findings, stall, counted attempts and trials of both groups stay as they were."""
    _all_low(story)
    before = [
        (record.trials, find_stall_of(record), find_for_group(record))
        for record in (_record(story), _record(story, 1))
    ]
    counted = story.do(prepare_counted, story.room.class_id, actor=story.room.teacher)
    guest_test = _invite(story, *story.room.student_ids[1][:2], actor=story.room.teacher)
    for dx, dy in ABOUT:
        _launch(story, guest_test, LOW[0] + dx, LOW[1] + dy)
    after = [
        (record.trials, find_stall_of(record), find_for_group(record))
        for record in (_record(story), _record(story, 1))
    ]
    assert before == after
    assert counted == story.do(prepare_counted, story.room.class_id, actor=story.room.teacher)


@pytest.mark.parametrize(("y_mm", "expected"), [(LOW[1], Reading.DEVICE), (0.0, Reading.USE)])
def test_guests_tell_device_and_use_apart(story: Story, y_mm: float, expected: Reading) -> None:
    """All hit low: guests who do so too show the device, guests who hit show the use of all."""
    _all_low(story)
    assert Reading.CANNOT_TELL is diagnose_group(_record(story)).reading
    guest_test = _invite(story, *story.room.student_ids[1][:2], actor=story.room.teacher)
    for dx, dy in ABOUT:
        _launch(story, guest_test, float(dx), y_mm + dy)
    found = diagnose_group(_record(story))
    assert expected is found.reading
    assert 18 == found.trials


def test_another_groups_device_tells_as_well(story: Story) -> None:
    """The group hits with it: its own device is at fault; the lender's findings stay clean."""
    _all_low(story)
    entry = GuestTestEntry(kind=GuestKind.THEIR_DEVICE, owner_group_id=story.room.group_ids[1])
    guest_test = story.do(invite, story.group_id, entry, actor=story.room.teacher)
    assert story.room.shared_revision_ids[1] == guest_test.revision_id
    for dx, dy in ABOUT:
        _launch(story, guest_test, float(dx), float(dy))
    assert Reading.DEVICE is diagnose_group(_record(story)).reading
    assert () == _record(story, 1).guest_tests
    assert 0 == diagnose_group(_record(story, 1)).trials


def test_the_teacher_can_be_the_guest(story: Story) -> None:
    """Without a name, at once."""
    guest_test = _invite(story)
    assert guest_test.is_running
    assert (None,) * 8 == guest_test.turns
    assert "Our teacher" in repr(_page(story).running)


def test_the_one_who_hits_is_proposed_and_why(story: Story) -> None:
    """Two of a group whose newest trials reach what is asked; where nobody does, the teacher."""
    page = _page(story)
    assert "Nobody in another group hits yet" in page.obstacle
    assert ["Ask our teacher to launch"] == [line.words for line in page.invites]
    neighbours = Story(story.store, story.clock, story.room)
    for student in (0, 2):
        for _ in range(4):
            _neighbour_hits(neighbours, student)
    with open_work(story.store, story.room.teacher) as work:
        choices = propose_guests(work, get_group_context(work, story.group_id))
    dara, finn = story.room.student_ids[1][0], story.room.student_ids[1][2]
    assert [{dara, finn}] == [set(choice.student_ids) for choice in choices]
    page = _page(story)
    assert "Invite Dara and Finn" in page.invites[0].words
    assert "They hit with their own device." == page.invites[0].why
    assert "on average" in _page(story, story.room.teacher).invites[0].why


def _neighbour_hits(story: Story, student: int) -> None:
    entry = TrialEntry(
        kind=TrialKind.PRACTICE,
        logged_at=story.clock(),
        student_id=story.room.student_ids[1][student],
        handling={"pull": "full", "tilt": "mark 3", "hand": "right"},
        revision_ids=story.room.revisions_for(1, student),
        x_mm=0.0,
        y_mm=0.0,
    )
    story.do(log_trial, uuid4(), entry, actor=story.room.tablets[1])


def test_guests_are_numbers_on_later_pages(story: Story) -> None:
    """A tablet shows Guest 1 and Guest 2, the teacher's page names them."""
    guest_test = _invite(story, *story.room.student_ids[1][:2], actor=story.room.teacher)
    for at in range(8):
        _launch(story, guest_test, 5.0 * at, 0.0)
    assert ["Guest 1", "Guest 2"] == [line.split(":")[0] for line in _page(story).past]
    told = _page(story, story.room.teacher).past
    assert ["Dara", "Eli"] == [line.split(":")[0] for line in told]


def test_whose_dart_a_guest_used_is_kept(story: Story) -> None:
    """A dart of ours in a guest's hand is an exchange; one of a third group is refused."""
    guest_test = _invite(story, *story.room.student_ids[1][:2], actor=story.room.teacher)
    own = story.room.own_revision_ids[0][1]
    _launch(story, guest_test, 0.0, 0.0, own_revision_id=own)
    assert own == _record(story).guest_tests[0].trials[0].own_revision_id
    with pytest.raises(Invalid):
        _launch(story, guest_test, 0.0, 0.0, own_revision_id=uuid4())


def test_a_launch_is_kept_once_and_can_be_taken_back(story: Story) -> None:
    """Sent twice it is one; taken back its turn is free, and it is kept as struck."""
    guest_test = _invite(story)
    entry = GuestTrialEntry(logged_at=story.clock(), x_mm=0.0, y_mm=0.0)
    trial_id = uuid4()
    for _ in range(2):
        story.do(log_guest_trial, story.group_id, guest_test.id, trial_id, entry)
    assert 1 == len(_record(story).guest_tests[0].trials)
    story.do(strike_guest_trial, story.group_id, guest_test.id)
    kept = _record(story).guest_tests[0]
    assert [TrialState.STRUCK] == [trial.state for trial in kept.trials]
    assert 1 == kept.next_position
    with pytest.raises(Refused):
        story.do(strike_guest_trial, story.group_id, guest_test.id)


@pytest.mark.parametrize("chosen", ["own", "one", "nobody known"])
def test_guests_who_cannot_be_are_refused(story: Story, chosen: str) -> None:
    """One's own members, one alone, and names of no group of the class."""
    students = {
        "own": story.room.student_ids[0][:2],
        "one": story.room.student_ids[1][:1],
        "nobody known": (uuid4(), uuid4()),
    }[chosen]
    with pytest.raises(Invalid) as caught:
        _invite(story, *students)
    assert ["students"] == list(caught.value.by_field())


def test_a_device_of_another_class_is_refused(story: Story) -> None:
    """Its group works on another challenge, or is not there at all; so is one's own."""
    for owner in (uuid4(), None, story.group_id):
        entry = GuestTestEntry(kind=GuestKind.THEIR_DEVICE, owner_group_id=owner)
        with pytest.raises(Invalid):
            story.do(invite, story.group_id, entry)


def test_one_guest_test_at_a_time(story: Story) -> None:
    """A second one waits until the first is ended; what was launched stays."""
    guest_test = _invite(story)
    _launch(story, guest_test, 0.0, 0.0)
    with pytest.raises(Refused):
        _invite(story)
    story.do(end_guest_test, story.group_id, guest_test.id)
    _invite(story)
    assert [1, 0] == [len(test.trials) for test in _record(story).guest_tests]


def test_another_groups_test_is_not_found(story: Story) -> None:
    """Neither to log nor to end nor to answer."""
    guest_test = _invite(story)
    entry = GuestTrialEntry(logged_at=story.clock(), x_mm=0.0, y_mm=0.0)
    other, tablet = story.room.group_ids[1], story.room.tablets[1]
    with pytest.raises(NotFound):
        story.do(log_guest_trial, other, guest_test.id, uuid4(), entry, actor=tablet)
    with pytest.raises(NotFound):
        story.do(end_guest_test, other, guest_test.id, actor=tablet)


def test_nothing_is_launched_before_the_gate(store: Store, clock: StandingClock) -> None:
    """The teacher's checklist comes first for guests as well."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), gate_open=False)
    story = Story(store, clock, room)
    guest_test = _invite(story)
    with pytest.raises(GateShut):
        _launch(story, guest_test, 0.0, 0.0)
