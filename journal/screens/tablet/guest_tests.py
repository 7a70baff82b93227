"""The page of guest tests: who is asked, who could be invited, whose turn it is, the results."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID, uuid4

from journal.content.texts import get_text, get_texts
from journal.content.trial_words import value_words
from journal.domain.actors import Role
from journal.domain.group_contexts import GroupContext
from journal.domain.groups import Group
from journal.domain.guest_tests import GuestKind, GuestTest
from journal.domain.numbers import show_number
from journal.domain.permits import require_may_log
from journal.findings.guest_choices import NEWEST, GuestChoice
from journal.findings.trial_records import label_revision
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.tablet.trial_panels import view_pad, view_panel
from journal.services.guest_tests import propose_guests
from journal.services.parts import parts_of_context
from journal.store import groups, guest_tests

#: No more groups than this are offered.
_MOST_CHOICES = 3
Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedLine:
    """A guest test for which this group is asked."""

    id: UUID
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InviteLine:
    """One way to a guest test, with why."""

    words: str
    why: str
    #: Hidden fields of the form.
    fields: tuple[Pair, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestTurnForm:
    """The test that is open: what is next, and how it can end."""

    id: UUID
    trial_id: str
    sentences: tuple[str, ...]
    #: False while the other group has not agreed.
    can_log: bool
    can_take_back: bool
    places: tuple[Pair, ...]
    #: The unit where a measure is entered; "" where places are tapped.
    unit: str
    misfires: tuple[Pair, ...]
    #: Own parts that could have been used; empty where the challenge has none.
    own_parts: tuple[Pair, ...]
    amount_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestTestsPage:
    """The page."""

    frame: TabletFrame
    lead: tuple[str, ...]
    asked: tuple[AskedLine, ...]
    running: GuestTurnForm | None
    invites: tuple[InviteLine, ...]
    #: Why nobody of another group is proposed; "" where somebody is.
    obstacle: str
    past: tuple[str, ...]
    words: Mapping[str, str]
    errors: Mapping[str, Sequence[str]] | None


def prepare_guest_tests(
    work: Work, group_id: UUID, errors: Mapping[str, Sequence[str]] | None = None
) -> GuestTestsPage:
    """Return the page, with what is wrong with what was sent."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    of_class = {
        group.id: group for group in groups.groups_of_class(work.session, context.school_class.id)
    }
    own = guest_tests.guest_tests_of_groups(work.session, [group_id], context.challenge_id)
    opened = next((test for test in own if test.ended_at is None and not test.is_over), None)
    choices = () if opened is not None else propose_guests(work, context)
    names = ("heading", "choose", "running", "yes", "no", "take_back", "end", "whose")
    return GuestTestsPage(
        frame=frame_group(context, _text(context, "heading")),
        lead=get_texts("guest_tests", _language(context), "lead", context.school_class.band.value),
        asked=tuple(
            AskedLine(id=test.id, sentence=_ask(context, test, of_class))
            for test in guest_tests.guest_tests_that_ask(
                work.session, group_id, context.challenge_id
            )
            if test.is_waiting
        ),
        running=None if opened is None else _turn_form(work, context, opened, of_class),
        invites=() if opened is not None else _invites(work, context, choices),
        obstacle="" if opened is not None or choices else _text(context, "nobody_hits"),
        past=tuple(line for test in own for line in _results(work, context, test, of_class)),
        words={name: _text(context, name) for name in names},
        errors=errors,
    )


def _language(context: GroupContext) -> str:
    return context.school_class.language


def _text(context: GroupContext, key: str, **slots: object) -> str:
    return get_text("guest_tests", _language(context), key).format(**slots)


def _ask(context: GroupContext, test: GuestTest, of_class: Mapping[UUID, Group]) -> str:
    group = of_class[test.group_id].name
    if test.kind is GuestKind.THEIR_DEVICE:
        return _text(context, "asked_device", group=group)
    names = " and ".join(_nickname(of_class, student) for student in dict.fromkeys(test.turns))
    return _text(context, "asked_guests", group=group, names=names)


def _invites(
    work: Work, context: GroupContext, choices: Sequence[GuestChoice]
) -> tuple[InviteLine, ...]:
    lines = []
    for choice in choices[:_MOST_CHOICES]:
        of_group = {choice.group.id: choice.group}
        names = [_nickname(of_group, student) for student in choice.student_ids]
        why = _text(context, "why")
        if work.actor.role is not Role.TABLET:
            why = _text(
                context,
                "why_teacher",
                n=NEWEST,
                means=" and ".join(show_number(mean, 1) for mean in choice.means),
                asked=show_number(choice.criterion.threshold),
            )
        invited = (("kind", "guests"), *(("students", str(id_)) for id_ in choice.student_ids))
        borrowed = (("kind", "their_device"), ("owner", str(choice.group.id)))
        for key, fields in (("invite", invited), ("borrow", borrowed)):
            words = _text(context, key, names=" and ".join(names), group=choice.group.name)
            lines.append(InviteLine(words=words, why=why, fields=fields))
    teacher = _text(context, "invite_teacher")
    return (*lines, InviteLine(words=teacher, why="", fields=(("kind", "guests"),)))


def _turn_form(
    work: Work, context: GroupContext, test: GuestTest, of_class: Mapping[UUID, Group]
) -> GuestTurnForm:
    challenge = context.challenge
    panel, pad = view_panel(context, (), set()), view_pad(context)
    nowhere = () if panel is None else (("nowhere", _text(context, "nowhere")),)
    return GuestTurnForm(
        id=test.id,
        trial_id=str(uuid4()),
        sentences=_sentences(context, test, of_class),
        can_log=test.is_running,
        can_take_back=bool(test.usable_trials),
        places=() if panel is None else (*panel.places, *nowhere),
        unit="" if pad is None else pad.unit,
        misfires=tuple((f"misfire:{cause.key}", cause.name) for cause in challenge.misfires),
        own_parts=_own_parts(work, context),
        amount_name=challenge.outcome.amount_name,
    )


def _own_parts(work: Work, context: GroupContext) -> tuple[Pair, ...]:
    if not context.challenge.own_parts:
        return ()
    own = [
        (str(state.current.id), label_revision(state, state.current))
        for state in parts_of_context(work, context)
        if state.part.is_own and state.current is not None
    ]
    return (("", _text(context, "own")), *own)


def _sentences(
    context: GroupContext, test: GuestTest, of_class: Mapping[UUID, Group]
) -> tuple[str, ...]:
    asked = "" if test.asked_group_id is None else of_class[test.asked_group_id].name
    if test.is_waiting:
        return (_text(context, "waits", group=asked),)
    position = test.next_position or len(test.turns)
    student = test.turns[position - 1]
    name = _text(context, "teacher") if student is None else _nickname(of_class, student)
    key = "next_guest" if test.kind is GuestKind.GUESTS else "next_own"
    return (
        _text(context, key, name=name, group=asked, position=position, turns=len(test.turns)),
        _text(context, "between"),
    )


def _results(
    work: Work, context: GroupContext, test: GuestTest, of_class: Mapping[UUID, Group]
) -> list[str]:
    """Return what each launched: guests by number on a tablet, by name for the teacher."""
    lines = []
    for student in dict.fromkeys(trial.student_id for trial in test.usable_trials):
        results = [
            value_words(context.challenge, trial) or _text(context, "misfire")
            for trial in test.usable_trials
            if trial.student_id == student
        ]
        name = _text(context, "guest", number=test.number_of(student))
        if student is not None and (
            test.kind is GuestKind.THEIR_DEVICE or work.actor.role is not Role.TABLET
        ):
            name = _nickname(of_class, student)
        elif student is None:
            name = _text(context, "teacher")
        lines.append(_text(context, "result", name=name, results=", ".join(results)))
    return lines


def _nickname(of_class: Mapping[UUID, Group], student: UUID | None) -> str:
    for group in of_class.values():
        for member in group.members:
            if member.student_id == student:
                return member.nickname
    return ""
