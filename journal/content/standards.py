"""The published codes that a challenge can serve: a TOML file in, Standards out."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

from journal.domain.classes import GradeBand
from journal.domain.standards import Standard


@cache
def read_standards() -> tuple[Standard, ...]:
    """Return all standards in the order of the file."""
    text = (files("journal.content") / "standards.toml").read_text(encoding="utf-8")
    document = tomllib.loads(text)
    return tuple(
        Standard(
            code=row["code"],
            band=GradeBand(row["band"]),
            paraphrase=row["paraphrase"],
            evidence=row["evidence"],
            links=tuple(row.get("links", ())),
            source=document["source"],
        )
        for row in document["standards"]
    )


def standards_of(band: GradeBand) -> tuple[Standard, ...]:
    """Return the standards of one band."""
    return tuple(standard for standard in read_standards() if standard.band is band)
