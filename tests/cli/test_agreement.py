"""Agreement of two scorers from the terminal."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sklearn.metrics import cohen_kappa_score

from journal.cli.main import main


def _run(tmp_path: Path, text: str, *words: str) -> Result:
    path = tmp_path / "scores.csv"
    path.write_text(text, encoding="utf-8")
    return CliRunner().invoke(main, ["agreement", str(path), *words])


def _table(*cells: tuple[str, str, int]) -> str:
    lines = [f"{a},{b}" for a, b, count in cells for _ in range(count)]
    return "\n".join(["scorer_a,scorer_b", *lines])


def test_two_by_two_as_published(tmp_path: Path) -> None:
    """[[20, 20], [10, 50]] gives .348: Artstein & Poesio (2008), in scikit-learn's own tests."""
    text = _table(("1", "1", 20), ("1", "2", 20), ("2", "1", 10), ("2", "2", 50))
    told = _run(tmp_path, text).output
    assert "Scored twice      100" in told
    assert "Exact             70.0%" in told
    assert "Kappa             0.3478" in told
    assert "fair (Landis & Koch 1977" in told


@pytest.mark.parametrize("weights", ["linear", "quadratic"])
def test_weighted_kappas_are_those_of_scikit_learn(tmp_path: Path, weights: str) -> None:
    """Four levels, one of them given by nobody, against `cohen_kappa_score`."""
    first = [1, 1, 2, 4, 4, 2, 1, 4, 2, 4, 1, 2]
    second = [1, 2, 2, 4, 1, 2, 1, 4, 4, 4, 1, 1]
    lines = "\n".join(f"{a},{b}" for a, b in zip(first, second, strict=True))
    told = json.loads(_run(tmp_path, f"scorer_a,scorer_b\n{lines}\n", "--json").output)
    expected = cohen_kappa_score(first, second, labels=[1, 2, 3, 4], weights=weights)
    assert pytest.approx(expected) == told[weights]


def test_the_intraclass_correlation_is_told(tmp_path: Path) -> None:
    """The second scorer gives one level more throughout: worked out by hand.

    Levels 1, 2, 3 and 2, 3, 4: mean squares 2 between portfolios, 1.5 between scorers, no error,
    so 2 / (2 + 2 x 1.5 / 3) and, for the mean of both, 2 / (2 + 1.5 / 3).
    """
    text = _table(("1", "2", 1), ("2", "3", 1), ("3", "4", 1))
    told = _run(tmp_path, text).output
    assert "Intraclass        0.6667" in told
    assert "  of both's mean  0.8000" in told
    found = json.loads(_run(tmp_path, text, "--json").output)["intraclass"]
    assert (1.0, 0.0) == (found["fixed"], found["p_value"])


def test_one_portfolio_has_no_correlation(tmp_path: Path) -> None:
    """Null in JSON, words in sentences."""
    text = _table(("1", "2", 1))
    assert json.loads(_run(tmp_path, text, "--json").output)["intraclass"] is None
    assert "Intraclass        undefined" in _run(tmp_path, text).output


def test_named_levels_have_an_order(tmp_path: Path) -> None:
    """One step apart is adjacent, two are not."""
    text = "scorer_a,scorer_b\nnot yet,nearly\nnot yet,yes\nyes,yes\n"
    told = _run(tmp_path, text, "--levels", "not yet, nearly, yes").output
    assert "Exact             33.3%" in told
    assert "Within one level  66.7%" in told
    assert "no words from fewer than 10" in told


def test_all_the_same_is_undefined_and_said_so(tmp_path: Path) -> None:
    """Where both gave one level only, chance alone agrees in everything."""
    told = _run(tmp_path, _table(("3", "3", 12)))
    assert 0 == told.exit_code
    assert 5 == told.output.count("undefined: not enough variety")
    assert "nan" not in told.output


def test_an_empty_table_says_that_nothing_can_be_told(tmp_path: Path) -> None:
    """No lines, no figures."""
    assert "Nothing was scored by both" in _run(tmp_path, "scorer_a,scorer_b\n").output


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a,b\n1,2\n", ()),
        ("scorer_a,scorer_b\n1,x\n", ()),
        ("scorer_a,scorer_b\n", ("--levels", "1,1")),
    ],
)
def test_bad_input_is_one_sentence(tmp_path: Path, text: str, words: tuple[str, ...]) -> None:
    """Exit code 2 and no trace."""
    told = _run(tmp_path, text, *words)
    assert 2 == told.exit_code
    assert told.output.startswith("Error: ")
    assert "Traceback" not in told.output


def test_what_is_not_text_is_refused(tmp_path: Path) -> None:
    """A table of another program is not read as letters."""
    path = tmp_path / "scores.csv"
    path.write_bytes(b"\xff\xfe\x00\x81")
    told = CliRunner().invoke(main, ["agreement", str(path)])
    assert (2, True) == (told.exit_code, "not in UTF-8" in told.output)
