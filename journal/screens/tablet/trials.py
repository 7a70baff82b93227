"""The page on which a group logs its trials: one LogPage of ready values."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from uuid import UUID, uuid4

from journal.content.messages import word_message
from journal.content.trial_words import describe_entry_state, revision_words
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.numbers import number_pattern
from journal.domain.part_states import PartState
from journal.domain.permits import require_may_log
from journal.domain.swap_tests import SwapTest
from journal.domain.trials import Trial, TrialKind, TrialState
from journal.findings.stalls import find_stall_of
from journal.records.group_contexts import get_group_context
from journal.records.tablet_records import TabletRecord, gather_tablet
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.tablet.swap_turns import TurnView, choose_turns, swapped_shared_part, view_turn
from journal.screens.tablet.trial_panels import NumberPad, PanelView, view_pad, view_panel
from journal.screens.tablet.trial_settings import LogSettings, read_settings
from journal.screens.tablet.trial_testers import Tester, list_testers
from journal.screens.tablet.trial_waits import Wait, find_wait
from journal.services.ladders import LadderOffer, word_offer
from journal.services.parts import parts_of_record
from journal.services.practice_sets import describe_practice, find_practice
from journal.services.swap_tests import find_running

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewestTrial:
    """The trial that came in last."""

    id: str
    #: Such as "Trial 13 is in", or what became of it since.
    heading: str
    number: int
    words: str
    can_be_taken_back: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LogForm:
    """The state of the form: what was sent, what is wrong with it."""

    trial_id: str
    sent: Mapping[str, str]
    errors: Mapping[str, Sequence[str]] | None
    #: Changes whenever the page has to be built anew rather than brought up to date.
    stamp: str
    shared_ids: tuple[str, ...]
    launches: bool
    #: A button for each cause of a misfire: its value and its words.
    misfires: tuple[Pair, ...]
    #: What a number looks like: the page says so before it sends another text.
    number_pattern: str = field(default_factory=number_pattern)


@dataclass(frozen=True, slots=True, kw_only=True)
class LogPage:
    """Everything the page shows."""

    frame: TabletFrame
    tester_question: str
    place_question: str
    wait: Wait | None
    testers: tuple[Tester, ...]
    settings: LogSettings
    panel: PanelView | None
    pad: NumberPad | None
    newest: NewestTrial | None
    form: LogForm
    #: A question that waits for the group, or one that may help it now.
    offer: LadderOffer | None
    #: Who is next with what, while a swap test runs.
    turn: TurnView | None = None


def prepare_log(
    work: Work,
    group_id: UUID,
    sent: Mapping[str, str] | None = None,
    errors: Mapping[str, Sequence[str]] | None = None,
) -> LogPage:
    """Return the group's page for logging trials, with what was sent where it was refused."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    gathered = gather_tablet(work, context)
    states, logged = parts_of_record(gathered.record), gathered.record.trials
    wait = find_wait(context, states)
    swap_test = find_running(work, context)
    testers = choose_turns(
        list_testers(context, states, gathered.borrowed, logged), swap_test, states
    )
    swapped = swapped_shared_part(swap_test, states)
    shared = [state for state in states if not state.kind.own and state.part.id != swapped]
    current = [state.current for state in shared if state.current is not None]
    shared_ids = tuple(str(revision.id) for revision in current)
    in_use = {revision.id for revision in current} | set(_swapped_ids(swap_test))
    return LogPage(
        frame=_frame(context, shared, "Trials" if swap_test is None else "Swap test"),
        tester_question=context.challenge.tester_question,
        place_question=context.challenge.place_question,
        wait=wait,
        testers=testers,
        settings=read_settings(
            context, logged, sent or {}, describe_practice(find_practice(work, context, logged))
        ),
        panel=view_panel(context, logged, in_use),
        pad=view_pad(context),
        newest=_newest(context, logged),
        form=LogForm(
            trial_id=(sent or {}).get("trial_id") or str(uuid4()),
            sent=sent or {},
            errors=errors,
            stamp=_stamp(context, wait, testers, shared_ids),
            shared_ids=shared_ids,
            launches=context.challenge.launches,
            misfires=tuple(
                (f"misfire:{misfire.key}", misfire.name) for misfire in context.challenge.misfires
            ),
        ),
        offer=_offer(gathered),
        turn=view_turn(context, swap_test, states),
    )


def _offer(gathered: TabletRecord) -> LadderOffer | None:
    stall = find_stall_of(gathered.record)
    reason = stall.reason.value if stall.stalled else None
    return word_offer(gathered.record.context, gathered.open_climb, reason)


def _swapped_ids(swap_test: SwapTest | None) -> tuple[UUID, ...]:
    if swap_test is None:
        return ()
    both = (swap_test.old_revision_id, swap_test.new_revision_id)
    return tuple(id_ for id_ in both if id_ is not None)


def _frame(context: GroupContext, shared: Sequence[PartState], otherwise: str) -> TabletFrame:
    what = [
        revision_words(context.challenge, state.kind.key, state.name, state.current)
        for state in shared
        if state.current is not None
    ]
    return frame_group(context, "; ".join(what) or otherwise, title="trials")


def _newest(context: GroupContext, logged: Sequence[Trial]) -> NewestTrial | None:
    if not logged:
        return None
    trial = logged[-1]
    return NewestTrial(
        id=str(trial.id),
        heading=word_message(_heading(trial.state, len(logged)), context.school_class.language),
        number=len(logged),
        words=describe_entry_state(context.challenge, trial),
        can_be_taken_back=trial.kind is TrialKind.PRACTICE and trial.state.is_usable,
    )


def _heading(state: TrialState, number: int) -> Message:
    if state is TrialState.STRUCK:
        return Message("trials.trial_was_taken_back", number=number)
    return (
        Message("trials.trial_was_set_aside", number=number)
        if state is TrialState.VOID
        else Message("trials.trial_is_in", number=number)
    )


def _stamp(
    context: GroupContext, wait: Wait | None, testers: Sequence[Tester], shared_ids: Sequence[str]
) -> str:
    # Which device is chosen moves on with each turn of a swap test: no reason to build anew.
    own = [
        (
            tester.student_id,
            tester.nickname,
            [(choice.field, choice.options) for choice in tester.own],
        )
        for tester in testers
    ]
    shown = (wait, own, shared_ids, context.running.id if context.running else None)
    return hashlib.sha256(repr(shown).encode()).hexdigest()[:16]
