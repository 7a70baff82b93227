"""The diagnosis of a group, with its probability.

Comes in: a GroupRecord. Goes out: a GroupDiagnosis; its words for the teacher stand in
`diagnosis_words`, the ladder only asks what the trials point to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache

from journal.analysis.diagnosis.diagnose import LEAST_TO_SPEAK, PLAIN_FRAME, Diagnosis, diagnose
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.diagnosis.trials import Zones, zones_of
from journal.analysis.records import TrialRecord, own_trials
from journal.content.rounding import split_by_line
from journal.domain.diagnoses import Reading
from journal.domain.group_records import GroupRecord
from journal.domain.panels import Panel
from journal.findings.trial_records import guest_records_of, label_revision, records_of


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
    records, newest = _choose(record, until)
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
        newest=newest,
    )
    parts = split_by_line(tuple(found.joint.values()), LEAST_TO_SPEAK)
    shares = list(zip((Reading(grouped.value) for grouped in found.joint), parts, strict=True))
    own = own_trials(records)
    return GroupDiagnosis(
        diagnosis=found,
        reading=Reading(found.grouped.value),
        shares=tuple(sorted(shares, key=lambda share: -share[1])),
        trials=len(own),
        revisions=tuple(dict.fromkeys(trial_record.revision for trial_record in own)),
    )


def points_to(record: GroupRecord, until: datetime | None = None) -> Reading:
    """Return the one reading a question may lean on, device or use; else that none is clear."""
    reading = diagnose_group(record, until).reading
    return reading if reading in {Reading.DEVICE, Reading.USE} else Reading.CANNOT_TELL


@lru_cache(maxsize=32)
def _zones(panel: Panel) -> Zones:
    """Measure a panel's zones once: it takes longer than a diagnosis."""
    return zones_of(panel)


def _choose(record: GroupRecord, until: datetime | None) -> tuple[Sequence[TrialRecord], str]:
    """Return the trials with the group's main part, in order, and the revision in question.

    Older revisions enter as a contrast: how the newest one does beside them. What was set aside is
    not the newest; a swap test goes back to an old one without meaning to stay.
    """
    main = record.main_part
    if main is None:
        return (), ""
    trials = record.usable_trials
    known = len(trials) if until is None else sum(trial.received_at <= until for trial in trials)
    records = [
        trial_record for trial_record in records_of(record, main) if trial_record.order < known
    ]
    received = [(trials[each.order].received_at, each) for each in records]
    received += guest_records_of(record, main, until)
    if len(received) > len(records):
        in_turn = sorted(received, key=lambda pair: pair[0])
        records = [replace(each, order=order) for order, (_, each) in enumerate(in_turn)]
    launched = {trial_record.revision for trial_record in records if not trial_record.owner}
    newest = sorted(main.revisions, key=lambda revision: (revision.is_set_aside, -revision.number))
    labels = [label_revision(main, revision) for revision in newest]
    return tuple(records), next((label for label in labels if label in launched), "")
