"""`journal agreement`: how far two scorers of the same portfolios agree."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

import click

from journal.analysis.agreement import FEWEST_FOR_BAND, Agreement, AgreementReason, agree
from journal.analysis.intraclass import Intraclass, correlate_ratings
from journal.cli.sentences import Stop
from journal.domain.numbers import show_fixed
from journal.exchange.agreement import read_scored_twice

_UNDEFINED = "undefined: not enough variety"


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option(
    "--levels",
    default="",
    help="The levels from low to high, with commas, such as 'not yet,nearly,yes'. "
    "Without it they are whole numbers, and every number between the least and the most is one.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of sentences.")
def agreement(file: Path, levels: str, *, as_json: bool) -> None:
    """Tell how far two scorers agree, from a table FILE.

    FILE is a CSV with the columns scorer_a and scorer_b: one line a portfolio, the level that each
    gave it. Printed are the shares of exact agreement and of agreement within one level,
    Cohen's kappa: plain, and weighted linearly and quadratically by how far apart the levels are,
    and the intraclass correlation: how much of what differs lies in the portfolios, not in who
    scores; of one scorer's levels, and of the mean of both (Shrout & Fleiss 1979, scorers taken as
    drawn from many). A figure is undefined where there is not enough variety.
    """
    named = [level.strip() for level in levels.split(",") if level.strip()]
    if len(set(named)) < len(named):
        raise Stop("--levels names one level twice. Take one of them out.")
    scored = read_scored_twice(file.read_bytes(), named)
    found = agree(scored.first, scored.second, scored.levels)
    step = {level: 1.0 * number for number, level in enumerate(scored.levels)}
    pairs = zip(scored.first, scored.second, strict=True)
    alike = correlate_ratings([(step[a], step[b]) for a, b in pairs])
    if as_json:
        correlations = None if alike is None else asdict(alike)
        click.echo(json.dumps({**asdict(found), "intraclass": correlations}, indent=2))
    else:
        click.echo(_describe(found, alike))


def _describe(found: Agreement, alike: Intraclass | None) -> str:
    if found.exact is None or found.adjacent is None:
        return "Nothing was scored by both: agreement cannot be told."
    lines = [
        f"Scored twice      {found.count}",
        f"Exact             {show_fixed(100 * found.exact, 1)}%",
        f"Within one level  {show_fixed(100 * found.adjacent, 1)}%",
        f"Kappa             {_show(found.plain)}",
        f"Kappa, linear     {_show(found.linear)}",
        f"Kappa, quadratic  {_show(found.quadratic)}",
        f"Intraclass        {_show(None if alike is None else alike.two_way)}",
        f"  of both's mean  {_show(None if alike is None else alike.two_way_of_mean)}",
    ]
    if found.band is not None:
        words = found.band.value.replace("_", " ")
        lines.append(f"In words          {words} (Landis & Koch 1977, quadratic kappa)")
    elif AgreementReason.TOO_FEW_FOR_BAND in found.reasons:
        few = f"no words from fewer than {FEWEST_FOR_BAND} scored twice"
        lines.append(f"In words          {few}")
    return "\n".join(lines)


def _show(figure: float | None) -> str:
    return _UNDEFINED if figure is None else show_fixed(figure, 4)
