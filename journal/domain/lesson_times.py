"""How long a lesson lasts: what is proposed for a band, what a teacher may enter, what is left."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_whole
from journal.domain.sessions import Session

#: Proposed where nothing was entered (common practice, no source).
USUAL_LENGTH_MIN = {
    GradeBand.TWO: 40,
    GradeBand.THREE_TO_FIVE: 45,
    GradeBand.SIX_TO_EIGHT: 50,
}
LEAST_LENGTH_MIN, MOST_LENGTH_MIN = 10, 240
#: The last minutes of a lesson belong to putting things away (common practice, no source).
CLEAN_UP_MIN = 6
#: A session that was ended by mistake can be taken up again for so long (our own choice).
TAKE_UP_WITHIN = timedelta(hours=3)


@dataclass(frozen=True, slots=True, kw_only=True)
class LessonTimes:
    """The times of a session as they stand now; a pause moves the end."""

    started_at: datetime
    clean_up_at: datetime
    ends_at: datetime
    minutes_left: int
    #: Until the clean-up.
    minutes_to_clean_up: int
    #: How far the lesson has got, from 0 to 1.
    share: float
    clean_up_share: float

    @property
    def is_over(self) -> bool:
        """Tell whether the lesson's time is up."""
        return self.share >= 1


def read_length_min(text: str, band: GradeBand) -> int:
    """Return the length of a lesson as it was entered, or the usual one for an empty field."""
    if not text.strip():
        return USUAL_LENGTH_MIN[band]
    try:
        length_min = read_whole(text)
    except NoNumber as error:
        raise Invalid.at("length_min", error.message) from None
    if not LEAST_LENGTH_MIN <= length_min <= MOST_LENGTH_MIN:
        what = Message(
            "sessions.length", given=length_min, least=LEAST_LENGTH_MIN, most=MOST_LENGTH_MIN
        )
        raise Invalid.at("length_min", what)
    return length_min


def find_times(session: Session, now: datetime) -> LessonTimes | None:
    """Return the times of a running session; None where its length was not asked."""
    if session.length_min is None or not session.is_running:
        return None
    at = now if session.paused_at is None else session.paused_at
    taught = max(at - session.started_at - timedelta(seconds=session.paused_s), timedelta())
    length = timedelta(minutes=session.length_min)
    left = max(length - taught, timedelta())
    clean_up = timedelta(minutes=CLEAN_UP_MIN)
    ends_at = now + left if taught < length else at - taught + length
    return LessonTimes(
        started_at=session.started_at,
        clean_up_at=ends_at - clean_up,
        ends_at=ends_at,
        minutes_left=_whole_minutes(left),
        minutes_to_clean_up=_whole_minutes(max(left - clean_up, timedelta())),
        share=min(taught / length, 1.0),
        clean_up_share=1 - clean_up / length,
    )


def _whole_minutes(left: timedelta) -> int:
    """Return minutes, rounded up: the last minute is still one."""
    return -int(-left.total_seconds() // 60)
