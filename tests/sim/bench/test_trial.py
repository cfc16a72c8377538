"""A trial: the gate is opened and closed, watched for a time, and the result says what happened."""

from __future__ import annotations

import csv
import itertools
import json
from pathlib import Path

import pytest

from sim.bench.trial import Order, Result, Trial
from sim.site import load_site
from sim.traces.export import write_csv
from sim.units import SECOND, Us

ROOT = Path(__file__).resolve().parents[3]
SITE = load_site(ROOT / "scenarios/sites/mill_lane.yaml")


@pytest.fixture(scope="module")
def trial() -> Trial:
    """The reference controller on a shipped site, two minutes, carried out once."""
    return Trial(Order(SITE, Us(120 * SECOND)))


@pytest.fixture(scope="module")
def result(trial: Trial) -> Result:
    """What came of it."""
    return trial.run()


def test_the_gate_opens_fully_and_shuts_again(result: Result) -> None:
    """One command each way: both leaves reach their open stops and end shut, and nobody calls it a failure."""
    assert result.ended == "finished"
    assert result.said == ""
    assert result.reached_s == 120.0
    for leaf in result.leaves:
        assert leaf.most_open_deg > 88.0, leaf
        assert abs(leaf.angle_deg) < 2.0, leaf
    assert result.state == "closed"


def test_the_leaf_that_is_free_opens_first(result: Result) -> None:
    """Common practice: the leaf that can move while the other is shut opens first and closes last."""
    moving = [h.text for h in result.happened if h.kind == "moving"]
    first = SITE.opens_first
    assert first in moving[0]
    assert first in moving[-1]
    assert not any(h.kind in ("clash", "struck", "danger") for h in result.happened)


def test_the_result_crosses_as_json(result: Result) -> None:
    """Base types only: what is written as JSON comes back equal."""
    assert Result.from_base_types(json.loads(json.dumps(result.as_base_types()))) == result


def test_the_trace_tells_the_same_story(trial: Trial, result: Result, tmp_path: Path) -> None:
    """The CSV has a row at least every 100 ms of movement, named columns, and the extremes of the result."""
    rows = write_csv(trial.world, tmp_path / "out.csv")
    with (tmp_path / "out.csv").open(encoding="utf-8", newline="") as file:
        table = list(csv.DictReader(file))
    assert len(table) == rows
    times = [float(row["time [s]"]) for row in table]
    assert times == sorted(times)
    assert times[0] <= 1.0
    assert times[-1] == pytest.approx(120.0, abs=0.1)
    for leaf in result.leaves:
        angles = [float(row[f"{leaf.name} leaf angle [°]"]) for row in table]
        assert max(angles) == pytest.approx(leaf.most_open_deg, abs=1e-3)
        # between two rows far apart in time the leaf must have stood still
        steps = zip(itertools.pairwise(times), itertools.pairwise(angles), strict=True)
        assert all(abs(angle[1] - angle[0]) < 0.1 for time, angle in steps if time[1] - time[0] > 0.1)
    assert {row["any control pressed"] for row in table} == {"0", "1"}


def test_equal_orders_give_equal_results(result: Result) -> None:
    """Same site, seed and script: the same result, digest included, whatever slices it was run in."""
    again = Trial(Order(SITE, Us(120 * SECOND))).run(told=lambda _reached: None)
    assert again == result
