"""The frame of a group's page, filled from its bench."""

from __future__ import annotations

from journal.content.gates import get_lane_words, get_rules_line
from journal.domain.benches import Bench
from journal.domain.sessions import LaneState
from journal.screens.frames import LaneLine, TabletFrame


def frame_group(bench: Bench, what: str, title: str = "") -> TabletFrame:
    """Return the frame; `what` says what the page is about, such as "Our journal".

    `title` names the page in the window where `what` is longer than that.
    """
    language = bench.school_class.language
    return TabletFrame(
        title=f"{bench.group.name}, {title or what}",
        group_id=bench.group.id,
        group_number=bench.group.number,
        group_name=bench.group.name,
        what=what,
        band=bench.school_class.band.value,
        language=language,
        caution=bench.challenge.caution,
        rules=get_rules_line(language),
        lane=_lane(bench, language) if bench.challenge.has_gate else None,
    )


def _lane(bench: Bench, language: str) -> LaneLine:
    words = get_lane_words(language, launches=bench.challenge.launches)
    state = LaneState.CLOSED if bench.running is None else bench.running.lane
    return LaneLine(
        state=state.value, open=words["open"], closed=words["closed"], ask=words["ask"]
    )
