"""Hits written down by hand: the same children, gathering where they are told to."""

from dataclasses import replace

from journal.analysis.diagnosis.diagnose import Diagnosis
from journal.analysis.diagnosis.reasons import ReasonKey
from journal.analysis.records import TrialRecord
from journal.domain.trials import Place

#: Eight hits in mm about a middle, as regular as a circle.
ROUND = ((80, 0), (57, 57), (0, 80), (-57, 57), (-80, 0), (-57, -57), (0, -80), (57, -57))
SIZES = (0.5, 1.2, 0.8, 1.4)


def hits_of(
    middles: dict[str, tuple[float, float]], *, times: dict[str, float] | None = None, n: int = 8
) -> list[TrialRecord]:
    """Return n trials of each student about a middle, scatter multiplied where asked for."""
    records = []
    for at in range(n):
        for place, (name, (x_mm, y_mm)) in enumerate(middles.items()):
            dx, dy = ROUND[(3 * at + place) % len(ROUND)]
            size = SIZES[(at + place) % len(SIZES)] * (times or {}).get(name, 1.0)
            x_mm_at, y_mm_at = x_mm + size * dx, y_mm + size * dy
            on_panel = max(abs(x_mm_at), abs(y_mm_at)) <= 300
            records.append(
                TrialRecord(
                    order=len(records) + 1,
                    revision="r1",
                    student=name,
                    own_part=f"dart of {name}",
                    x_mm=x_mm_at if on_panel else None,
                    y_mm=y_mm_at if on_panel else None,
                    place=Place.PANEL if on_panel else Place.WALL,
                    amount=float(1 + (5 * at + place) % 8),
                )
            )
    return records


MIDDLE = {"Ash": (0.0, 10.0), "Dot": (-10.0, 0.0), "Mika": (10.0, -5.0)}
LOW = {name: (x_mm, y_mm - 190.0) for name, (x_mm, y_mm) in MIDDLE.items()}
KEYS = {ReasonKey.SAME_SIDE, ReasonKey.STUDENT_OFF, ReasonKey.STUDENT_WIDE}


def keys_of(found: Diagnosis) -> set[ReasonKey]:
    """Return what is described."""
    return {reason.key for reason in found.reasons}


GUESTS = {"Robin": (5.0, 0.0), "Sky": (-5.0, 5.0)}


def guests_of(middle_mm: tuple[float, float], n: int = 4, start: int = 100) -> list[TrialRecord]:
    """Return launches of our device by two guests, in turn, about a middle."""
    middles = {name: (x + middle_mm[0], y + middle_mm[1]) for name, (x, y) in GUESTS.items()}
    return [replace(record, guest=True, order=record.order + start)
            for record in hits_of(middles, n=n)]  # fmt: skip
