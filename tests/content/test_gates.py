"""The gate's words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.content.bands import which_measures
from journal.content.gates import (
    get_caution_line,
    get_gate_lines,
    get_rules_line,
    get_waiting_line,
)
from journal.content.library import get_ready_challenge
from journal.domain.classes import GradeBand
from journal.domain.sessions import checks_of
from tests.content.wording import sentences_of, words_of


@pytest.mark.parametrize("launches", [True, False])
def test_every_check_has_its_line(*, launches: bool) -> None:
    """The checklist is in the order of the checks."""
    lines = get_gate_lines("en", launches=launches)
    assert list(checks_of(launches=launches)) == list(lines)
    assert len(lines) == len(set(lines.values()))


def test_checklist_of_a_load_names_what_can_be_hit() -> None:
    """Heads, feet and hands, what the load falls on, and the eyes."""
    told = " ".join(get_gate_lines("en", launches=False).values())
    for word in ("Heads", "feet", "hands", "falls on", "Goggles"):
        assert word in told


def test_rules_of_the_school_come_first_in_few_words() -> None:
    """The line stands on every tablet page that leads to a launch, so the youngest read it."""
    line = get_rules_line("en")
    assert "teacher" in line
    assert "school" in line
    assert len(words_of(line)) <= which_measures(GradeBand.TWO).most_words_a_sentence


@pytest.mark.parametrize("launches", [True, False])
def test_the_tablet_says_why_it_waits(*, launches: bool) -> None:
    """It names the teacher, in the band's words."""
    for band in GradeBand:
        line = get_waiting_line(band, "en", launches=launches)
        assert "teacher" in line
        for sentence in sentences_of(line):
            assert len(words_of(sentence)) <= which_measures(band).most_words_a_sentence


def test_the_caution_puts_local_rules_first() -> None:
    """Goggles, and the school's own rules, whether something is launched or loaded."""
    expected = "Goggles, clear lane, your school's and local rules first."
    launching = get_ready_challenge("beyond_the_ditch")
    loading = get_ready_challenge("paper_bridge")
    assert expected == get_caution_line("en", launching)
    assert expected == get_caution_line("en", loading, launching)
    assert "tray and foam" in get_caution_line("en", loading)
    assert get_caution_line("en", loading).endswith("your school's and local rules first.")


def test_caution_of_a_challenge_that_breaks_nothing_names_no_load() -> None:
    """Neither goggles, lane nor tray is asked for where nothing flies, falls or breaks."""
    bridge = get_ready_challenge("paper_bridge")
    whole = tuple(replace(part, destructive=False) for part in bridge.parts)
    line = get_caution_line("en", replace(bridge, parts=whole))
    assert "tray" not in line
    assert "oggles" not in line
    assert line.endswith("your school's and local rules first.")
    assert line == get_caution_line("en")
