"""The frame of a group's page, filled from its bench."""

from __future__ import annotations

from journal.services.benches import Bench
from journal.services.frames import TabletFrame


def frame_group(bench: Bench, what: str) -> TabletFrame:
    """Return the frame; `what` says what the page is about, such as "Our journal"."""
    launches = bench.challenge.launches
    running = bench.running
    return TabletFrame(
        title=f"{bench.group.name}, {what}",
        group_id=bench.group.id,
        group_number=bench.group.number,
        group_name=bench.group.name,
        what=what,
        band=bench.school_class.band.value,
        language=bench.school_class.language,
        caution=bench.challenge.caution,
        lane_open=(running is not None and running.gate is not None) if launches else None,
    )
