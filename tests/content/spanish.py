"""Spanish as the tests of texts read it: syllables, ease of reading, words to keep out."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tests.content.wording import sentences_of, words_of

_VOWELS = "aeiouáéíóúü"
#: Each is the heart of a syllable of its own; i, u and ü lean on a neighbour.
_HEARTS = "aeoáéíóú"


def syllables_in(word: str) -> int:
    """Return the syllables of a Spanish word by the rules of its spelling.

    a, e, o and an accented í, ú each carry a syllable (a-é-re-o, pa-ís); i, u beside another vowel
    do not (ciu-dad, cau-sa). The u of que, qui, gue, gui is silent; y is a vowel at the end of a
    word (muy). Real Academia Española, Ortografía 2010, on diphthongs and hiatus (from memory).
    """
    spelled = re.sub(r"([qg])u(?=[eiéí])", r"\1", word.lower())
    spelled = re.sub(r"y$", "i", spelled)
    runs = re.findall(f"[{_VOWELS}]+", spelled)
    return max(1, sum(max(1, sum(letter in _HEARTS for letter in run)) for run in runs))


def ease_of(texts: Sequence[str]) -> float:
    """Return the lecturabilidad of some texts together: 100 is very easy, 0 very hard.

    Fernández Huerta (1959), Medidas sencillas de lecturabilidad, as corrected by Law (2011): 206.84
    - 60 x syllables a word - 1.02 x words a sentence. Looked up at legible.es, Lecturabilidad de
    Fernández Huerta, which has 90-100 as "muy fácil", up to the 4th grade, and 80-90 as the 5th.
    """
    sentences = [sentence for text in texts for sentence in sentences_of(text)]
    words = [word for sentence in sentences for word in words_of(sentence)]
    assert len(words) >= 100
    syllables = sum(map(syllables_in, words))
    return 206.84 - 60 * syllables / len(words) - 1.02 * len(words) / len(sentences)


#: A value, a direction or a remedy, in whatever ending. Those that describe what was seen ("partes
#: dobladas", "¿dónde cambia algo?") are not among them.
TELLING = re.compile(
    r"""
    (más|menos|hacia|cerca|lejos|arriba|abajo|encima|debajo|adelante|atrás|bajo|baja|medi[oa]|fin[oa]s?)
    |(mejor|peor|mayor|menor|demasiad|suficient|bastant|izquierd|derech|mitad|porcent|tripl|duplic)\w*
    |(larg|cort|grand|pequeñ|pesad|livian|liger|alt|anch|angost|estrech|grues|delgad)[oaes]s?
    |(fuert|débil|rígid|dur|bland|suav|rápid|lent|tens|floj|llen|doble)(o|a|e|es|os|as)?
    |(aument|reduc|reduzc|disminu|alarg|acort|ensanch|refuer|reforz|apret|apriet|afloj|estir)\w*
    |(añad|agreg|quit|reempla|sustitu|intercambi|recort|coloc|arregl|repar|correg|corrig|acer[cq])\w*
    |(alej|inclin|gir|necesit|convien|convendr|deb)(a|e|en|an|ar|er|es|ía|ían|ga|gan)?
    |(us[ae]n?|pon|ponga|pongan|poner|haz|hagan|cort[ae]n?|dobl[ae]n?|peg[aueg]*n?|muevan|mover)
    |(cero|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez|veinte|cien|ciento|mil)
    """,
    re.VERBOSE,
)
#: Weapons, and what is not said of children's work; "seguro" also where it means "sure".
UNWANTED = re.compile(
    r"""
    (arma|dispar|tirote|pistol|flech|enemig|atac|ataqu|bala|diana)\w*
    |(tiros?|blancos?|fuegos?|arcos?)
    |(segur|insegur|peligr|ganad|perded|fall|fracas|equivoc|incorrect|culp)\w*
    |(error|errores|mal|mal[oa]s?|gana|ganan|ganar|pierde|pierden|perder)
    """,
    re.VERBOSE,
)
