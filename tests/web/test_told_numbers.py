"""No sentence of a page or sheet contradicts the numbers beside it, however odd the group."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, Direction, near_is_better
from journal.domain.trials import TrialState
from journal.portfolio import gathering as portfolios
from journal.portfolio.gathering import gather_portfolio
from journal.printing.papers import render_paper
from journal.records.work import open_work
from journal.screens.desk import diagnoses as diagnosis_pages
from journal.screens.desk import findings as finding_pages
from journal.screens.desk import overviews
from journal.screens.desk.group_glances import make_glance
from journal.screens.tablet import journals as journal_pages
from journal.store.engine import Store
from journal.web.api import findings as finding_api
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with, told_values
from tests.web.api_numbers import find_api_contradictions
from tests.web.diagnosis_numbers import find_diagnosis_contradictions
from tests.web.told_numbers import (
    facts_of,
    find_contradictions,
    section_of,
    words_of_page,
)

SIX = GradeBand.SIX_TO_EIGHT
POINTS = [0.0, 1, 2, 4, 8]
DIRECTIONS = [MORE_IS_BETTER, LESS_IS_BETTER, near_is_better(4)]


def rows(values: Sequence[float], revision: int, student: int | None = 0) -> list[Told]:
    """Return trials of one student."""
    return [Told(value=value, revision=revision, student=student) for value in values]


#: Odd groups, by what is odd about them.
GROUPS = {
    "unequal turns": [
        *(rows([1.0, 2], 1, 0) + rows([8.0, 4, 8, 8, 4, 8], 1, 1)),
        *(rows([4.0, 4, 2, 4, 4, 4], 2, 0) + rows([8.0, 8], 2, 1)),
    ],
    "misfires": [*rows([1.0, 4], 1), *[Told(misfire="stuck", revision=1)] * 4, *rows([4.0, 8], 2)],
    "only misfires": [*rows([1.0, 4, 2], 1), *[Told(misfire="stuck", revision=2)] * 3],
    "two distances": [
        *rows([8.0, 8, 4], 1),
        *(replace(one, distance_mm=4000) for one in rows([1.0, 2, 1], 2)),
    ],
    "three revisions": [
        *told_values([1.0, 2, 1, 2, 1, 2, 4, 2, 1], 1, 3),
        *told_values([8.0, 4, 8, 8, 4, 8, 8, 4, 8, 8, 8, 4, 8], 2, 3),
        *told_values([2.0, 4, 2, 1, 2, 4, 1], 3, 3),
    ],
    "one child": [*rows([1.0, 2, 2, 4, 1], 1), *rows([4.0, 8, 8, 4, 4, 8, 8], 2)],
    "everybody at the top": [*rows([8.0] * 8, 1), *rows([8.0] * 14, 2)],
    "nobody hit": [*rows([0.0] * 6, 1), *rows([0.0] * 6, 2)],
    "four and four": [*rows([4.0] * 3, 1), *rows([4.0] * 3, 2)],
    "falling to nothing": [*rows([8.0] * 3, 1), *rows([0.0] * 3, 2)],
    "the same at first": [*rows([4.0] * 4 + [8.0], 1), *rows([4.0] * 4 + [1.0], 2)],
    "the same, then a third": [
        *(rows([4.0] * 4 + [8.0], 1) + rows([4.0] * 4 + [1.0], 2) + rows([2.0, 1], 3)),
    ],
    "the same for one of two": [
        *(rows([4.0] * 4, 1) + rows([4.0] * 4, 2) + rows([8.0], 1, 1) + rows([1.0], 2, 1)),
        *rows([2.0, 1], 3),
    ],
    "one trial": rows([4.0], 1),
    "one and one": [*rows([4.0], 1), *rows([8.0], 2)],
    "neighbours": [*rows([4.0] * 6 + [8.0] * 6, 1), *rows([8.0] * 6 + [4.0] * 7, 2)],
    "nobody named": [*rows([1.0, 2, 4, 1], 1, None), *rows([4.0, 8, 4, 8], 2, None)],
    "a third child": [
        *rows([8.0] * 5, 1, 2),
        *told_values([1.0, 2, 1, 2, 1, 2, 1, 2], 1, 2),
        *told_values([4.0, 8, 4, 8, 4, 8, 4, 8], 2, 2),
    ],
    "many": [*told_values(POINTS * 6, 1, 3), *told_values(POINTS[::-1] * 5, 2, 3)],
    "by rounding": [*told_values([7.9, 8.1, 8.0, 7.99], 1), *told_values([8.0, 8.01, 7.95], 2)],
    "seldom a lead": [*rows([4.0] * 11 + [1.0], 1), *rows([4.0] * 11 + [2.0], 2)],
    "in turn": [
        Told(value=float(8 if revision == 2 else 2), revision=revision, student=student)
        for revision, student in [(1, 0), (2, 1), (2, 0), (1, 1), (2, 0), (1, 1), (1, 0), (2, 1)]
    ],
}


def directed(record: GroupRecord, direction: Direction, band: GradeBand) -> GroupRecord:
    """Return the record of a class of a band, with another direction of the outcome."""
    challenge = record.context.challenge
    outcome = replace(challenge.outcome, direction=direction)
    return in_band(
        replace(
            record, context=replace(record.context, challenge=replace(challenge, outcome=outcome))
        ),
        band,
    )


def with_struck(record: GroupRecord) -> GroupRecord:
    """Return the record with its first trial of each revision struck once more before it."""
    if not record.trials:
        return record
    struck = replace(record.trials[0], state=TrialState.STRUCK, value=8.0, misfire=None)
    return replace(record, trials=(struck, *record.trials))


class Reader:
    """Opens the pages and the sheet of a record, and says what is wrong in them."""

    def __init__(
        self, store: Store, room: Classroom, teacher: FlaskClient, tablet: FlaskClient
    ) -> None:
        self.store, self.room, self.teacher, self.tablet = store, room, teacher, tablet

    def find(self, record: GroupRecord, band: GradeBand) -> list[str]:
        """Return every contradiction on journal, findings page, overview, sheet and API."""
        home = f"/groups/{self.room.group_ids[0]}"
        with pytest.MonkeyPatch.context() as patch:
            for module in (finding_pages, journal_pages, portfolios, diagnosis_pages, finding_api):
                patch.setattr(module, "gather_group", lambda *_: record)
            patch.setattr(
                overviews,
                "glance_at_class",
                lambda *_: (make_glance(record),),
            )
            shown = self.tablet.get(f"{home}/journal").text
            journal = words_of_page(shown)
            # What is seen before anything is opened explains its own numbers.
            finding = words_of_page(section_of(shown, "finding"))
            findings = words_of_page(self.teacher.get(f"{home}/findings").text)
            overview = self.teacher.get(f"/classes/{self.room.class_id}/overview")
            assert 200 == overview.status_code
            with open_work(self.store, self.room.teacher, writing=False) as work:
                page = gather_portfolio(work, self.room.group_ids[0])
            diagnosis = words_of_page(self.teacher.get(f"{home}/diagnosis").text)
            by_teacher = self.teacher.get(f"/api{home}/findings").get_json()
            by_tablet = self.tablet.get(f"/api{home}/findings").get_json()
        sheet = words_of_page(render_paper("portfolio.html", page))
        beyond = [
            *(f"diagnosis: {wrong}" for wrong in find_diagnosis_contradictions(diagnosis, record)),
            *(f"API: {wrong}" for wrong in find_api_contradictions(by_teacher, record, band)),
            *(f"tablet: {wrong}" for wrong in find_api_contradictions(by_tablet, record, band)),
        ]
        return beyond + [
            f"{name}: {wrong}"
            for name, text, read_as, finished in (
                ("journal", journal, band, False),
                ("the journal's finding", finding, band, False),
                ("findings", findings, SIX, False),
                ("overview", words_of_page(overview.text), SIX, False),
                ("sheet", sheet, band, True),
            )
            for wrong in find_contradictions(text, record, read_as, finished=finished)
        ]


@pytest.fixture
def reader(store: Store, classroom: Classroom, teacher: FlaskClient, tablet: FlaskClient) -> Reader:
    """Return a reader of the classroom's first group."""
    return Reader(store, classroom, teacher, tablet)


@pytest.mark.parametrize("name", list(GROUPS))
def test_no_sentence_contradicts_a_number(
    store: Store, classroom: Classroom, reader: Reader, name: str
) -> None:
    """In each band's words, with a struck trial before all."""
    record = with_struck(record_with(store, classroom, GROUPS[name]))
    for direction in DIRECTIONS if name in {"three revisions", "unequal turns"} else DIRECTIONS[:1]:
        for band in GradeBand:
            assert [] == reader.find(directed(record, direction, band), band)


TOLD = st.builds(
    Told,
    value=st.sampled_from(POINTS),
    revision=st.integers(1, 3),
    student=st.one_of(st.none(), st.integers(0, 2)),
    misfire=st.sampled_from([None, None, None, None, "stuck"]),
)


@settings(
    deadline=None, max_examples=8, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    told=st.lists(TOLD, min_size=1, max_size=40),
    direction=st.sampled_from(DIRECTIONS),
    band=st.sampled_from(list(GradeBand)),
)
def test_no_sentence_of_any_group_contradicts_a_number(
    store: Store,
    classroom: Classroom,
    reader: Reader,
    told: list[Told],
    direction: Direction,
    band: GradeBand,
) -> None:
    """Whatever was logged, in whatever order."""
    told = [replace(one, value=None) if one.misfire else one for one in told]
    record = directed(record_with(store, classroom, told), direction, band)
    assert [] == reader.find(record, band)


def test_the_check_itself_finds_what_is_wrong(store: Store, classroom: Classroom) -> None:
    """Sentences as they were printed before are found, one by one."""
    record = record_with(store, classroom, GROUPS["unequal turns"])
    facts = facts_of(record)
    assert [8, 8] == [len(facts[one].values) for one in ("Launcher 1", "Launcher 2")]
    for wrong in (
        "7 trials with Launcher 1 so far.",
        "2 of 7 launches did not fly.",
        "Mean 7.5, median 7 points, n = 8.",
        "Launcher 2 did better than Launcher 1. Launcher 2 did worse than Launcher 1.",
        "Launcher 2 lies 1.9 points higher on average. n = 8 against 8.",
        "Launcher 2 lies 2.9 points higher on average, within students. n = 8 against 8.",
        "Launcher 2 did better than Launcher 1. n = 4 against 4.",
        "Launcher 2 was set beside Launcher 1. The same so far.",
        "In every pair of trials, the new one leads.",
        "By chance alone such a gap comes 1000 times in 1000.",
    ):
        assert find_contradictions(wrong, record, SIX, finished=False), wrong
    first = "This rests on the first 4 of Launcher 1, 4 of Launcher 2."
    assert find_contradictions(first, record, SIX, finished=True)
    assert [] == find_contradictions(first, record, SIX, finished=False)


def test_the_check_of_a_diagnosis_finds_what_is_wrong(store: Store, classroom: Classroom) -> None:
    """One child launched eight times; sentences as they were printed before are found."""
    record = record_with(store, classroom, GROUPS["misfires"])
    rests = "From 8 trials of the group, with Launcher 1 and Launcher 2. "
    assert [] == find_diagnosis_contradictions(f"{rests}4 of 8 trials misfired.", record)
    for wrong in (
        "From 7 trials of the group, with Launcher 1 and Launcher 2.",
        f"{rests}4 of 6 trials misfired.",
        f"{rests}Reliability is under a half: 4 misfires in 6 trials.",
        f"{rests}Probably the device. The same is seen whoever tests.",
        f"{rests}Probably the device. Device and use cannot be told apart.",
        f"{rests}Hits of all members lie wide.",
        "Hits lie wide: from 287 to 287 mm about their middle.",
        "1 trials are too few to look at.",
    ):
        assert find_diagnosis_contradictions(wrong, record), wrong
