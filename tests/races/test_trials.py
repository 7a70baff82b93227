"""Trials logged, struck and corrected at once."""

from __future__ import annotations

import time
from contextlib import suppress
from dataclasses import replace
from uuid import uuid4

from journal.domain.errors import OutOfReach, Refused
from journal.domain.trials import Trial, TrialKind, TrialState
from journal.records.work import open_work
from journal.services.corrections import strike_last
from journal.services.trials import log_trial
from journal.store import stages, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.races.together import PEOPLE, all_at_once
from tests.sentences import sentence_of
from tests.services.trial_entries import entry_of, log


def test_no_fourth_attempt_counts(store: Store, classroom: Classroom, clock: StandingClock) -> None:
    """A child's counted attempt is tapped on eight tablets at once: three count."""
    tablet, entry = classroom.tablets[0], entry_of(classroom, clock)
    log(store, clock, tablet, entry)
    counted = replace(entry, kind=TrialKind.COUNTED)
    attempts = classroom.challenge.counting.attempts

    def attempt(server: Store, _person: int) -> Trial:
        return log(server, clock, tablet, replace(counted, logged_at=clock()))

    taken, refused = all_at_once(store, attempt)

    assert (attempts, PEOPLE - attempts) == (len(taken), len(refused))
    told = f"All {attempts} counted attempts are done."
    assert all(isinstance(one, Refused) and sentence_of(one).startswith(told) for one in refused)


def test_one_entry_of_many_senders_is_one_trial(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """All get the same answer, the trial has both its revisions, the stage moves once."""
    entry, trial_id = entry_of(classroom, clock), uuid4()

    def send(server: Store, _person: int) -> tuple[bool, Trial]:
        # Who waits too long for the writers before is asked to send it again, as a tablet does.
        for _ in range(20):
            with (
                suppress(OutOfReach),
                open_work(server, classroom.tablets[0], clock=clock) as work,
            ):
                kept = log_trial(work, trial_id, entry)
                return kept.added, kept.trial
            time.sleep(0.1)
        raise OutOfReach

    told, refused = all_at_once(store, send)
    with store.open_session(writing=False) as session:
        found = trials.trials_of_groups(session, classroom.group_ids, [classroom.session_id])
        walked = stages.steps_of_groups(session, classroom.group_ids, classroom.challenge_id)

    assert ([], 1) == (list(refused), [added for added, _ in told].count(True))
    assert [(trial_id, set(entry.revision_ids))] == [
        (one.id, set(one.revision_ids)) for one in found
    ]
    assert 1 == len(walked[classroom.group_ids[0]])


def test_a_trial_is_struck_once(store: Store, classroom: Classroom, clock: StandingClock) -> None:
    """Eight taps on "take back" are one line in what was put right."""
    tablet = classroom.tablets[0]
    trial = log(store, clock, tablet, entry_of(classroom, clock))

    def strike(server: Store, _person: int) -> Trial:
        with open_work(server, tablet, clock=clock) as work:
            return strike_last(work, classroom.group_ids[0], trial.id)

    struck, refused = all_at_once(store, strike)
    with store.open_session(writing=False) as session:
        lines = trials.corrections_of_trials(session, [trial.id])

    assert (PEOPLE, []) == (len(struck), list(refused))
    assert {TrialState.STRUCK} == {one.state for one in struck}
    assert [("measured", "struck")] == [(line.old, line.new) for line in lines]


def test_only_the_last_trial_is_struck(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """While the next ones come in, a trial is taken back before them or not at all."""
    tablet = classroom.tablets[0]
    first = log(store, clock, tablet, entry_of(classroom, clock))

    def act(server: Store, person: int) -> Trial:
        if person:
            return log(server, clock, tablet, entry_of(classroom, clock))
        with open_work(server, tablet, clock=clock) as work:
            return strike_last(work, classroom.group_ids[0], first.id)

    done, refused = all_at_once(store, act)
    with store.open_session(writing=False) as session:
        found = trials.trials_of_groups(session, classroom.group_ids, [classroom.session_id])
        lines = trials.corrections_of_trials(session, [first.id])

    assert PEOPLE == len(found) == len(done) + len(refused)
    later = [one.received_at for one in found if one.id != first.id]
    assert (len(refused) == 1) is (lines == ())
    assert all(line.corrected_at <= min(later) for line in lines)
    assert ["Another trial came after it. Your teacher can put it right."] * len(refused) == [
        sentence_of(one) for one in refused
    ]
