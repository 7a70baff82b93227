"""A ladder as it is written down: TOML text in, wordings by rung and band out, or what to mend.

Every problem names file and line, so that whoever edits the texts finds the place.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product
from typing import NoReturn

from journal.content.ladder_wordings import find_fault, find_telling
from journal.content.texts import slots_of
from journal.domain.classes import GradeBand
from journal.domain.diagnoses import Reading
from journal.domain.errors import Invalid
from journal.domain.ladders import Rung
from journal.domain.messages import Message

_SLOTS = ("factor", "old", "new")
_LEAST_STARTERS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """One wording of a rung."""

    text: str
    #: Stands in where the group changed nothing yet; "" where the text has no slot.
    plain: str = ""
    #: Only for challenges that launch (True) or load (False); None fits both.
    launches: bool | None = None
    #: Only where the trials point to this; None fits all.
    points_to: Reading | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wordings:
    """What one rung says to one band; the first wording fits every group."""

    wordings: tuple[Wording, ...]
    starters: tuple[str, ...]


def read_ladder(text: str, name: str, language: str) -> dict[tuple[Rung, GradeBand], Wordings]:
    """Return the whole ladder; raise Invalid naming file and line of the first problem."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        message = Message("ladder_documents.cannot_be_read", name=name, error=str(error))
        raise Invalid(message) from None
    reader = _Reader(text, name, language)
    return {
        (rung, band): reader.read(document, rung, band) for rung, band in product(Rung, GradeBand)
    }


@dataclass(frozen=True, slots=True)
class _Reader:
    """The file as it was written, to find the line of a problem again."""

    source: str
    name: str
    language: str

    def read(self, document: Mapping[str, object], rung: Rung, band: GradeBand) -> Wordings:
        """Return what a rung says to a band."""
        bands = document.get(rung.value)
        entry = bands.get(band.value) if isinstance(bands, Mapping) else None
        if not isinstance(entry, Mapping):
            self._refuse(
                f"[{rung.value}",
                Message("ladder_documents.rung_has_no_texts_for", rung=rung.value, band=band.value),
            )
        head = f"[{rung.value}.{band.value}]"
        given = entry.get("wordings")
        if not isinstance(given, list) or not given:
            self._refuse(
                head,
                Message(
                    "ladder_documents.rung_has_no_wording_for_band",
                    rung=rung.value,
                    band=band.value,
                ),
            )
        starters = entry.get("starters")
        if not isinstance(starters, list) or len(starters) < _LEAST_STARTERS:
            self._refuse(
                head,
                Message(
                    "ladder_documents.needs_two_starters_or_more_for_band",
                    rung=rung.value,
                    band=band.value,
                ),
            )
        for starter in starters:
            self._refuse_fault(str(starter), find_telling(str(starter), self.language))
        wordings = tuple(self._wording(wording, head) for wording in given)
        if wordings[0].launches is not None or wordings[0].points_to is not None:
            self._refuse(
                head,
                Message("ladder_documents.first_wording_of_must_fit_every_group", rung=rung.value),
            )
        return Wordings(wordings=wordings, starters=tuple(map(str, starters)))

    def _wording(self, given: object, head: str) -> Wording:
        entry = given if isinstance(given, Mapping) else {}
        text, plain = str(entry.get("text", "")).strip(), str(entry.get("plain", "")).strip()
        self._refuse_fault(text or head, find_fault(text, self.language, slots=_SLOTS))
        if slots_of(text) and not plain:
            self._refuse(text, Message("ladder_documents.wording_with_a_slot_needs_a_plain_one"))
        if plain:
            self._refuse_fault(plain, find_fault(plain, self.language))
        launches = entry.get("launches")
        points = entry.get("points")
        if points not in {None, Reading.DEVICE.value, Reading.USE.value}:
            self._refuse(text, Message("ladder_documents.points_is"))
        return Wording(
            text=text,
            plain=plain,
            launches=launches if isinstance(launches, bool) else None,
            points_to=None if points is None else Reading(str(points)),
        )

    def _refuse_fault(self, near: str, fault: Message | None) -> None:
        if fault is not None:
            self._refuse(near, fault)

    def _refuse(self, near: str, what: Message) -> NoReturn:
        lines = self.source.splitlines()
        at = next((number for number, line in enumerate(lines, 1) if near in line), len(lines))
        message = Message("ladder_documents.at_a_line", name=self.name, line=at, what=what)
        raise Invalid(message)
