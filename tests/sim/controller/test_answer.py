"""Watches: when one holds, at its threshold and one beside it; the same rule that the host keeps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sim.bench import line_watches
from sim.controller import answer
from sim.controller.ports import Inputs, Watch, Watched

QUIET = Inputs(27.3, (), (), (0.0, 0.0), (0, 0), (0, 0))


def _of(leaf: int, value: Any, other: Any) -> tuple[Any, Any]:
    return (value, other) if leaf == 0 else (other, value)


@pytest.mark.parametrize("leaf", [0, 1])
@pytest.mark.parametrize(
    ("watch", "terminal", "below", "at", "above"),
    [
        (Watch(Watched.COUNT_AT_LEAST, 0, 700), "counts", (699, False), (700, True), (701, True)),
        (Watch(Watched.COUNT_AT_MOST, 0, 700), "counts", (699, True), (700, True), (701, False)),
        (Watch(Watched.COUNT_AT_LEAST, 0, -700), "counts", (-701, False), (-700, True), (-699, True)),
        (Watch(Watched.STALLED_FOR, 0, 300_000), "quiet_us", (290_000, False), (300_000, True), (310_000, True)),
        (Watch(Watched.CURRENT_AT_LEAST, 0, 4.5), "motor_a", (4.49, False), (4.5, True), (4.51, True)),
        (Watch(Watched.CURRENT_AT_MOST, 0, 0.1), "motor_a", (0.09, True), (0.1, True), (0.11, False)),
        (Watch(Watched.CURRENT_AT_LEAST, 0, 4.5), "motor_a", (-4.49, False), (-4.5, True), (-4.51, True)),
    ],
)
def test_a_watch_holds_from_its_threshold_on(leaf: int, watch: Watch, terminal: str, below, at, above) -> None:
    """On its own leaf, whatever the other one does; a current counts by its size."""
    watch = replace(watch, leaf=leaf)
    for value, holds in (below, at, above):
        for other in (-1_000_000, 0, 1_000_000):
            inputs = replace(QUIET, **{terminal: _of(leaf, value, other)})
            assert answer.holds(watch, inputs) is holds
            assert line_watches.holds(watch, inputs) is holds


@pytest.mark.parametrize(("volts", "holds"), [(21.99, True), (22.0, True), (22.01, False)])
def test_a_watch_of_the_supply(volts: float, holds: bool) -> None:
    """It has no leaf."""
    watch, inputs = Watch(Watched.SUPPLY_AT_MOST, 0, 22.0), replace(QUIET, supply_v=volts)
    assert answer.holds(watch, inputs) is line_watches.holds(watch, inputs) is holds


@pytest.mark.parametrize("leaf", [0, 1])
@pytest.mark.parametrize(
    ("count", "limit_a"),
    [(-500, 2.0), (99, 2.0), (100, 2.0), (124, 2.0), (125, 3.0), (149, 3.0), (150, 4.0), (174, 4.0), (900, 4.0)],
)
def test_a_watch_of_a_table_takes_the_bin_that_the_leaf_is_in(leaf: int, count: int, limit_a: float) -> None:
    """From the table's start on in its pitch, the nearest bin outside it; more than the limit, not as much."""
    watch = Watch(Watched.CURRENT_ABOVE_TABLE, leaf, table=(2.0, 3.0, 4.0), table_start=100, table_pitch=25)
    for amps, holds in ((limit_a, False), (limit_a + 0.01, True), (-limit_a - 0.01, True), (limit_a - 0.5, False)):
        inputs = replace(QUIET, counts=_of(leaf, count, 0), motor_a=_of(leaf, amps, 99.0 if not holds else 0.0))
        assert answer.holds(watch, inputs) is holds
        assert line_watches.holds(watch, inputs) is holds
