"""What tells device and use apart: guests, other devices, practice, revisions, handling, parts.

Hits are written down by hand.
"""

from dataclasses import replace
from math import cos, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.diagnose import (
    Grouped,
    Needs,
    diagnose,
)
from journal.analysis.diagnosis.next_tests import TestKind
from journal.analysis.diagnosis.reasons import ReasonKey
from journal.analysis.diagnosis.trials import Evidence
from journal.analysis.findings import find_out
from journal.domain.trials import Place
from tests.analysis.diagnosis.drawn_hits import LOW, MIDDLE, guests_of, hits_of, keys_of
from tests.simulation.classrooms import Telling
from tests.simulation.worlds import PRIORS, Stage, World, draw_rooms


def test_guests_who_miss_alike_show_a_weak_device() -> None:
    """Guests launch the same device and hit low as well: the device.

    Common practice, no source: a weak launcher sends everything short, whoever launches.
    """
    found = diagnose([*hits_of(LOW), *guests_of((0.0, -190.0))])
    assert Grouped.DEVICE == found.grouped
    assert found.needs is None
    assert (found.probabilities[Cause.DEVICE_OFFSET] or 0) > 0.9
    assert ReasonKey.GUESTS in keys_of(found)
    assert {"Ash", "Dot", "Mika"} == set(found.students)


def test_guests_who_hit_show_a_use_that_all_share() -> None:
    """Guests hit with the very same device: it is how all of the members use it."""
    found = diagnose([*hits_of(LOW), *guests_of((0.0, 0.0))])
    assert Grouped.USE == found.grouped
    assert (found.use or 0) > 0.9


@pytest.mark.parametrize(("y_mm", "expected"), [(0.0, Grouped.DEVICE), (-190.0, Grouped.USE)])
def test_a_device_that_hits_tells_as_well(y_mm: float, expected: Grouped) -> None:
    """The group launches another group's device: it hits with it, or misses as before."""
    there = {name: (x, y + y_mm) for name, (x, y) in MIDDLE.items()}
    elsewhere = [replace(record, owner="Heron", order=record.order + 100)
                 for record in hits_of(there, n=4)]  # fmt: skip
    found = diagnose([*hits_of(LOW), *elsewhere])
    assert expected == found.grouped
    assert ReasonKey.THEIR_DEVICE in keys_of(found)


@pytest.mark.parametrize("name", ["exponential", "power"])
def test_the_same_device_that_fails_first_and_works_later_is_not_blamed(name: str) -> None:
    """All hit 240 mm low at first and ever nearer to the aim: practice, never the device.

    Common practice, no source: the very same device fails first and works later.
    """
    records = hits_of(MIDDLE, n=8)
    for count in (12, 24):
        sunk = []
        for record in records[:count]:
            turns = (record.order - 1) // len(MIDDLE)
            left = 0.6**turns if name == "exponential" else (1 + turns) ** -1.0
            y_mm = (record.y_mm or 0.0) - 240 * left
            beyond = y_mm < -300
            sunk.append(replace(record, y_mm=None if beyond else y_mm,
                                x_mm=None if beyond else record.x_mm,
                                place=Place.WALL if beyond else Place.PANEL))  # fmt: skip
        found = diagnose(sunk)
        assert Grouped.DEVICE != found.grouped
        assert found.joint[Grouped.DEVICE] < 0.25
        if count == 24:
            assert Grouped.USE == found.grouped
            assert ReasonKey.LEARNING in keys_of(found)


def test_a_revision_that_helped_is_not_blamed() -> None:
    """The first launcher missed low for all, the second hits: nothing is wrong with the newest."""
    later = [replace(record, revision="r2", order=record.order + 100) for record in hits_of(MIDDLE)]
    found = diagnose([*hits_of(LOW, n=4), *later])
    assert Grouped.NONE == found.grouped
    assert found.joint[Grouped.DEVICE] < 0.05


def test_the_revision_in_question_can_be_named() -> None:
    """A swap test ends with the old one; the question stays about the one that is in use."""
    later = [replace(record, revision="r2", order=record.order + 100) for record in hits_of(MIDDLE)]
    records = [*hits_of(LOW, n=4), *later]
    assert (diagnose(records, newest="r1").none or 0) < 0.05


def test_other_handling_with_the_same_device_tells_use() -> None:
    """Low with a half pull and on the aim with a full one, by the same children: not the device."""
    full = [replace(record, handling="full") for record in hits_of(LOW)]
    half = [
        replace(record, handling="half", order=record.order + 100) for record in hits_of(MIDDLE)
    ]
    lately_low = [replace(record, order=record.order + 200) for record in full]
    found = diagnose([*full, *half, *lately_low])
    assert found.joint[Grouped.DEVICE] < 0.2
    assert (found.use or 0) > 0.7


def test_exchanged_parts_tell_a_part_from_its_member() -> None:
    """Mika's dart pulls right whoever launches it, and Mika hits with another's."""
    own = hits_of(MIDDLE | {"Mika": (190.0, 0.0)}, n=6)
    swapped = []
    for record in hits_of(MIDDLE | {"Dot": (190.0, 0.0)}, n=6):
        part = {"Mika": "dart of Dot", "Dot": "dart of Mika"}.get(record.student, record.own_part)
        swapped.append(replace(record, own_part=part, order=record.order + 100))
    found = diagnose([*own, *swapped])
    own_part = found.probabilities[Cause.OWN_PART] or 0
    assert own_part > 0.8
    assert (found.probabilities[Cause.USE_SOME] or 0) < 0.1


def test_only_guests_cannot_speak_for_the_group() -> None:
    """Nobody of the group has launched: no finding, with the reason."""
    found = diagnose(guests_of((0.0, -190.0)))
    assert (Grouped.CANNOT_TELL, Needs.TRIALS) == (found.grouped, found.needs)
    assert {ReasonKey.ONLY_GUESTS} == keys_of(found)


def test_a_contrast_broken_off_after_one_launch_settles_nothing() -> None:
    """One guest's launch is used, and asks for more."""
    found = diagnose([*hits_of(LOW), *guests_of((0.0, -190.0))[:1]])
    assert Grouped.CANNOT_TELL == found.grouped
    assert Needs.CONTRAST == found.needs
    assert found.next_test is not None
    assert TestKind.GUESTS == found.next_test.kind


def test_two_thousand_trials_are_survived() -> None:
    """The newest are looked at, in a time that a page can wait for."""
    found = diagnose(hits_of(MIDDLE, n=667))
    assert Grouped.NONE == found.grouped


def test_positions_and_points_mixed_get_a_finding() -> None:
    """Half of the trials were marked, half have points only: the better told half speaks."""
    records = [
        replace(record, x_mm=None, y_mm=None, place=None, value=8.0) if record.order % 3 == 0
        else record
        for record in hits_of(MIDDLE)
    ]  # fmt: skip
    found = diagnose(records)
    assert Evidence.POSITIONS == found.evidence
    assert Grouped.NONE == found.grouped


NAMES = st.permutations(["Ash", "Dot", "Mika", "Robin", "Sky", "Lou"])


@settings(max_examples=12, deadline=None)
@given(names=NAMES, seed=st.integers(0, 200), cause=st.sampled_from(sorted(PRIORS)))
def test_names_change_nothing(names: list[str], seed: int, cause: str) -> None:
    """Children with other names, a group with another one: the same probabilities."""
    room = draw_rooms(World.OWN, cause, seed, 1, 12)[0]
    records = room.tell(Stage.GUESTS_4, Telling.POSITIONS)
    students = list(dict.fromkeys(record.student for record in records))
    parts = list(dict.fromkeys(record.own_part for record in records))
    called = dict(zip(students, [*names, "Kim"], strict=False))
    named = dict(zip(parts, [f"dart of {name}" for name in [*names, "Kim"]], strict=False))
    renamed = [
        replace(record, student=called[record.student], own_part=named[record.own_part])
        for record in records
    ]
    before, after = diagnose(records), diagnose(renamed)
    assert before.grouped == after.grouped
    assert pytest.approx(dict(before.joint), abs=1e-9) == dict(after.joint)


@settings(max_examples=15, deadline=None)
@given(
    seed=st.integers(0, 500),
    cause=st.sampled_from(["none", "use_some", "use_all_fading", "use_all_steady"]),
    far_mm=st.floats(500, 5000),
    turn=st.floats(0, 6.28),
)
def test_one_far_flyer_moves_no_verdict_to_the_device(
    seed: int, cause: str, far_mm: float, turn: float
) -> None:
    """Wherever one more launch flies, the device is not named for it, unless it all but was."""
    room = draw_rooms(World.OWN, cause, seed, 1, 12)[0]
    records = room.tell(Stage.GUESTS_4, Telling.POSITIONS)
    if diagnose(records).joint[Grouped.DEVICE] > 0.5:
        return
    flyer = replace(
        records[11], order=100, x_mm=far_mm * cos(turn), y_mm=far_mm * sin(turn), misfire=None,
        place=None,
    )  # fmt: skip
    assert diagnose([*records, flyer]).grouped is not Grouped.DEVICE


@settings(max_examples=12, deadline=None)
@given(seed=st.integers(0, 200), cause=st.sampled_from(sorted(PRIORS)))
def test_guests_never_change_findings(seed: int, cause: str) -> None:
    """What a table of trials says is the same with guests, or another group's device, in it."""
    room = draw_rooms(World.OWN, cause, seed, 1, 12)[0]
    own = find_out(room.tell(Stage.BEFORE, Telling.POINTS)).as_json()
    assert own == find_out(room.tell(Stage.GUESTS_8, Telling.POINTS)).as_json()
    assert own == find_out(room.tell(Stage.THEIRS_8, Telling.POINTS)).as_json()
