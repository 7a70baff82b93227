"""The codes that a challenge can serve."""

from __future__ import annotations

from journal.content.standards import read_standards, standards_of
from journal.domain.classes import GradeBand

#: NGSS Lead States (2013), engineering design, as listed on the standards pages of the National
#: Science Teaching Association (my.nsta.org).
CODES = {
    GradeBand.TWO: ["K-2-ETS1-1", "K-2-ETS1-2", "K-2-ETS1-3"],
    GradeBand.THREE_TO_FIVE: ["3-5-ETS1-1", "3-5-ETS1-2", "3-5-ETS1-3"],
    GradeBand.SIX_TO_EIGHT: ["MS-ETS1-1", "MS-ETS1-2", "MS-ETS1-3", "MS-ETS1-4"],
}


def test_exactly_ten_codes() -> None:
    """Engineering design for grades 2 to 8 has ten performance expectations."""
    codes = [standard.code for standard in read_standards()]
    assert [code for band in GradeBand for code in CODES[band]] == codes
    assert 10 == len(codes)


def test_each_band_has_its_own() -> None:
    """The code's beginning is the band."""
    for band in GradeBand:
        assert CODES[band] == [standard.code for standard in standards_of(band)]


def test_links_as_printed() -> None:
    """The links printed with K-2-ETS1-3 and 3-5-ETS1-3 (NGSS 2013; my.nsta.org)."""
    links = {standard.code: standard.links for standard in read_standards()}
    assert ("W.2.6", "W.2.8", "2.MD.D.10", "MP.2", "MP.4", "MP.5") == links["K-2-ETS1-3"]
    assert ("W.5.7", "W.5.8", "W.5.9", "MP.2", "MP.4", "MP.5") == links["3-5-ETS1-3"]


def test_each_says_what_shows_it_and_where_it_is_from() -> None:
    """Paraphrase, evidence and source are there and differ."""
    standards = read_standards()
    assert len(standards) == len({standard.paraphrase for standard in standards})
    assert len(standards) == len({standard.evidence for standard in standards})
    assert all("2013" in standard.source for standard in standards)
