"""Logging a trial enters few functions of the journal: nothing is looked up or worked out twice."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from types import FrameType
from uuid import uuid4

from flask.testing import FlaskClient

import journal
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.web.test_trial_api import body_of

OURS = str(Path(journal.__file__).parent)
#: It was 87 while a hit was judged by each edge of its panel and permits were handed on.
MOST_FUNCTIONS = 76
#: How often they are entered in all; it was 174.
MOST_CALLS = 145


def test_a_trial_enters_few_functions(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """Functions of the journal by their names, without comprehensions and lambdas."""
    body = body_of(classroom, clock, sent_at=clock().isoformat(), amount=4.0)
    tablet.put(f"/api/trials/{uuid4()}", json=body)
    entered: Counter[str] = Counter()

    def note(frame: FrameType, event: str, _: object) -> None:
        code = frame.f_code
        if event == "call" and code.co_filename.startswith(OURS) and code.co_name[0] != "<":
            entered[f"{code.co_filename}:{code.co_qualname}"] += 1

    sys.setprofile(note)
    try:
        answer = tablet.put(f"/api/trials/{uuid4()}", json=body)
    finally:
        sys.setprofile(None)

    assert answer.status_code == 201
    assert len(entered) <= MOST_FUNCTIONS, "\n".join(entered)
    assert entered.total() <= MOST_CALLS
