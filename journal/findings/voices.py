"""The words that findings are put in: a band, its language, and the open measures.

Comes in: a class. Goes out: a Voice, which turns keys and figures into sentences.
"""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.bands import Measures, all_measures
from journal.content.finding_words import find_sentence, show_figure
from journal.domain.classes import GradeBand, SchoolClass
from journal.findings.measures import measures_of

#: Words for the teacher are those of the highest band: counts, figures, units.
TEACHER_BAND = GradeBand.SIX_TO_EIGHT

_BANDS = tuple(GradeBand)


@dataclass(frozen=True, slots=True, kw_only=True)
class Voice:
    """The words, figures and measures of whoever reads."""

    band: GradeBand
    language: str
    measures: Measures

    @property
    def figure_band(self) -> GradeBand:
        """Return the band as which figures are shown: with decimals or without."""
        if not self.measures.show_decimals:
            return GradeBand.TWO
        return GradeBand.THREE_TO_FIVE if self.band is GradeBand.TWO else self.band

    def show(self, figure: float) -> str:
        """Return a figure as it stands in a sentence."""
        return show_figure(figure, self.figure_band)

    def say(self, key: str, **slots: object) -> str:
        """Return a sentence, "" where nobody has words for it.

        A measure that a teacher opened early speaks in the words of the band that learns it.
        """
        shown = {
            name: show_figure(value, self.figure_band) if isinstance(value, float) else value
            for name, value in slots.items()
        }
        for band in _BANDS[_BANDS.index(self.band) :]:
            sentence = find_sentence(key, band, self.language, **shown)
            if sentence is not None:
                return sentence
        return ""

    def say_in_sentence(self, key: str, **slots: object) -> str:
        """Return words that stand inside a sentence: the same, without the capital."""
        sentence = self.say(key, **slots)
        return sentence[:1].lower() + sentence[1:]


def voice_of(school_class: SchoolClass) -> Voice:
    """Return the voice in which a class reads."""
    return Voice(
        band=school_class.band, language=school_class.language, measures=measures_of(school_class)
    )


def teacher_voice(school_class: SchoolClass, band: GradeBand = TEACHER_BAND) -> Voice:
    """Return the voice in which a teacher reads: every measure is open."""
    return Voice(band=band, language=school_class.language, measures=all_measures(band))


def non_empty(*sentences: str) -> tuple[str, ...]:
    """Return the sentences that say something."""
    return tuple(sentence for sentence in sentences if sentence)
