"""The board feels its own temperature: noted with what is learned, and winter is told from summer."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.site import load_site
from sim.units import SECOND
from sim.world.actions import Value, checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"
HOUR = 3600 * SECOND

SHEET: dict[str, Value] = {
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "opens first": "active",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 4.0,
    "electric lock": "fitted",
}


def learned(air_c: float, *, every_scan: bool = False) -> World:
    """The reference bench, learned on a day with this air."""
    site = load_site(SITES / "reference_bench.yaml")
    weather = site.weather.model_copy(update={"temperature_c": air_c, "sunshine": 0.0})
    arrival = Arrival(sheet=SHEET, learned=True)
    return World(site.model_copy(update={"weather": weather}), seed=3, arrival=arrival, every_scan=every_scan)


def look(world: World) -> str:
    """What the panel says of the learned load when somebody uses it now."""
    world.do(checked("acknowledge", {}))
    return world.controller.panel().learned


@pytest.mark.parametrize("air_c", [-10.0, 15.0, 32.0])
def test_the_board_is_a_little_warmer_than_the_air(air_c: float) -> None:
    """In its box it stands above the air by what it loses itself, and that is what it notes."""
    world = learned(air_c)
    said = look(world)
    assert said.startswith("load learned with the board at ")
    first = float(said.split(" at ")[1].split(" ")[0])
    assert air_c < first < air_c + 12.0
    assert abs(first - world.board_heat.now_c()) < 3.0
    assert "now it is" not in said


def test_winter_comes() -> None:
    """Learned in spring, looked at in a hard winter: the panel says that it may need more effort."""
    world = learned(15.0)
    world.set_weather(world.weather.model_copy(update={"temperature_c": -15.0}))
    world.run_to(world.now + 12 * HOUR)
    assert look(world).endswith("it may need more effort than was learned")
    world.set_weather(world.weather.model_copy(update={"temperature_c": 15.0}))
    world.run_to(world.now + 12 * HOUR)
    assert "now it is" not in look(world)


def test_every_scan_is_the_same() -> None:
    """The temperature is read when something is due and changes nothing by itself."""
    digests = []
    for every_scan in (False, True):
        world = learned(15.0, every_scan=every_scan)
        world.set_weather(world.weather.model_copy(update={"temperature_c": -15.0}))
        world.run_to(world.now + 120 * SECOND)
        look(world)
        digests.append(world.digest())
    assert digests[0] == digests[1]
