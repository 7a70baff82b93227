"""A diagnosis in the teacher's words: a heading, a sentence, and what can be seen in the data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.diagnose import FEWEST_TRIALS, Needs
from journal.analysis.diagnosis.next_tests import NextTest
from journal.analysis.diagnosis.reasons import Reason, ReasonKey
from journal.content.texts import get_text, key_of
from journal.domain.diagnoses import Reading
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_number
from journal.findings.diagnoses import GroupDiagnosis

#: Readings that put the results down to something.
_NAMED = {Reading.DEVICE, Reading.USE, Reading.BOTH}


@dataclass(frozen=True, slots=True, kw_only=True)
class DiagnosisWords:
    """What the teacher reads."""

    heading: str
    sentence: str
    reasons: tuple[str, ...]
    #: The test that would tell most, why, and how long it takes; empty where none is proposed.
    next_test: tuple[str, ...] = ()


def word_diagnosis(record: GroupRecord, found: GroupDiagnosis) -> DiagnosisWords:
    """Return the diagnosis in words."""
    language = record.language
    diagnosis = found.diagnosis
    key = key_of(found.reading)
    says, sides = key, ""
    if found.reading is Reading.USE:
        says = _use_key(found)
    if diagnosis.needs is Needs.CONTRAST:
        key = says = "needs_contrast"
        sides = _sides_of_all(found, language)
        if sides:
            says = "needs_contrast_all"
    is_named = found.reading in _NAMED
    alone = next((r for r in diagnosis.reasons if r.key is ReasonKey.ONE_STUDENT), None)
    has_others = any(reason.key is ReasonKey.GUESTS for reason in diagnosis.reasons)
    if is_named and alone is not None and not has_others:
        # "Whoever tests" and "from one member to the next" hold for several members only.
        says = "one_member" if alone.students else "nobody_named"
    if found.trials < FEWEST_TRIALS:
        says = "too_few"
    return DiagnosisWords(
        heading=get_text("diagnoses", language, "headings", key),
        sentence=get_text("diagnoses", language, "says", says).format(sides=sides),
        reasons=tuple(
            _word_reason(record, reason, language)
            for reason in diagnosis.reasons
            # Said above: beside a reading that is named, "cannot be told apart" would deny it.
            if not (is_named and reason is alone)
        )
        if found.trials or _has_guests(found)
        else (),
        next_test=()
        if diagnosis.next_test is None
        else word_next_test(diagnosis.next_test, language),
    )


def word_contrast(record: GroupRecord, found: GroupDiagnosis) -> str:
    """Return what a group reads where its trials alone cannot tell; "" elsewhere.

    It speaks of all of them together, never of one.
    """
    language, band = record.language, record.context.school_class.band
    sides = _sides_of_all(found, language)
    if found.diagnosis.needs is not Needs.CONTRAST or not sides:
        return ""
    return get_text("guest_tests", language, "contrast", band.value).format(sides=sides)


def word_next_test(proposed: NextTest, language: str) -> tuple[str, ...]:
    """Return a proposed test in words: what, why, and how long it takes."""
    effort = get_text("diagnoses", language, "next_tests", "effort")
    return (
        get_text("diagnoses", language, "next_tests", proposed.kind.value),
        get_text("diagnoses", language, "next_tests", "because", proposed.because.value),
        effort.format(launches=proposed.launches, minutes=proposed.minutes),
    )


def _use_key(found: GroupDiagnosis) -> str:
    keys = {reason.key for reason in found.diagnosis.reasons}
    uses = (Cause.USE_SOME, Cause.USE_ALL_FADING, Cause.USE_ALL_STEADY)
    likeliest = max(uses, key=lambda cause: found.diagnosis.probabilities[cause] or 0.0)
    if likeliest is Cause.USE_SOME and ReasonKey.OWN_PART_NEVER_EXCHANGED in keys:
        return "use_or_part"
    return likeliest.value


def _sides_of_all(found: GroupDiagnosis, language: str) -> str:
    """Return the side on which all members gather, in words; "" where they do not."""
    reason = next((r for r in found.diagnosis.reasons if r.key is ReasonKey.SAME_SIDE), None)
    if reason is None or reason.others or not reason.sides:
        return ""
    return " and ".join(get_text("diagnoses", language, "sides", side) for side in reason.sides)


def _has_guests(found: GroupDiagnosis) -> bool:
    return any(reason.key is ReasonKey.ONLY_GUESTS for reason in found.diagnosis.reasons)


def name_reading(reading: Reading, language: str) -> str:
    """Return the short name of a reading."""
    return get_text("diagnoses", language, "names", key_of(reading))


def _word_reason(record: GroupRecord, reason: Reason, language: str) -> str:
    key = reason.key.value
    students = [_nickname(record, student) for student in reason.students]
    others = [_nickname(record, other) for other in reason.others]
    if reason.key is ReasonKey.SAME_SIDE and others:
        key = f"{key}_but"
    figures = {name: show_number(value, 0) for name, value in reason.figures.items()}
    if reason.key is ReasonKey.TOO_FEW_TRIALS and figures["n"] == "1":
        key = f"{key}_one"
    if reason.key is ReasonKey.ONE_STUDENT and not students:
        key = f"{key}_unnamed"
    if reason.key is ReasonKey.SCATTER_OF_ALL and figures["least_mm"] == figures["most_mm"]:
        key = f"{key}_same"
    sides = [get_text("diagnoses", language, "sides", side) for side in reason.sides]
    text = get_text("diagnoses", language, "reasons", key)
    sentence = text.format(
        students=_list(students),
        gather="gather" if len(students) > 1 else "gathers",
        others=_list(others),
        do="do" if len(others) > 1 else "does",
        sides=" and ".join(sides) or "on one side",
        revisions=_list(reason.revisions),
        **figures,
    )
    return sentence[:1].upper() + sentence[1:]


def _nickname(record: GroupRecord, student: str) -> str:
    try:
        return record.group.name_of(UUID(student))
    except ValueError:
        return "Somebody not named"


def _list(words: Sequence[str]) -> str:
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
