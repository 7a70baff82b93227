"""The pages of a swap test: the plan to choose, then how far it is and what it said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.analysis.swap_plan import SECONDS_A_TRIAL
from journal.content.messages import word_message
from journal.content.trial_words import result_words
from journal.domain.errors import NotFound
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message, Words
from journal.domain.part_states import PartState
from journal.domain.swap_tests import TRIALS_EACH, USUAL_TRIALS_EACH, SwapKind, SwapTest, SwapTurn
from journal.findings.swap_names import name_swap
from journal.findings.swap_tests import judge_swap_test
from journal.findings.trial_records import label_revision
from journal.findings.voices import voice_of
from journal.pictures.drawings import Drawing
from journal.pictures.swap_pictures import PICTURE_PX, draw_swap_test, name_device
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.links import Link, Target, link_to
from journal.services.parts import parts_of_context
from journal.services.swap_tests import exchangeable_parts, find_running, swappable_parts

Pair = tuple[str, str]
#: Value, words and a quiet note.
Tile = tuple[str, str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapForm:
    """What is chosen, and what is wrong with it."""

    kind: str = SwapKind.REVISIONS.value
    old: str = ""
    new: str = ""
    students: tuple[str, ...] = ()
    trials_each: str = str(USUAL_TRIALS_EACH)
    errors: Mapping[str, Sequence[str]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapPlanPage:
    """The choices of a swap test: which two, who, how many."""

    frame: TabletFrame
    question: str
    #: What is tried in turn and why, a sentence each.
    sentences: tuple[str, ...]
    #: Devices of which two are chosen; empty where own parts are exchanged.
    devices: tuple[Pair, ...]
    students: tuple[Tile, ...]
    lengths: tuple[Tile, ...]
    form: SwapForm
    #: Why no plan can be made; "" where one can.
    obstacle: str
    #: The open swap test, where there is one.
    open_test: Link | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnLine:
    """One turn of the plan to read."""

    position: int
    who: str
    device: str
    result: str
    #: "done", "next" or "left".
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapPage:
    """One swap test."""

    frame: TabletFrame
    id: UUID
    question: str
    #: How far it is, such as "5 of 16 done".
    progress: str
    #: Who is next with what; "" when it is over.
    next_words: str
    #: What it said at its last look, in the band's words.
    sentences: tuple[str, ...]
    #: When it is judged next, or that it may be ended; "" when it is over.
    next_look: str
    #: None before the first whole pair.
    picture: Drawing | None
    done: tuple[TurnLine, ...]
    left: tuple[TurnLine, ...]
    #: The same two again, where more pairs could tell; None otherwise.
    again: Link | None


def prepare_plan(work: Work, group_id: UUID, form: SwapForm) -> SwapPlanPage:
    """Return the choices, with what was chosen so far."""
    context = get_group_context(work, group_id)
    states = parts_of_context(work, context)
    running = find_running(work, context)
    exchanging = form.kind == SwapKind.OWN_PARTS.value
    devices = () if exchanging else _devices(swappable_parts(states))
    own = exchangeable_parts(context, states) if exchanging else {}
    students = tuple(
        (str(member.student_id), member.nickname, _own_label(own.get(member.student_id)))
        for member in context.members
        if not exchanging or member.student_id in own
    )
    first = _devices(swappable_parts(states)[:1])
    language = context.school_class.language
    return SwapPlanPage(
        frame=frame_group(context, "Swap test"),
        question=word_message(_question(own, exchanging=exchanging), language),
        sentences=(
            *(word_message(message, language) for message in _why(own, exchanging=exchanging)),
            *([] if exchanging else [voice_of(context.school_class).say("swap_few_turns")]),
        ),
        devices=devices,
        students=students,
        lengths=tuple(
            (str(each), f"{each} each", f"about {_minutes(each * len(students))} min")
            for each in TRIALS_EACH
        ),
        form=_filled(form, devices, first, students),
        obstacle=word_message(_obstacle(devices, own, exchanging=exchanging), language),
        open_test=None
        if running is None
        else link_to(Target.SWAP_TEST, group_id=group_id, swap_test_id=running.id),
    )


def prepare_swap_test(work: Work, group_id: UUID, swap_test_id: UUID) -> SwapPage:
    """Return one swap test: whose turn it is, what its last look said, and when the next is."""
    context = get_group_context(work, group_id)
    record = gather_group(work, context)
    swap_test = next((test for test in record.swap_tests if test.id == swap_test_id), None)
    if swap_test is None:
        message = Message("swap_tests.no_such_swap_test")
        raise NotFound(message)
    judged = judge_swap_test(record, swap_test)
    unclear = judged.comparison is None or not judged.comparison.verdict.clear
    turn = None if swap_test.is_over else swap_test.next_turn
    lines = _turn_lines(record, swap_test)
    return SwapPage(
        frame=frame_group(context, f"Swap test, {name_swap(record, swap_test)}"),
        id=swap_test.id,
        question=word_message(
            Message("swap_tests.what_did_the_swap_test_tell"), context.school_class.language
        )
        if swap_test.is_over
        else "Who is next?",
        progress=f"{swap_test.done} of {len(swap_test.turns)} done",
        next_words="" if turn is None else _describe_turn(record, turn),
        sentences=judged.sentences,
        next_look=judged.next_look,
        picture=draw_swap_test(record, swap_test, width_px=PICTURE_PX, ids="swap"),
        done=tuple(line for line in lines if line.state == "done"),
        left=tuple(line for line in lines if line.state != "done"),
        again=_again(group_id, swap_test) if swap_test.is_over and unclear else None,
    )


def _again(group_id: UUID, swap_test: SwapTest) -> Link:
    if swap_test.kind is SwapKind.OWN_PARTS:
        return link_to(Target.NEW_SWAP_TEST, group_id=group_id, kind=swap_test.kind.value)
    return link_to(
        Target.NEW_SWAP_TEST,
        group_id=group_id,
        old=swap_test.old_revision_id,
        new=swap_test.new_revision_id,
    )


def _describe_turn(record: GroupRecord, turn: SwapTurn) -> str:
    return f"{record.group.name_of(turn.student_id)} with {name_device(record, turn.revision_id)}"


def _turn_lines(record: GroupRecord, swap_test: SwapTest) -> tuple[TurnLine, ...]:
    trials = {trial.id: trial for trial in record.usable_trials}
    upcoming = None if swap_test.is_over else swap_test.next_turn
    lines = []
    for turn in swap_test.turns:
        trial = trials.get(taken) if (taken := swap_test.taken.get(turn.position)) else None
        lines.append(
            TurnLine(
                position=turn.position,
                who=record.group.name_of(turn.student_id),
                device=name_device(record, turn.revision_id),
                result="" if trial is None else result_words(record.context.challenge, trial),
                state="done" if trial else "next" if turn == upcoming else "left",
            )
        )
    return tuple(lines)


def _devices(states: Sequence[PartState]) -> tuple[Pair, ...]:
    return tuple(
        (str(revision.id), label_revision(state, revision))
        for state in states
        for revision in state.revisions
        if not revision.is_set_aside
    )


def _filled(
    form: SwapForm, devices: Sequence[Pair], first: Sequence[Pair], students: Sequence[Tile]
) -> SwapForm:
    """Return the form with the first part's last two, and all names, where none was chosen yet."""
    known = [value for value, _ in devices]
    old, new = [*[value for value, _ in first][-2:], "", ""][:2]
    return SwapForm(
        kind=form.kind,
        old=form.old if form.old in known else old,
        new=form.new if form.new in known else new,
        students=form.students or tuple(student[0] for student in students),
        trials_each=form.trials_each,
        errors=form.errors,
    )


def _question(own: Mapping[UUID, PartState], *, exchanging: bool) -> Message:
    if not exchanging:
        return Message("swap_tests.which_two_do_you_use_in_turn")
    name = next((state.kind.name.lower() for state in own.values()), "part")
    return Message("swap_tests.who_exchanges_a", name=name)


def _why(own: Mapping[UUID, PartState], *, exchanging: bool) -> tuple[Message, ...]:
    if exchanging:
        name = next((state.kind.name.lower() for state in own.values()), "part")
        return (Message("swap_tests.each_of_you_uses_your_own_and_another", name=name),)
    return (
        Message("swap_tests.in_turn"),
        Message("swap_tests.have_both_ready_before_you_start"),
    )


def _obstacle(devices: Sequence[Pair], own: Mapping[UUID, PartState], *, exchanging: bool) -> Words:
    if exchanging:
        return "" if own else Message("swap_tests.two_of_you_need_a_part_of")
    return "" if devices else Message("swap_tests.you_need_two_revisions_of_one_part")


def _own_label(state: PartState | None) -> str:
    return "" if state is None or state.current is None else label_revision(state, state.current)


def _minutes(trials: int) -> int:
    return max(1, round(trials * SECONDS_A_TRIAL / 60))
