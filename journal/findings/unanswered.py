"""Findings that stand for those whose analysis failed, and the sentences that say so.

In: a class's language or a Voice. Out: empty findings, and sentences "cannot say ..., because ...".
"""

from __future__ import annotations

from collections.abc import Sequence

from journal.analysis.handling import NO_HANDLING
from journal.analysis.practice import NO_PRACTICE
from journal.analysis.technique import ShareReason, no_shares
from journal.charts.tables import ChartTable
from journal.content.teacher_words import word_for_teacher
from journal.domain.group_records import GroupRecord
from journal.findings.criteria import CriterionState
from journal.findings.handling import HandlingWords
from journal.findings.practice import PracticeFinding
from journal.findings.use import UseFinding
from journal.findings.voices import Voice, non_empty


def no_use(language: str) -> UseFinding:
    """Return what stands for device and use."""
    return UseFinding(
        shares=no_shares(ShareReason.NOT_WORKED_OUT),
        lines=(),
        sentences=(describe_failure("use", language),),
        offers_exchange=False,
        table=ChartTable(caption="Students and revisions", header=("Student",), rows=()),
    )


def no_handling(language: str) -> HandlingWords:
    """Return what stands for the ways of handling."""
    return HandlingWords(
        found=NO_HANDLING,
        lines=(),
        notes=(describe_failure("handling", language),),
        spoken=None,
        sentence="",
    )


def no_practice(language: str) -> PracticeFinding:
    """Return what stands for practice."""
    return PracticeFinding(
        practice=NO_PRACTICE, autocorrelation=None, sentence=describe_failure("practice", language)
    )


def open_criteria(record: GroupRecord) -> tuple[CriterionState, ...]:
    """Return the criteria without where the group stands with them."""
    return tuple(
        CriterionState(text=criterion.text, is_met=None, sentence="")
        for criterion in record.context.challenge.criteria
    )


def describe_failure(question: str, language: str) -> str:
    """Say to the teacher what cannot be said, and why."""
    what = word_for_teacher(f"unanswered_{question}", language)
    return word_for_teacher("unanswered", language, what=what)


def describe_unanswered(
    failed: Sequence[str], voice: Voice, *, to_teacher: bool
) -> tuple[str, ...]:
    """Return which analyses failed: each by name to the teacher, only that some did to children."""
    if to_teacher:
        return tuple(describe_failure(question, voice.language) for question in failed)
    return non_empty(voice.say("cannot_say_more")) if failed else ()
