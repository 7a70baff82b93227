"""The gate's words."""

from __future__ import annotations

from journal.content.bands import which_measures
from journal.content.gates import get_caution_line, get_gate_lines, get_waiting_line
from journal.domain.classes import GradeBand
from journal.domain.sessions import GateCheck
from tests.content.wording import sentences_of, words_of


def test_every_check_has_its_line() -> None:
    """The checklist is in the order of the checks."""
    lines = get_gate_lines("en")
    assert list(GateCheck) == list(lines)
    assert len(GateCheck) == len(set(lines.values()))


def test_the_tablet_says_why_it_waits() -> None:
    """It names the teacher, in the band's words."""
    for band in GradeBand:
        line = get_waiting_line(band, "en")
        assert "teacher" in line
        for sentence in sentences_of(line):
            assert len(words_of(sentence)) <= which_measures(band).most_words_a_sentence


def test_the_caution_puts_local_rules_first() -> None:
    """Goggles, and the school's own rules, whether something is launched or loaded."""
    expected = "Goggles, clear lane, your school's and local rules first."
    assert expected == get_caution_line("en", launches=True)
    assert get_caution_line("en", launches=False).endswith("your school's and local rules first.")
