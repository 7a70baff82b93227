"""The diagnosis of a group, with its probability.

Comes in: a GroupRecord. Goes out: a GroupDiagnosis; its words for the teacher stand in
`diagnosis_words`, the ladder only asks what the trials point to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from journal.analysis.diagnosis.diagnose import PLAIN_FRAME, Diagnosis, diagnose, least_to_speak
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.diagnosis.trials import Zones, zones_of
from journal.analysis.records import TrialRecord
from journal.content.rounding import split_by_line
from journal.domain.diagnoses import Reading
from journal.domain.group_records import GroupRecord
from journal.domain.panels import Panel
from journal.findings.trial_records import label_revision, records_of

#: Whole revisions are looked at, the newest first, until so many trials are together: with fewer
#: little can be said, and what is older may have had another cause.
ENOUGH_TRIALS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupDiagnosis:
    """What the newest trials of a group point to."""

    diagnosis: Diagnosis
    reading: Reading
    #: How sure each reading is, in 100, the likeliest first; empty where nothing can be said.
    shares: tuple[tuple[Reading, int], ...]
    #: Trials that it rests on, and the revisions they were done with.
    trials: int
    revisions: tuple[str, ...]

    @property
    def in_100(self) -> int:
        """Return how sure the reading is that is named, in 100; 0 where none is."""
        return next((share for reading, share in self.shares if reading is self.reading), 0)


def diagnose_group(record: GroupRecord, until: datetime | None = None) -> GroupDiagnosis:
    """Return what the newest trials of a group's main part point to, those in by a moment."""
    records = _newest(record, until)
    panel = record.context.challenge.panel
    found = diagnose(
        records,
        frame=PLAIN_FRAME
        if panel is None
        else Frame(
            left_mm=panel.left_mm,
            right_mm=panel.right_mm,
            bottom_mm=panel.bottom_mm,
            top_mm=panel.top_mm,
        ),
        direction=record.context.challenge.outcome.direction,
        zones=None if panel is None else _zones(panel),
    )
    parts = split_by_line(tuple(found.joint.values()), least_to_speak(len(records)))
    shares = list(zip((Reading(grouped.value) for grouped in found.joint), parts, strict=True))
    return GroupDiagnosis(
        diagnosis=found,
        reading=Reading(found.grouped.value),
        shares=tuple(sorted(shares, key=lambda share: -share[1])),
        trials=len(records),
        revisions=tuple(dict.fromkeys(trial_record.revision for trial_record in records)),
    )


def points_to(record: GroupRecord, until: datetime | None = None) -> Reading:
    """Return the one reading a question may lean on, device or use; else that none is clear."""
    reading = diagnose_group(record, until).reading
    return reading if reading in {Reading.DEVICE, Reading.USE} else Reading.CANNOT_TELL


@lru_cache(maxsize=32)
def _zones(panel: Panel) -> Zones:
    """Measure a panel's zones once: it takes longer than a diagnosis."""
    return zones_of(panel)


def _newest(record: GroupRecord, until: datetime | None) -> Sequence[TrialRecord]:
    """Return the trials of the newest revisions in use, at the newest distance, in order."""
    main = record.main_part
    if main is None:
        return ()
    trials = record.usable_trials
    known = len(trials) if until is None else sum(trial.received_at <= until for trial in trials)
    records = [
        trial_record for trial_record in records_of(record, main) if trial_record.order < known
    ]
    if not records:
        return ()
    same = [
        trial_record
        for trial_record in records
        if trial_record.distance_mm == records[-1].distance_mm
    ]
    # What was set aside comes last; a swap test goes back to an old one without meaning to stay.
    newest = sorted(main.revisions, key=lambda revision: (revision.is_set_aside, -revision.number))
    chosen: list[TrialRecord] = []
    for revision in newest:
        if len(chosen) >= ENOUGH_TRIALS:
            break
        label = label_revision(main, revision)
        chosen += [trial_record for trial_record in same if trial_record.revision == label]
    return tuple(sorted(chosen, key=lambda trial_record: trial_record.order))
