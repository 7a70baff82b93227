"""Fields in which a child taps a starter, writes, or lets somebody write: values for the page."""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.starters import get_starters
from journal.domain.classes import GradeBand
from journal.domain.group_contexts import GroupContext

#: Who wrote, where it was the teacher; members go by nickname.
TEACHER = "teacher"


@dataclass(frozen=True, slots=True, kw_only=True)
class SentenceField:
    """One field: own words are sent under its name, the tapped starter under `<name>_starter`."""

    name: str
    label: str
    starters: tuple[str, ...]
    #: Of the starters, where it may be another one than the page's.
    language: str = ""
    starter: str = ""
    words: str = ""
    #: What stands there already, oldest first.
    kept: tuple[str, ...] = ()
    #: Show the starters at once rather than after a tap.
    starters_shown: bool = False
    #: Show the field for own words at once rather than after a tap.
    words_shown: bool = True
    is_open: bool = True
    #: What was drawn about it before, as SVG; "" without.
    drawing: str = ""


def make_field(
    context: GroupContext,
    name: str,
    label: str,
    *,
    starter: str = "",
    words: str = "",
    kept: tuple[str, ...] = (),
    is_open: bool = True,
) -> SentenceField:
    """Return a field with the starters of the context's band."""
    band = context.school_class.band
    # Whoever cannot type yet taps: what is tapped stands first, own words behind a tap.
    taps_first = band is GradeBand.TWO
    return SentenceField(
        name=name,
        label=label,
        starters=get_starters(name, band, context.school_class.language),
        starter=starter,
        words=words,
        kept=kept,
        starters_shown=taps_first or bool(starter),
        words_shown=not taps_first or bool(words),
        is_open=is_open,
    )


def scribe_options(context: GroupContext) -> tuple[tuple[str, str], ...]:
    """Return who may have written it down, as pairs of value and words."""
    members = tuple((member.nickname, member.nickname) for member in context.members)
    return (("", "We wrote it"), *members, (TEACHER, "Our teacher"))


def member_options(context: GroupContext) -> tuple[tuple[str, str], ...]:
    """Return the members who are there, as pairs of id and nickname."""
    return tuple((str(member.student_id), member.nickname) for member in context.members)
