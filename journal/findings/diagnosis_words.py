"""A diagnosis in the teacher's words: a heading, a sentence, and what can be seen in the data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.analysis.diagnosis.diagnose import FEWEST_TRIALS, Grouped, least_to_speak
from journal.analysis.diagnosis.reasons import Reason, ReasonKey
from journal.content.texts import get_text
from journal.domain.diagnoses import Reading
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_number
from journal.findings.diagnoses import GroupDiagnosis


@dataclass(frozen=True, slots=True, kw_only=True)
class DiagnosisWords:
    """What the teacher reads."""

    heading: str
    sentence: str
    reasons: tuple[str, ...]


def word_diagnosis(record: GroupRecord, found: GroupDiagnosis) -> DiagnosisWords:
    """Return the diagnosis in words."""
    language = record.context.school_class.language
    key = found.reading.value.replace(" ", "_")
    says = key
    keys = {reason.key for reason in found.diagnosis.reasons}
    if found.reading is Reading.USE and ReasonKey.OWN_PART_NEVER_EXCHANGED in keys:
        says = "use_or_part"
    if found.reading is Reading.CANNOT_TELL and _device_is_likeliest(found):
        says = "cannot_tell_device"
    if found.trials < FEWEST_TRIALS:
        says = "too_few"
    return DiagnosisWords(
        heading=get_text("diagnoses", language, "headings", key),
        sentence=get_text("diagnoses", language, "says", says).format(
            named_from=round(100 * least_to_speak(found.trials))
        ),
        reasons=tuple(_word_reason(record, reason, language) for reason in found.diagnosis.reasons)
        if found.trials
        else (),
    )


def _device_is_likeliest(found: GroupDiagnosis) -> bool:
    """Tell whether the device is likely enough to be named, and not far enough before the rest."""
    share = found.diagnosis.joint.get(Grouped.DEVICE, 0.0)
    return share >= least_to_speak(found.trials)


def name_reading(reading: Reading, language: str) -> str:
    """Return the short name of a reading."""
    return get_text("diagnoses", language, "names", reading.value.replace(" ", "_"))


def _word_reason(record: GroupRecord, reason: Reason, language: str) -> str:
    key = reason.key.value
    students = [_nickname(record, student) for student in reason.students]
    others = [_nickname(record, other) for other in reason.others]
    if reason.key is ReasonKey.SAME_SIDE and others:
        key = f"{key}_but"
    sides = [get_text("diagnoses", language, "sides", side) for side in reason.sides]
    text = get_text("diagnoses", language, "reasons", key)
    return text.format(
        students=_list(students),
        gather="gather" if len(students) > 1 else "gathers",
        others=_list(others),
        do="do" if len(others) > 1 else "does",
        sides=" and ".join(sides) or "on one side",
        revisions=_list(reason.revisions),
        **{name: show_number(value, 0) for name, value in reason.figures.items()},
    )


def _nickname(record: GroupRecord, student: str) -> str:
    try:
        return record.nicknames.get(UUID(student), "A former member")
    except ValueError:
        return "Somebody not named"


def _list(words: Sequence[str]) -> str:
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
