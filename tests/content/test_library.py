"""The ready challenges: readable, whole, and as classrooms expect them."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest

from journal.content.library import (
    get_ready_challenge,
    read_challenge_text,
    ready_challenges,
)
from journal.domain.challenge_documents import with_changes
from journal.domain.challenges import CountingWay, OutcomeKind
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, NotFound
from journal.domain.panel_documents import zone_bounds_mm
from tests.sentences import raises, sentence_of

ROOT = files("journal.content") / "challenges"


KEYS = sorted(path.name.removesuffix(".toml") for path in ROOT.iterdir())


def test_every_file_is_a_ready_challenge() -> None:
    """The list is there without any set-up: one file, one challenge, each with its own title."""
    assert KEYS == sorted(found.key for found in ready_challenges())
    assert {"Beyond the ditch", "Paper bridge"} <= {found.title for found in ready_challenges()}
    assert len(KEYS) == len({found.title for found in ready_challenges()})


def test_the_list_is_read_once() -> None:
    """Asking again gives the same objects."""
    assert ready_challenges() is ready_challenges()


def test_an_unknown_challenge_is_not_found() -> None:
    """The error is in the reader's words."""
    with raises(NotFound, match="no such challenge"):
        get_ready_challenge("moon_base")


def test_a_missing_field_names_file_and_key() -> None:
    """A teacher's file with a hole says which file and which key."""
    text = (ROOT / "beyond_the_ditch.toml").read_text(encoding="utf-8")
    broken = text.replace('kind = "zones"\n', "", 1)
    expected = "my_trail.toml: outcome.kind is missing. Add zones, measure or count."
    with pytest.raises(Invalid) as caught:
        read_challenge_text(broken, "my_trail.toml")
    assert expected == sentence_of(caught.value)


def test_a_file_that_is_no_toml_names_the_line() -> None:
    """The reader's own message carries the line."""
    with raises(Invalid, match=r"^slip\.toml: cannot be read as TOML.*line 1"):
        read_challenge_text('title = "Half\n', "slip.toml")


def test_a_copy_of_a_ready_file_is_that_challenge() -> None:
    """What a challenge is stands in its text alone, whatever the file is called."""
    text = (ROOT / "paper_bridge.toml").read_text(encoding="utf-8")
    assert get_ready_challenge("paper_bridge") == read_challenge_text(text, "copy.toml")


@pytest.mark.parametrize("key", KEYS)
def test_every_key_of_the_file_is_used(key: str) -> None:
    """What a teacher reads in the file is what the challenge holds."""
    text = (ROOT / f"{key}.toml").read_text(encoding="utf-8")
    assert tomllib.loads(text) == get_ready_challenge(key).document


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("band", list(GradeBand))
def test_each_band_is_offered_something_to_change(key: str, band: GradeBand) -> None:
    """Every part has at least one factor in every band."""
    for part in get_ready_challenge(key).parts:
        assert [factor for factor in part.factors if not factor.bands or band in factor.bands]


def test_beyond_the_ditch_has_its_parts() -> None:
    """One launcher a group; each student an own dart (common practice, no source)."""
    trail = get_ready_challenge("beyond_the_ditch")
    assert ["launcher"] == [part.key for part in trail.shared_parts]
    assert ["dart"] == [part.key for part in trail.own_parts]
    assert OutcomeKind.ZONES is trail.outcome.kind
    assert "drops" == trail.outcome.amount_unit
    assert {"pull", "tilt", "hand"} == {choice.key for choice in trail.handling}


def test_the_youngest_start_at_about_a_metre_and_a_half() -> None:
    """Common practice, no source: about 1.5 m for grade 2, then farther with age."""
    wording = get_ready_challenge("beyond_the_ditch").wording
    distances = [wording[band].distance_mm for band in GradeBand]
    assert 1500 == distances[0]
    assert sorted(filter(None, distances)) == distances


def test_zones_are_worth_fewer_points_outwards() -> None:
    """Common practice, no source: outlying zones less, the bare panel less, the wall least."""
    panel = get_ready_challenge("beyond_the_ditch").panel
    assert panel is not None
    points = [zone.points for zone in panel.zones]
    points += [panel.bare_points, panel.wall_points]
    assert sorted(set(points), reverse=True) == points
    assert min(points) == panel.wall_points == panel.nowhere_points


@pytest.mark.parametrize("key", KEYS)
def test_a_few_attempts_count(key: str) -> None:
    """Common practice, no source: a few counted attempts, often three, as a sum or a mean."""
    counting = get_ready_challenge(key).counting
    assert 1 <= counting.attempts <= 5
    assert counting.way in {CountingWay.SUM, CountingWay.MEAN_PER_ATTEMPT}


def test_several_sheets_make_the_panel() -> None:
    """Common practice, no source: several printed sheets make one large panel.

    A4 (ISO 216) is 297 x 210 mm and Letter (ANSI/ASME Y14.1) 279.4 x 215.9 mm, both laid landscape.
    Steps of 240 x 180 mm leave 10 mm of overlap and a margin that printers need on either paper.
    """
    panel = get_ready_challenge("beyond_the_ditch").panel
    assert panel is not None
    assert (3, 4) == (panel.width_mm / 240, panel.height_mm / 180)
    assert 240 + 10 <= min(297, 279.4)
    assert 180 + 10 <= min(210, 215.9)


def test_no_zone_line_runs_on_a_join() -> None:
    """A line on a join would be cut in two when the sheets are laid."""
    panel = get_ready_challenge("beyond_the_ditch").panel
    assert panel is not None
    for zone in panel.zones[:2]:
        left, bottom, right, top = zone_bounds_mm(zone)
        assert min(abs(abs(x) - 120) for x in (left, right)) > panel.mark_radius_mm
        assert min(abs(y - join) for y in (bottom, top) for join in (-180, 0, 180)) > 8


def test_the_aim_point_scores_most() -> None:
    """Origin is the aim point, in the middle of the innermost zone."""
    trail = get_ready_challenge("beyond_the_ditch")
    assert trail.panel is not None
    assert trail.outcome.highest == trail.panel.points_at(0, 0)
    assert 1 == trail.panel.points_at(-350, 0)
    assert 2 == trail.panel.points_at(-230, -358)


def test_a_launch_beyond_the_ditch_is_guarded() -> None:
    """The two constraints stay in any copy, and rubber bands carry the latex mark."""
    trail = get_ready_challenge("beyond_the_ditch")
    fixed = {constraint.key for constraint in trail.constraints if constraint.fixed}
    assert {"no_sharp_ends", "nobody_is_aimed_at"} <= fixed
    assert "Goggles on. Nobody past the line." == trail.caution
    assert ["rubber_band"] == [thing.key for thing in trail.materials if thing.latex]


def test_the_paper_bridge_is_destroyed_by_its_test() -> None:
    """One shared part, measured by load, more is better."""
    bridge = get_ready_challenge("paper_bridge")
    assert ["bridge"] == [part.key for part in bridge.parts]
    assert bridge.is_destructive
    assert not bridge.launches
    assert ("g", OutcomeKind.MEASURE) == (bridge.outcome.unit, bridge.outcome.kind)
    assert {"tray_below", "feet_back"} <= {line.key for line in bridge.safety}


def test_the_bridges_budget_binds() -> None:
    """It buys the simplest bridge of one sheet, but not all the paper and tape that is allowed."""
    bridge = get_ready_challenge("paper_bridge")
    everything = sum(thing.price_hundredths * (thing.allowance or 0) for thing in bridge.materials)
    assert bridge.budget_hundredths is not None
    assert bridge.materials[0].price_hundredths <= bridge.budget_hundredths < everything


def test_a_class_sets_its_own_distance() -> None:
    """A ready challenge leaves the distance to the band until a class sets one."""
    trail = get_ready_challenge("beyond_the_ditch")
    assert trail.distance_mm is None
    assert 2000 == with_changes(trail, distance_mm=2000).distance_mm


def test_list_of_soft_tips_holds_soft_things_and_says_what_soft_is() -> None:
    """Cork is hard and wax sets hard; the line says what a thumb and a rule can tell."""
    launching = get_ready_challenge("beyond_the_ditch")
    tips = next(
        factor.choices
        for part in launching.parts
        for factor in part.factors
        if factor.key == "tip_material"
    )
    assert not {"cork", "wax"} & {*tips, *(material.key for material in launching.materials)}
    line = next(one.text for one in launching.safety if one.key == "soft_tips")
    assert "thumb" in line
    assert "mm wide" in line
