"""The family of revisions."""

from __future__ import annotations

import pytest

from journal.charts.families import FamilyLine, FamilyMark, draw_family, family_table
from journal.charts.palette import INK, MADDER, PAPER, SHEET
from tests.charts.drawings import check_drawing, check_paper, desc, read, texts

LAUNCHER = FamilyLine(name="Launcher", shared=True, marks=(
    FamilyMark(label="1", caption="first build", order=0),
    FamilyMark(label="2", parent=0, caption="2 bands", order=1),
    FamilyMark(label="3", parent=1, caption="3 bands", order=3, set_aside=True),
    FamilyMark(label="4", parent=1, caption="rail 300 mm", order=5, newest=True),
))  # fmt: skip
DART = FamilyLine(name="Pim's dart", shared=False, marks=(
    FamilyMark(label="1", order=0),
    FamilyMark(label="2", parent=0, caption="cork tip", order=2),
    FamilyMark(label="3", parent=1, order=6, being_built=True),
))  # fmt: skip


def discs(svg: str) -> list[tuple[float, float, str, str | None]]:
    """Return x, y, fill and dashes of each revision's disc, without the ground below it."""
    return [
        (float(disc.get("cx", "")), float(disc.get("cy", "")), disc.get("fill", ""),
         disc.get("stroke-dasharray"))
        for disc in read(svg).findall("{*}circle") if disc.get("fill") != PAPER
    ]  # fmt: skip


def test_a_shared_part_has_ink_discs_and_an_own_part_paper_discs() -> None:
    """Kind of part and time are shown by fill, not by colour alone; now is madder."""
    svg = draw_family([LAUNCHER, DART])
    check_drawing(svg)
    fills = [fill for _, _, fill, _ in discs(svg)]
    assert fills == [INK, INK, INK, MADDER, SHEET, SHEET, SHEET]


def test_being_built_is_dashed() -> None:
    """Only what is not yet has dashes: its disc and the line to it."""
    svg = draw_family([DART])
    assert [None, None, "3 2.5"] == [dashes for *_, dashes in discs(svg)]
    dashed = [p for p in read(svg).findall("{*}path") if p.get("stroke-dasharray")]
    assert len(dashed) == 1


def test_another_parent_arches_over() -> None:
    """Revision 4 was made from 2: its line is the only curve, and it passes above the discs."""
    svg = draw_family([LAUNCHER])
    curves = [p.get("d", "") for p in read(svg).findall("{*}path") if "C" in p.get("d", "")]
    assert len(curves) == 1
    y = discs(svg)[0][1]
    top = float(curves[0].split("H")[0].split()[-1])
    assert 0 < top < y - 14


def test_revisions_of_all_parts_stand_in_the_order_of_making() -> None:
    """The dart's second revision was made between the launcher's second and third."""
    xs = [x for x, *_ in discs(draw_family([LAUNCHER, DART]))]
    assert xs[0] == xs[4]
    assert xs[1] < xs[5] < xs[2] < xs[3] < xs[6]


def test_the_words_tell_parents_and_states() -> None:
    """Description and table hold what the lines show."""
    assert desc(draw_family([LAUNCHER])) == (
        "Launcher: 1, first build; 2 from 1, 2 bands; 3 from 2, 3 bands, set aside; "
        "4 from 2, rail 300 mm."
    )
    assert family_table([DART]).rows == (
        ("Pim's dart", "1", "–", "–", "in use"),
        ("Pim's dart", "2", "1", "cork tip", "in use"),
        ("Pim's dart", "3", "2", "–", "being built"),
    )


def test_odd_families_draw_well() -> None:
    """No lines, no revisions, a parent out of range, very long names and names of markup."""
    odd = FamilyLine(name="<script>" * 9, shared=True, marks=(
        FamilyMark(label="100", parent=7, caption="<&>" * 60), FamilyMark(label="101", parent=-4),
    ))  # fmt: skip
    for lines in ([], [FamilyLine(name="Bridge", shared=True, marks=())], [odd]):
        check_drawing(draw_family(lines))
    assert desc(draw_family([])) == "No revisions yet."
    assert texts(draw_family([])) == ["No revisions yet"]


def test_paper_draws_families_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Families print without a log record."""
    check_paper([draw_family([LAUNCHER, DART])], caplog.records)
