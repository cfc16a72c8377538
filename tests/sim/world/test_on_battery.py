"""A gate without mains: the board knows by its own takeover relay, and a battery that runs down is noticed."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.site import Site, load_site
from sim.units import SECOND
from sim.world.actions import Value, checked
from sim.world.arrival import Arrival
from sim.world.effects.timing import condition
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"

SHEET: dict[str, Value] = {
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "opens first": "active",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 4.0,
    "slow zone before stop": 20.0,
    "electric lock": "fitted",
}


def with_battery(**battery: float) -> Site:
    """The reference bench with its battery as given."""
    site = load_site(SITES / "reference_bench.yaml")
    assert site.supply.battery is not None
    fitted = site.supply.battery.model_copy(update=battery)
    return site.model_copy(update={"supply": site.supply.model_copy(update={"battery": fitted})})


def found(site: Site, *, every_scan: bool = False, **sheet: Value) -> World:
    """The gate, learned and shut."""
    return World(site, seed=3, arrival=Arrival(sheet={**SHEET, **sheet}, learned=True), every_scan=every_scan)


def do(world: World, kind: str, **arguments: Value) -> str:
    """One act."""
    return world.do(checked(kind, arguments))


def log(world: World) -> list[str]:
    """The controller's log in words."""
    return [text for _, text in world.controller.panel().log]


def tap(world: World, name: str) -> None:
    """Press a button and let go."""
    do(world, "press", control=name)
    do(world, "wait", seconds=0.2)
    do(world, "release", control=name)


def command(world: World, name: str, until: str) -> None:
    """Press a button and wait for what comes of it, two minutes at most."""
    tap(world, name)
    world.run_to(world.now + 120 * SECOND, condition(world, until))


def test_isolating_is_noticed_and_the_mains_too() -> None:
    """Isolator off: it runs on its battery and says so; on again: it says that as well."""
    world = found(with_battery())
    do(world, "isolate")
    do(world, "wait", seconds=1.0)
    assert "board: runs on its battery" in log(world)
    assert world.controller.panel().message == "the board runs on its battery"
    do(world, "restore")
    do(world, "wait", seconds=1.0)
    assert log(world)[-1] == "board: runs on its power supply again"


def test_a_battery_that_runs_down_is_called_low_and_the_gate_stays_open() -> None:
    """Cycle after cycle without mains the supply falls under load, until the battery is called low; the movement
    under way is finished, the gate opens once more, and closing is refused."""
    world = found(with_battery(capacity_ah=4.0, charge=0.2))
    do(world, "isolate")
    for cycle in range(10):
        command(world, "open button", "fully open")
        assert world.stands(fully_open=True), cycle
        if any("battery: low" in text for text in log(world)):
            break
        command(world, "close button", "fully closed")
    assert 1 < cycle < 9
    tap(world, "close button")
    do(world, "wait", seconds=60.0)
    assert world.stands(fully_open=True)
    assert world.controller.panel().message == "close refused: the battery is low: the gate opens only"


def test_a_flat_battery_lets_the_board_go_and_nothing_moves_after() -> None:
    """Told to go on as usual it does until the supply breaks down under the motors: the drives drop, the board comes
    back once the load is gone, its position is unknown, and nothing moves by itself."""
    world = found(with_battery(charge=0.01), **{"battery low": "as usual"})
    do(world, "isolate")
    tap(world, "open button")
    do(world, "wait", seconds=60.0)
    assert "board: has power again" in log(world)[-5:]
    assert world.controller.panel().state == "position unknown"
    assert world.rests()
    began = (world.plant.angle(0), world.plant.angle(1))
    do(world, "wait", seconds=60.0)
    assert (world.plant.angle(0), world.plant.angle(1)) == began


def test_a_sound_battery_is_not_low() -> None:
    """Five cycles on a healthy pair: the rail stays above 23 V (facts 8.1, the check for a new battery)."""
    world = found(with_battery())
    do(world, "isolate")
    for _ in range(5):
        command(world, "open button", "fully open")
        command(world, "close button", "fully closed")
    assert world.stands(fully_open=False)
    assert not any("battery: low" in text for text in log(world))


@pytest.mark.parametrize("policy", ["as usual", "opens once and stays open"])
def test_what_the_sheet_says_is_done(policy: str) -> None:
    """The gate opens by itself when the battery takes over only where the sheet says so."""
    world = found(with_battery(), **{"on battery": policy})
    command(world, "open button", "fully open")
    command(world, "close button", "fully closed")
    do(world, "isolate")
    world.run_to(world.now + 60 * SECOND)
    assert world.stands(fully_open=policy != "as usual")


@pytest.mark.slow
def test_every_scan_is_the_same() -> None:
    """The every-scan twin: same digest after a takeover, a low battery and the mains' return."""
    digests = []
    for every_scan in (False, True):
        world = found(with_battery(charge=0.05), every_scan=every_scan)
        tap(world, "open button")
        do(world, "wait", seconds=45.0)
        do(world, "isolate")
        tap(world, "close button")
        do(world, "wait", seconds=80.0)
        tap(world, "open button")
        do(world, "wait", seconds=80.0)
        do(world, "restore")
        do(world, "wait", seconds=20.0)
        assert any("battery: low" in text for text in log(world))
        digests.append(world.digest())
    assert digests[0] == digests[1]
