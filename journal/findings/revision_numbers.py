"""The numbers of one revision in words: its trials come in, sentences go out."""

from __future__ import annotations

from collections.abc import Sequence

from journal.analysis.records import TrialRecord, measured_values
from journal.analysis.shapes import Shape
from journal.analysis.summary import Summary
from journal.domain.challenges import Challenge, OutcomeKind
from journal.findings.voices import Voice, non_empty


def scale_of(challenge: Challenge) -> tuple[float, ...]:
    """Return all results there can be; empty where they are measured."""
    panel = challenge.panel
    if challenge.outcome.kind is not OutcomeKind.ZONES or panel is None:
        return ()
    off = (panel.bare_points, panel.wall_points, panel.nowhere_points)
    return tuple(sorted({*off, *(zone.points for zone in panel.zones)}))


def describe_numbers(
    challenge: Challenge,
    own: Sequence[TrialRecord],
    summary: Summary,
    label: str,
    voice: Voice,
) -> tuple[str, ...]:
    """Say count, best, spread, middle, misfires, shape and striking values, as far as open."""
    n, measures = summary.n + summary.misfires + summary.without_value, voice.measures
    if n == 0:
        return non_empty(voice.say("nothing_yet"))
    outcome = challenge.outcome
    values = measured_values(own)
    sentences = [voice.say("trials", n=n, revision=label)] if measures.show_counts else []
    if values:
        best = max(values, key=outcome.direction.merit)
        sentences.append(voice.say("best", best=best, unit=outcome.unit, revision=label))
        sentences += _describe_spread(summary, outcome.unit, voice)
    if summary.without_value and measures.show_counts:
        sentences.append(voice.say("without_value", n=summary.without_value))
    if summary.misfires and measures.show_counts:
        key = "misfires_launching" if challenge.launches else "misfires"
        sentences.append(voice.say(key, n=n, misfires=summary.misfires))
    if measures.show_dot_plot and summary.shape not in {Shape.TOO_FEW, Shape.NO_NAME}:
        sentences.append(voice.say(f"shape_{summary.shape.value}"))
    return non_empty(*sentences, *_describe_striking(summary, outcome.unit, voice))


def _describe_spread(summary: Summary, unit: str, voice: Voice) -> list[str]:
    measures = voice.measures
    slots = {
        "n": summary.n,
        "unit": unit,
        "range": summary.range,
        "lowest": summary.lowest,
        "highest": summary.highest,
        "mean": summary.mean,
        "median": summary.median,
        "mad": summary.mad,
        "lower_quartile": summary.lower_quartile,
        "upper_quartile": summary.upper_quartile,
    }
    keys = ["range"] if measures.show_range else []
    if measures.show_mean and measures.show_median:
        keys.append("centre")
    elif measures.show_mean or measures.show_median:
        keys.append("mean" if measures.show_mean else "median")
    if measures.show_quartiles and summary.lower_quartile is not None:
        keys.append("quartiles")
    if measures.show_deviation and summary.n > 1:
        keys.append("deviation")
    return [voice.say(key, **slots) for key in keys]


def _describe_striking(summary: Summary, unit: str, voice: Voice) -> list[str]:
    """Say which values stand far out, and the middle with them left out."""
    count = len(summary.striking)
    if not count or not voice.measures.show_dot_plot:
        return []
    sentences = [
        voice.say("striking", value=summary.striking[0], unit=unit)
        if count == 1
        else voice.say("striking_many", n=count)
    ]
    without = summary.without_striking
    if voice.measures.show_mean and without is not None and without.n:
        sentences.append(
            voice.say("without_striking", n=count, mean=without.mean, median=without.median)
        )
    return sentences
