"""Charge that stays in the power supply when both sources are gone."""

from __future__ import annotations

import math

import pytest

from sim.devices.reservoir import BLEED_OHM, FARAD
from sim.errors import Refused
from sim.instruments.toolbag import Toolbag
from sim.site import Battery, Site, Supply
from sim.units import SECOND
from sim.world.actions import Value, checked
from sim.world.world import World


@pytest.fixture
def world() -> World:
    """A gate with both sources, at rest."""
    made = World(Site(name="Larch Bank", supply=Supply(battery=Battery())), seed=4, bag=Toolbag)
    made.run_to(SECOND)
    return made


def do(world: World, kind: str, **arguments: Value) -> str:
    """One act."""
    return world.do(checked(kind, arguments))


def left(world: World) -> float:
    """What stands across the supply's output [V]."""
    return world.cabinet.volts("power supply, plus", "power supply, minus") or 0.0


def test_while_something_feeds_it_it_is_not_there(world: World) -> None:
    """It floats at the supply's voltage, and then at the battery's: no current, no source of its own."""
    for act in ("isolate", "restore", "remove battery link"):
        do(world, act)
        assert world.stored.volts == 0.0
        assert left(world) > 24.0


def test_with_the_board_on_it_it_is_empty_in_seconds(world: World) -> None:
    """From where the converters stop, 13 V, in some ten seconds to nothing; the board is off at once."""
    do(world, "isolate")
    do(world, "remove battery link")
    assert 12.0 < left(world) < 13.0
    do(world, "wait", seconds=1.0)
    assert not world.host.on
    assert left(world) > 3.0
    do(world, "wait", seconds=12.0)
    assert left(world) == 0.0


def test_with_the_fuse_out_it_falls_as_a_capacitor_over_its_bleed(world: World) -> None:
    """V₀·e^(−t/RC) with 4700 µF and 10 kΩ: 47 s (closed formula); the fuse's far side is dead long before."""
    world.cabinet.netlist.change("board fuse", closed=False)
    world.rewired()
    do(world, "isolate")
    start = left(world)
    do(world, "remove battery link")
    began = world.now
    for seconds in (10.0, 30.0, 60.0):
        world.run_to(began + round(seconds * SECOND))
        now = start * math.exp(-seconds / (FARAD * BLEED_OHM))
        later = start * math.exp(-seconds / (FARAD * BLEED_OHM) + 0.26)
        assert now * 0.98 <= left(world) <= later, "in steps of a quarter of the time constant"


def test_it_is_emptied_by_hand_once_nothing_feeds_it(world: World) -> None:
    """Ohms asked before are worthless and told; afterwards they are ohms."""
    with pytest.raises(Refused, match="a source still feeds it"):
        do(world, "discharge")
    world.cabinet.netlist.change("board fuse", closed=False)
    world.rewired()
    do(world, "isolate")
    do(world, "remove battery link")
    ohms = {
        "instrument": "multimeter",
        "function": "ohms",
        "at": "power supply, plus",
        "against": "power supply, minus",
    }
    do(world, "measure", **ohms)
    assert [e.data["what"] for e in world.events if e.kind == "danger"] == ["ohms on a live circuit"]
    assert "went through the resistor" in do(world, "discharge")
    assert left(world) == 0.0
    do(world, "measure", **ohms)
    assert len([e for e in world.events if e.kind == "danger"]) == 1


def test_a_source_that_comes_back_ends_it(world: World) -> None:
    """The board starts as ever."""
    do(world, "isolate")
    do(world, "remove battery link")
    do(world, "wait", seconds=2.0)
    assert world.stored.volts > 0.0
    do(world, "restore")
    assert world.stored.volts == 0.0
    do(world, "wait", seconds=1.0)
    assert world.host.on
