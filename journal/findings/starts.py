"""What a group reads before its first trial: what there is, and what comes first."""

from __future__ import annotations

from journal.domain.group_records import GroupRecord
from journal.findings.voices import Voice, voice_of


def say_nothing_tested(record: GroupRecord, voice: Voice) -> str:
    """Say that nothing was built, or that nothing of what was built was tested."""
    if _is_built(record):
        return voice.say("nothing_tested")
    challenge = record.context.challenge
    name = next(kind.name for kind in (*challenge.shared_parts, *challenge.own_parts))
    return voice.say("nothing_built", part=name[:1].lower() + name[1:])


def say_build_first(record: GroupRecord) -> str:
    """Say what a group does first; "" where the main part has a revision."""
    return "" if _is_built(record) else voice_of(record.context.school_class).say("build_first")


def _is_built(record: GroupRecord) -> bool:
    return record.main_part is not None and bool(record.main_part.revisions)
