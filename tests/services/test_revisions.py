"""Revisions: what is kept, what is refused kindly, what a trial locks."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

import pytest

from journal.domain.actors import NOBODY, OPERATOR
from journal.domain.errors import Invalid, NotFound, Refused, SignedOut
from journal.domain.factor_values import OTHER
from journal.domain.part_states import PartState
from journal.domain.revision_rules import RevisionForm, cost_hundredths, describe_change
from journal.domain.revisions import Change, MaterialAmount, Revision, RevisionEntry
from journal.domain.stages import Stage
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.parts import parts_of_context
from journal.services.revisions import (
    edit_revision,
    make_first_builds,
    make_revision,
    make_revision_from_form,
    set_aside,
    take_up_again,
)
from journal.store import revisions, stages
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.factories.logged_trials import keep_trial
from tests.sentences import raises, sentences_of


def _state(store: Store, room: Classroom, number: int = 0, group: int = 0) -> PartState:
    with open_work(store, room.tablets[group], writing=False) as work:
        return parts_of_context(work, get_group_context(work, room.group_ids[group]))[number]


def _entry(state: PartState, **fields: object) -> RevisionEntry:
    parent = state.current.id if state.current else None
    return replace(RevisionEntry(part_id=state.part.id, parent_id=parent), **fields)  # type: ignore[arg-type]


def _make(store: Store, room: Classroom, clock: StandingClock, entry: RevisionEntry) -> Revision:
    with open_work(store, room.tablets[0], clock=clock) as work:
        return make_revision(work, room.group_ids[0], entry)


def _log_trial(store: Store, room: Classroom, clock: StandingClock, revision_id: UUID) -> None:
    with open_work(store, OPERATOR, clock=clock) as work:
        keep_trial(work.session, room, revision_id, work.now())


def _change(factor: str, to_value: str) -> Change:
    return Change(factor=factor, from_value="", to_value=to_value)


def test_a_change_is_kept_with_what_it_was_before(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """What it was comes from the family, the number in the factor's own unit."""
    state = _state(store, classroom)
    made = _make(store, classroom, clock, _entry(state, changes=(_change("rail_length", "30 cm"),)))
    expected = Change(factor="rail_length", from_value="200", to_value="300", unit="mm")
    assert (expected,) == made.changes
    assert 2 == made.number
    assert "Rail length 300 mm, was 200 mm" == describe_change(made.changes[0], state.kind)


def test_the_next_revision_goes_on_from_the_one_before(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """A second change starts from where the first one ended, or from an older parent."""
    first = _state(store, classroom)
    _make(store, classroom, clock, _entry(first, changes=(_change("bands", "2"),)))
    third = _make(
        store,
        classroom,
        clock,
        _entry(_state(store, classroom), changes=(_change("bands", "3"),)),
    )
    from_first = _make(store, classroom, clock, _entry(first, changes=(_change("bands", "3"),)))
    assert "2" == third.changes[0].from_value
    assert "1" == from_first.changes[0].from_value
    assert classroom.shared_revision_ids[0] == from_first.parent_id


def test_a_revision_puts_the_group_at_build(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Making one is an arrival at the stage."""
    _make(store, classroom, clock, _entry(_state(store, classroom), reason="We try glue."))
    with open_work(store, OPERATOR, writing=False) as work:
        step = stages.find_last_step(work.session, classroom.group_ids[0], classroom.challenge_id)
    assert step is not None
    assert Stage.BUILD is step.stage


@pytest.mark.parametrize(
    ("fields", "field", "sentence"),
    [
        ({}, "reason", "Tap what changes, or say why this one is new."),
        ({"changes": (_change("bands", "9"),)}, "to_bands", "9 bands cannot be built here"),
        ({"changes": (_change("bands", "2 g"),)}, "to_bands", "“g” does not fit here"),
        ({"changes": (_change("bands", "1"),)}, "to_bands", "It was 1 band before"),
        ({"changes": (_change("wings", "2"),)}, "changes", "has nothing called wings"),
        ({"changes": (_change(OTHER, "  "),)}, "to_other", "Say in a few words"),
        ({"changes": (_change(OTHER, "x" * 201),)}, "to_other", "201 letters"),
        ({"reason": "x" * 601}, "reason", "601 letters"),
        ({"reason": "r", "prediction": "x" * 700}, "prediction", "700 letters"),
        ({"reason": "r", "maker_ids": (uuid4(),)}, "makers", "children of this group"),
        ({"reason": "r", "parent_id": uuid4()}, "parent", "an earlier revision of Launcher"),
        ({"reason": "r", "parent_id": None}, "parent", "is built already"),
        (
            {"reason": "r", "materials": (MaterialAmount(material="tape", amount=-1),)},
            "material_tape",
            "cannot be less than 0",
        ),
        (
            {"reason": "r", "materials": (MaterialAmount(material="tape", amount=float("nan")),)},
            "material_tape",
            "as a number",
        ),
        (
            {"reason": "r", "materials": (MaterialAmount(material="steel", amount=1),)},
            "materials",
            "not in the list",
        ),
    ],
)
def test_what_cannot_be_kept_is_told_at_its_field(
    store: Store,
    classroom: Classroom,
    clock: StandingClock,
    fields: dict[str, object],
    field: str,
    sentence: str,
) -> None:
    """No change and no reason, a wrong unit, a stranger: nothing is kept, a sentence says why."""
    state = _state(store, classroom)
    with pytest.raises(Invalid) as caught:
        _make(store, classroom, clock, _entry(state, **fields))
    assert sentence in sentences_of(caught.value)[field][0]
    assert state.revisions == _state(store, classroom).revisions


def test_a_form_counts_only_what_was_ticked(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Values stand in every field; the tapped ones changed. The parent is the one in use."""
    state = _state(store, classroom)
    form = RevisionForm(
        part_id=state.part.id,
        ticked=("bands",),
        values={"bands": "3", "rail_length": "500"},
        amounts={"rubber_band": "2", "tape": "0,5", "fleece": ""},
        reason_starter="We want to find out if",
        reason="three bands pull harder.",
    )
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        made = make_revision_from_form(work, classroom.group_ids[0], form)
    assert ["bands"] == [change.factor for change in made.changes]
    assert "We want to find out if three bands pull harder." == made.reason
    assert classroom.shared_revision_ids[0] == made.parent_id
    # 2 x 0.10 + 0.5 x 0.25 = 0.325, in hundredths to the nearest even one.
    assert 32 == cost_hundredths(made.materials, classroom.challenge)


@pytest.mark.parametrize("text", ["-1", "many", "nan", "1e309"])
def test_an_amount_that_is_none_is_told_beside_its_material(
    store: Store, classroom: Classroom, clock: StandingClock, text: str
) -> None:
    """Negative, a word, no finite number."""
    form = RevisionForm(
        part_id=_state(store, classroom).part.id, reason="r", amounts={"tape": text}
    )
    with (
        open_work(store, classroom.tablets[0], clock=clock) as work,
        pytest.raises(Invalid) as caught,
    ):
        make_revision_from_form(work, classroom.group_ids[0], form)
    assert ["material_tape"] == list(caught.value.by_field())


def test_a_trial_locks_the_revision(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Before it, the entry can be put right; afterwards the next revision is made."""
    state = _state(store, classroom)
    made = _make(store, classroom, clock, _entry(state, changes=(_change("bands", "2"),)))
    form = RevisionForm(
        part_id=state.part.id,
        parent_id=made.parent_id,
        ticked=("bands",),
        values={"bands": "3"},
    )
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        changed = edit_revision(work, classroom.group_ids[0], made.id, form)
    assert ("1", "3") == (changed.changes[0].from_value, changed.changes[0].to_value)
    _log_trial(store, classroom, clock, made.id)
    with (
        open_work(store, classroom.tablets[0], clock=clock) as work,
        raises(Refused, match="It has trials: make the next revision"),
    ):
        edit_revision(work, classroom.group_ids[0], made.id, form)


def test_a_revision_is_not_made_from_itself(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Putting it right cannot tie the family into a ring."""
    state = _state(store, classroom)
    made = _make(store, classroom, clock, _entry(state, changes=(_change("bands", "2"),)))
    form = RevisionForm(part_id=state.part.id, parent_id=made.id, reason="r")
    with (
        open_work(store, classroom.tablets[0], clock=clock) as work,
        pytest.raises(Invalid) as caught,
    ):
        edit_revision(work, classroom.group_ids[0], made.id, form)
    assert "parent" in caught.value.by_field()


def test_one_set_aside_makes_room_for_the_one_before(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """The newest that is not set aside is in use; it can be taken up again."""
    state = _state(store, classroom)
    made = _make(store, classroom, clock, _entry(state, changes=(_change("bands", "2"),)))
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        set_aside(work, classroom.group_ids[0], made.id)
    assert state.current == _state(store, classroom).current
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        take_up_again(work, classroom.group_ids[0], made.id)
    assert made == _state(store, classroom).current


def test_first_builds_of_all_present_children_in_one_tap(
    store: Store, clock: StandingClock
) -> None:
    """Each own part starts with the challenge's values for the band, made by its child."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), nicknames=(("Ada", "Ben", "Cleo"),))
        work.session.connection().exec_driver_sql("DELETE FROM revisions")
    with open_work(store, room.tablets[0], clock=clock) as work:
        made = make_first_builds(work, room.group_ids[0])
    assert [(student_id,) for student_id in room.student_ids[0]] == [one.maker_ids for one in made]
    values = {change.factor: change.to_value for change in made[0].changes}
    # The band 3-5 has no "fin_size".
    expected = {"tip_material": "felt", "fin_area": "1200", "length": "180", "paint_amount": "4"}
    assert expected == values
    with (
        open_work(store, room.tablets[0], clock=clock) as work,
        raises(Refused, match="first build already"),
    ):
        make_first_builds(work, room.group_ids[0])


def test_another_groups_part_and_revision_are_not_found(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """A tablet changes only what its own group made."""
    theirs = _state(store, classroom, group=1)
    revision_id = classroom.shared_revision_ids[1]
    group_id = classroom.group_ids[0]
    form = RevisionForm(part_id=theirs.part.id, reason="r")
    for verb in (
        lambda work: make_revision(work, group_id, _entry(theirs, reason="r")),
        lambda work: make_revision_from_form(work, group_id, form),
        lambda work: edit_revision(work, group_id, revision_id, form),
        lambda work: set_aside(work, group_id, revision_id),
        lambda work: take_up_again(work, group_id, revision_id),
        lambda work: make_first_builds(work, classroom.group_ids[1]),
    ):
        with (
            open_work(store, classroom.tablets[0], clock=clock) as work,
            pytest.raises(NotFound),
        ):
            verb(work)
        with open_work(store, NOBODY, clock=clock) as work, pytest.raises(SignedOut):
            verb(work)


def test_the_teacher_makes_one_for_a_group(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """The group's teacher may enter what the group says."""
    state = _state(store, classroom)
    with open_work(store, classroom.teacher, clock=clock) as work:
        made = make_revision(
            work, classroom.group_ids[0], _entry(state, reason="It bent.", scribe="teacher")
        )
        kept = revisions.get_revision(work.session, made.id)
    assert "teacher" == kept.scribe
