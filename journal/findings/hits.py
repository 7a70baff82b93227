"""Where a group hits, in words and figures: trial records and a panel in, HitFindings out.

In figures alone are exact hits; what zones and the wall add is fitted on demand, because that
takes seconds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from journal.analysis.hit_spread import HitSpread, spread_of_trials
from journal.analysis.records import TrialRecord, by_revision, by_student
from journal.analysis.spread import (
    ClusterWords,
    Side,
    Spread,
    Tightness,
    describe_cluster,
)
from journal.domain.panels import Panel
from journal.findings.voices import Voice, non_empty

#: The circle of a tight cluster holds 95 in 100 hits; more than this share past the panel is wide.
_SHARE_OUTSIDE = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class HitFinding:
    """Where one set of trials hit."""

    #: The revision's label, or the student's nickname.
    label: str
    sentences: tuple[str, ...]
    #: Offset and half radius with its interval in words, where deviation is open.
    figures: tuple[str, ...]
    spread: HitSpread

    @property
    def exact(self) -> Spread | None:
        """Return the spread of the hits whose place is known."""
        return self.spread.spread


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupHits:
    """Where a group hits: by revision, and by student with the newest tested revision."""

    by_revision: tuple[HitFinding, ...] = ()
    by_student: tuple[HitFinding, ...] = ()
    #: The revision that `by_student` is about.
    newest: str = ""


def find_hits(
    records: tuple[TrialRecord, ...],
    panel: Panel | None,
    names: Mapping[str, str],
    voice: Voice,
    *,
    fitted: bool = False,
) -> GroupHits:
    """Find where the group hits; `names` gives each student's nickname, `fitted` takes its time."""
    if panel is None or not records:
        return GroupHits()
    revisions, students = _spreads(records, panel, fitted=fitted)
    return GroupHits(
        by_revision=tuple(_find(revision, panel, revision.label, voice) for revision in revisions),
        by_student=tuple(
            _find(student, panel, names.get(student.label, ""), voice) for student in students
        ),
        newest=revisions[-1].label,
    )


@lru_cache(maxsize=128)
def _spreads(
    records: tuple[TrialRecord, ...], panel: Panel, *, fitted: bool
) -> tuple[tuple[HitSpread, ...], tuple[HitSpread, ...]]:
    """Work the spreads out once for the same trials."""
    revisions = by_revision(records)
    # Revisions stand in the order of their first trial; the newest is the one tried last.
    last = records[-1].revision
    ordered = [name for name in revisions if name != last] + [last]
    fitting = panel if fitted else None
    return (
        tuple(spread_of_trials(revisions[name], fitting, name) for name in ordered),
        tuple(
            spread_of_trials(own, fitting, student)
            for student, own in by_student(revisions[last]).items()
        ),
    )


def _find(spread: HitSpread, panel: Panel, label: str, voice: Voice) -> HitFinding:
    figures = spread.spread is not None and spread.spread.enough and voice.measures.show_deviation
    return HitFinding(
        label=label,
        sentences=_describe(spread, panel, voice),
        figures=_list_figures(spread.spread, voice) if figures and spread.spread else (),
        spread=spread,
    )


def _describe(spread: HitSpread, panel: Panel, voice: Voice) -> tuple[str, ...]:
    sentences = []
    if spread.spread is None:
        sentences.append(voice.say("hits_none"))
    elif not spread.spread.enough:
        sentences.append(voice.say("hits_too_few", n=spread.hits))
    else:
        sentences.append(_describe_cluster(spread, spread.spread, panel, voice))
    if spread.beyond_panel:
        sentences.append(voice.say("hits_beyond", n=spread.beyond_panel))
    if spread.scores_only:
        sentences.append(voice.say("hits_zones_only", n=spread.scores_only))
    return non_empty(*sentences)


def _describe_cluster(spread: HitSpread, exact: Spread, panel: Panel, voice: Voice) -> str:
    words = describe_cluster(exact, min(panel.width_mm, panel.height_mm) / 2)
    outside = spread.beyond_panel > _SHARE_OUTSIDE * (spread.hits + spread.beyond_panel)
    tightness = Tightness.WIDE if outside else words.tightness
    key = "hits_some" if tightness is None else f"hits_{tightness.value}"
    return voice.say(key, side=_side(words, voice))


def _side(words: ClusterWords, voice: Voice) -> str:
    sides: Sequence[Side] = words.sides or (Side.CENTRED,)
    names = [voice.say_in_sentence(f"side_{side.value}") for side in sides]
    if len(names) == 1:
        return names[0]
    return voice.say_in_sentence("side_two", first=names[0], second=names[1])


def _list_figures(exact: Spread, voice: Voice) -> tuple[str, ...]:
    sentences = [voice.say("offset", offset=_mm(exact.offset_mm))]
    if exact.half_radius_mm is not None and exact.half_radius_interval_mm is not None:
        low, high = exact.half_radius_interval_mm
        sentences += [
            voice.say("scatter", half_radius=_mm(exact.half_radius_mm)),
            voice.say("scatter_interval", low=_mm(low), high=_mm(high)),
        ]
    return non_empty(*sentences)


def _mm(length_mm: float) -> int:
    """Return whole mm: nobody measures a hit finer."""
    return round(length_mm)
