"""When a swap test is offered, and which ones there are: findings come in, links go out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.analysis.cells import Observation
from journal.analysis.exchanges import find_part_reason
from journal.analysis.technique import FEWEST_TRIALS
from journal.analysis.verdicts import PracticeWord
from journal.content.finding_words import find_sentence
from journal.content.messages import word_message
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.swap_tests import SwapKind
from journal.findings.group_findings import GroupFindings
from journal.findings.swap_names import name_swap
from journal.findings.trial_records import records_of
from journal.screens.links import Link, Target, link_to
from journal.services.swap_tests import exchangeable_parts, swappable_parts

#: What the form for a plan begins with: two revisions, or the kind.
Choices = Mapping[str, UUID | str | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapLinks:
    """What a page of the group says about swap tests."""

    #: Why one would help, or how far the present one is; "" where there is nothing to say.
    sentence: str
    label: str
    link: Link | None
    #: Those that are over: words and link.
    past: tuple[tuple[str, Link], ...]


def link_swaps(
    record: GroupRecord, findings: GroupFindings, band: GradeBand | None = None
) -> SwapLinks:
    """Return the open swap test, else the offer of one where it would tell something."""
    band = band or record.context.school_class.band
    group_id = record.group.id
    past = tuple(
        (name_swap(record, test), _link(group_id, test.id))
        for test in record.swap_tests
        if test.is_over
    )
    running = next((test for test in record.swap_tests if not test.is_over), None)
    if running is not None:
        return SwapLinks(
            sentence=word_message(
                Message("swap_offers.swap_test", done=running.done, count=len(running.turns)),
                record.language,
            ),
            label="Go on",
            link=_link(group_id, running.id),
            past=past,
        )
    sentence, choices = _offer(record, findings, band)
    return SwapLinks(
        sentence=sentence,
        label=_label(sentence, choices, record.language),
        link=link_to(Target.NEW_SWAP_TEST, group_id=group_id, **choices) if sentence else None,
        past=past,
    )


def _link(group_id: UUID, swap_test_id: UUID) -> Link:
    return link_to(Target.SWAP_TEST, group_id=group_id, swap_test_id=swap_test_id)


def _label(sentence: str, choices: Choices, language: str) -> str:
    if not sentence:
        return ""
    message = (
        Message("swap_offers.plan_the_exchange")
        if "kind" in choices
        else Message("swap_offers.plan_a_swap_test")
    )
    return word_message(message, language)


def _offer(record: GroupRecord, findings: GroupFindings, band: GradeBand) -> tuple[str, Choices]:
    language = record.language
    swappable = {state.part.id for state in swappable_parts(record.parts)}
    for finding in reversed(findings.revisions):
        comparison, found = finding.comparison, record.find_revision(finding.revision_id)
        if comparison is None or found is None or finding.part_id not in swappable:
            continue
        _, revision = found
        if comparison.verdict.clear and comparison.practice is PracticeWord.NOT_RULED_OUT:
            labels = {"old": comparison.old, "new": comparison.new}
            choices: Choices = {"old": revision.parent_id, "new": revision.id}
            offer = (
                find_sentence("swap_offer", band, language, **labels),
                find_sentence("swap_few_turns", band, language),
            )
            return " ".join(sentence for sentence in offer if sentence), choices
    own = exchangeable_parts(record.context, record.parts)
    if own and _is_bound(record):
        part = next(iter(own.values())).kind.name.lower()
        sentence = find_sentence("exchange_offer", band, language, part=part) or ""
        return sentence, {"kind": SwapKind.OWN_PARTS.value}
    return "", {}


def _is_bound(record: GroupRecord) -> bool:
    """Tell whether own parts cannot be told from their students, for want of an exchange."""
    main = record.main_part
    if main is None or main.part.is_own:
        return False
    seen = [
        Observation(
            revision=trial_record.revision,
            student=trial_record.student,
            own_part=trial_record.own_part,
            value=trial_record.measured,
        )
        for trial_record in records_of(record, main)
        if trial_record.student and trial_record.measured is not None
    ]
    reason = find_part_reason(seen)
    return len(seen) >= FEWEST_TRIALS and reason is not None and reason.offers_exchange
