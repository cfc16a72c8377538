"""Where the gate is said to rest, from where its leaves stand: at a stop is within a window, part way is beyond it.

A hundredth of the travel from the closed stop and a fiftieth from the open one: common practice, no source.
"""

from __future__ import annotations

import pytest


def rest_at(gate, active: float, inactive: float) -> str:
    """What the panel says when the leaves were moved there while it rested."""
    gate.leaves[0].position, gate.leaves[1].position = active, inactive
    gate.run(0.1)
    gate.ask("acknowledge")
    return gate.state


@pytest.mark.parametrize("leaf", [0, 1])
@pytest.mark.parametrize("off", [-1, 1])
def test_closed_is_within_a_hundredth(gate, leaf: int, off: int) -> None:
    """On either side of the stop: a counter can be a little off both ways."""
    for counts, said in ((0.0, "closed"), (10.0, "closed"), (11.0, "part way open")):
        places = [0.0, 0.0]
        places[leaf] = off * counts
        assert rest_at(gate, *places) == said


@pytest.mark.parametrize("leaf", [0, 1])
@pytest.mark.parametrize("off", [-1, 1])
def test_open_is_within_a_fiftieth(gate, leaf: int, off: int) -> None:
    """The same at the open stop, where wind may hold a leaf off it."""
    gate.tap("open button")
    gate.until_state("open")
    gate.run(1.0)
    for counts, said in ((0.0, "open"), (14.0, "open"), (20.0, "open"), (21.0, "part way open")):
        places = [1000.0, 1000.0]
        places[leaf] = 1000.0 + off * counts
        assert rest_at(gate, *places) == said


def test_one_open_and_one_closed_is_for_pedestrians_only_if_that_was_asked_for(gate) -> None:
    """The same places after a jog are just part way."""
    assert rest_at(gate, 1000.0, 0.0) == "part way open"
    assert rest_at(gate, 0.0, 1000.0) == "part way open"
    assert rest_at(gate, 0.0, 0.0) == "closed"
    gate.tap("pedestrian button")
    gate.until_state("open for pedestrians")
    gate.run(1.0)
    assert gate.positions == (1000, 0)
    assert rest_at(gate, 1000.0, 1000.0) == "open"
    assert rest_at(gate, 500.0, 0.0) == "part way open"


@pytest.mark.parametrize(("short", "said"), [(20.0, "already open"), (21.0, "open given by open button")])
def test_what_is_open_isn_t_opened_again(gate, short: float, said: str) -> None:
    """Whoever asks is told so; beyond the window it is opened the rest of the way."""
    gate.tap("open button")
    gate.until_state("open")
    gate.run(1.0)
    rest_at(gate, 1000.0, 1000.0 - short)
    gate.tap("open button")
    assert (gate.message == "already open") is (said == "already open")
    gate.run(4.0)
    assert (gate.positions[1] == round(1000.0 - short)) is (said == "already open")


@pytest.mark.parametrize(("ajar", "said"), [(10.0, "already closed"), (11.0, "")])
def test_what_is_closed_isn_t_closed_again(gate, ajar: float, said: str) -> None:
    """The same at the closed stop."""
    rest_at(gate, 0.0, ajar)
    gate.tap("close button")
    assert (gate.message == "already closed") is bool(said)
    gate.run(6.0)
    assert (gate.positions[1] == round(ajar)) is bool(said)
