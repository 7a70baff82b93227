"""What is derived from a record: worked out once, and never carried over to another record."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from journal.domain import group_records
from journal.domain.readable_trials import read_trial
from journal.domain.trials import Trial, TrialState
from journal.findings.group_findings import find_for_group
from journal.findings.voices import TEACHER_BAND
from journal.pictures.group_pictures import draw_small_trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.group_records import record_with, told_values


def test_each_trial_is_read_once(
    store: Store, classroom: Classroom, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However many questions are put to a record, it reads each of its trials once."""
    record = record_with(store, classroom, told_values([8, 4, 2, 8, 4] * 4, students=3))
    read: Counter[object] = Counter()

    def count(trial: Trial) -> Trial:
        read[trial.id] += 1
        return read_trial(trial)

    monkeypatch.setattr(group_records, "read_trial", count)
    find_for_group(record, TEACHER_BAND)
    find_for_group(record)
    draw_small_trials(record, ids="dots")
    assert [1] * 20 == list(read.values())


def test_a_replaced_record_works_everything_out_anew(store: Store, classroom: Classroom) -> None:
    """Nothing that was worked out before is true of the copy, and all of it is read from it."""
    record = record_with(store, classroom, told_values([8, 4, 2]))
    revision_id = record.parts[0].revisions[0].id
    asked = (record.trial_numbers, record.nicknames, record.main_part, record.context.members)
    assert all(asked)
    assert record.find_revision(revision_id) is not None
    assert 3 == len(record.usable_trials) == len(record.trials_of(revision_id))
    struck = replace(record.trials[0], state=TrialState.STRUCK)
    context = replace(record.context, group=replace(record.group, members=()), sessions=())
    changed = replace(record, context=context, parts=(), trials=(struck, *record.trials[1:2]))
    assert 1 == len(changed.usable_trials) == len(changed.trials_of(revision_id))
    assert [1, 2] == list(changed.trial_numbers.values())
    assert (None, None) == (changed.main_part, changed.find_revision(revision_id))
    assert ({}, (), (), None) == (
        changed.nicknames,
        changed.context.members,
        changed.context.session_ids,
        changed.context.running,
    )


def test_what_was_worked_out_is_no_part_of_the_value(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A record that was asked much equals one that was asked nothing, and nobody can change it."""
    del clock
    record = record_with(store, classroom, told_values([8, 4, 2]))
    copy = replace(record, context=replace(record.context))
    find_for_group(record)
    assert (record, record.context) == (copy, copy.context)
    with pytest.raises(TypeError):
        record.trial_numbers[record.trials[0].id] = 9  # type: ignore[index]
    with pytest.raises(AttributeError):
        record.usable_trials = ()  # type: ignore[misc]
