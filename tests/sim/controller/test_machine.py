"""The table of states: one table, no dead end, nothing that isn't in it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sim.controller.machine import ROWS, STATES, TABLE, TRIGGERS, GateMachine, State, chart
from sim.controller.readable import ChartMachine
from sim.errors import ControllerError

GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "controller.mmd"


def test_chart_is_as_drawn() -> None:
    """A change of the table is a change of the drawing. Blessed anew by running with GUDGEON_BLESS=1."""
    if os.environ.get("GUDGEON_BLESS") == "1":
        GOLDEN.write_text(chart(), encoding="utf-8")
    assert chart() == GOLDEN.read_text(encoding="utf-8")


@pytest.mark.parametrize("state", list(State))
def test_every_state_can_be_left_and_reached(state: State) -> None:
    """No dead end, and no state that nothing leads to but the first."""
    assert any(state in sources and target is not state for _, sources, target in ROWS)
    assert state is State.NO_POWER or any(target is state for _, _, target in ROWS)


def test_a_trigger_means_one_thing_in_each_state() -> None:
    """From one state one trigger leads to one state."""
    seen = [(trigger, source) for trigger, sources, _ in ROWS for source in sources]
    assert len(seen) == len(set(seen))


@pytest.mark.parametrize("state", [s for s in State if s not in (State.NO_POWER, State.SELF_CHECK, State.HALTED)])
def test_stop_is_heard_in_every_state(state: State) -> None:
    """The stop circuit has a way out of every powered state."""
    machine = GateMachine()
    machine.restore(state)
    machine.fire("stop opens")
    assert machine.state is State.HALTED


def test_no_driven_state_is_reached_when_power_returns() -> None:
    """Power leads to the self-check and from there to rest, and nowhere else."""
    assert [target for trigger, _, target in ROWS if trigger == "power returns"] == [State.SELF_CHECK]
    assert {t for _, sources, t in ROWS if State.SELF_CHECK in sources} == {State.AT_REST, State.NO_POWER}


def test_what_is_not_in_the_table_is_an_error() -> None:
    """A trigger without a row is never swallowed."""
    machine = GateMachine()
    with pytest.raises(ControllerError, match="'go open' has no meaning while the gate is no power"):
        machine.fire("go open")
    assert machine.state is State.NO_POWER


def test_no_automatic_ways() -> None:
    """The library adds no way of its own: only the rows' triggers exist."""
    machine = ChartMachine()
    assert set(machine._machine.events) == {trigger for trigger, _, _ in ROWS}


def test_the_table_of_numbers_has_a_state_or_minus_one() -> None:
    """The seam for a loop that knows neither words nor enums: −1 is no way, anything else is the place of a state."""
    ways = {(trigger, source): target for trigger, sources, target in ROWS for source in sources}
    for source, row in zip(STATES, TABLE, strict=True):
        for trigger, target in zip(TRIGGERS, row, strict=True):
            there = ways.get((trigger, source))
            assert target == (-1 if there is None else STATES.index(there))
