"""What a whole gate does: short plays through the front door of the world, with the reference controller."""

from __future__ import annotations

import math

import pytest

from sim.errors import Refused
from sim.instruments.toolbag import Toolbag
from sim.mechanics.linkage import Linkage
from sim.site import Site, with_changes
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

SHEET = {
    "inner beam": "not fitted",
    "outer beam": "reopen",
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 5.0,
    "slow zone before stop": 25.0,
}


def learned(site: Site, **sheet: str | float) -> World:
    """A gate found commissioned and shut."""
    settings = {**SHEET, "opens first": site.opens_first, **{k.replace("_", " "): v for k, v in sheet.items()}}
    return World(site, bag=Toolbag, arrival=Arrival(sheet=settings, learned=True))


def do(world: World, kind: str, **arguments: object) -> str:
    """Do an action of the catalogue."""
    return world.do(checked(kind, arguments))


def tap(world: World, control: str) -> None:
    """Press a control for half a second."""
    do(world, "press", control=control)
    world.run_to(world.now + SECOND // 2)
    do(world, "release", control=control)


def degrees(world: World) -> tuple[float, float]:
    """Both leaf angles [°]."""
    return math.degrees(world.plant.angle(0)), math.degrees(world.plant.angle(1))


@pytest.fixture
def gate(site: Site) -> World:
    """The reference site, commissioned."""
    return learned(site)


def test_it_learns_its_travel_and_stands_shut(gate: World, site: Site) -> None:
    """Both travels are known: the stroke of the site's geometry over the screw lead, and up to 6 % of winding up.

    Stops are springs and so is the ram: the motor turns on until it stalls.
    """
    travel = gate.controller.panel().travel
    for leaf, drive in enumerate(site.drives.fitted):
        stop = math.radians(site.leaves.pair[leaf].open_stop_deg)
        stroke = Linkage(site, leaf).travel(stop)
        counts = stroke / drive.screw_lead_m * drive.gear_ratio * drive.pulses_per_turn
        assert counts < (travel[leaf] or 0) < 1.06 * counts
    assert gate.stands(fully_open=False)


def test_it_opens_and_closes_in_the_order_of_the_strip(gate: World, site: Site) -> None:
    """The free leaf opens first and closes last (common practice, no source), and nothing clashes."""
    do(gate, "press", control="open button")
    gate.run_to(gate.now + 3 * SECOND)
    do(gate, "release", control="open button")
    assert gate.run_to(gate.now + 90 * SECOND, lambda: gate.stands(fully_open=True))
    tap(gate, "close button")
    assert gate.run_to(gate.now + 90 * SECOND, lambda: gate.stands(fully_open=False))
    first = site.opens_first
    moves = [(e.data["leaf"], e.data["direction"]) for e in gate.events if e.kind == "moving"]
    second = "inactive" if first == "active" else "active"
    assert list(dict.fromkeys(moves)) == [(first, "open"), (second, "open"), (second, "close"), (first, "close")]
    assert not [e for e in gate.events if e.kind == "clash"]


def test_a_beam_cut_while_closing_reopens_the_gate(gate: World) -> None:
    """It stops, opens fully although the beam is free again at once, and stays."""
    tap(gate, "open button")
    gate.run_to(gate.now + 90 * SECOND, lambda: gate.stands(fully_open=True))
    tap(gate, "close button")
    gate.run_to(gate.now + 8 * SECOND)
    before = degrees(gate)
    do(gate, "cover beam", guard="outer beam")
    do(gate, "uncover beam", guard="outer beam")
    assert gate.run_to(gate.now + 60 * SECOND, lambda: gate.stands(fully_open=True))
    assert min(before) < 88.0


def test_power_that_returns_starts_nothing(gate: World) -> None:
    """Cut while opening, restored: the gate stays where it was, whatever was held."""
    do(gate, "press", control="open button")
    gate.run_to(gate.now + 8 * SECOND)
    if gate.site.supply.battery is not None:
        do(gate, "remove battery link")
    do(gate, "isolate")
    gate.run_to(gate.now + 5 * SECOND)
    stood = degrees(gate)
    do(gate, "restore")
    gate.run_to(gate.now + 60 * SECOND)
    assert degrees(gate) == pytest.approx(stood, abs=0.05)


def test_the_wrong_leaf_first_clashes_in_the_model(site: Site) -> None:
    """A sheet that is false to the strip makes the leaves press on each other, and the world says so."""
    gate = learned(site)
    wrong = "inactive" if site.opens_first == "active" else "active"
    do(gate, "set", setting="opens first", value=wrong)
    do(gate, "learn travel")
    gate.run_to(gate.now + 120 * SECOND, lambda: any(e.kind == "clash" for e in gate.events))
    assert [e for e in gate.events if e.kind == "clash"]
    do(gate, "wait until", what="learning ends")
    panel = gate.controller.panel()
    assert panel.travel == (None, None)
    assert "nothing is kept" in panel.message
    assert any(reason in panel.message for reason in ("something stopped it", "it hardly moved"))


def test_somebody_in_the_arc_is_struck_and_it_is_told(gate: World) -> None:
    """The dangerous thing happens in the model and is shown plainly."""
    tap(gate, "open button")
    gate.run_to(gate.now + 90 * SECOND, lambda: gate.stands(fully_open=True))
    do(gate, "place body", body="adult", x_m=1.2, y_m=0.6)
    tap(gate, "close button")
    gate.run_to(gate.now + 60 * SECOND, lambda: any(e.kind == "struck" for e in gate.events))
    struck = [e for e in gate.events if e.kind == "struck"]
    assert struck[0].data["body"] == "adult"
    assert [e for e in gate.events if e.kind == "danger" and e.data["what"] == "person in the arc"]


def test_a_body_is_not_put_into_a_leaf(gate: World) -> None:
    """What can't stand there is refused in words, and nothing changes."""
    with pytest.raises(Refused, match="would stand in the leaf"):
        do(gate, "place body", body="adult", x_m=1.0, y_m=0.0)
    assert not gate.people.bodies


def test_swapped_leads_turn_the_leaf_the_wrong_way(site: Site) -> None:
    """Jogged to open, a half-open leaf with exchanged motor leads closes."""
    gate = World(site, arrival=Arrival(angles_deg=(45.0, 45.0), swapped_leads=("inactive",)))
    before = degrees(gate)
    do(gate, "jog press", leaf="inactive", direction="open")
    gate.run_to(gate.now + 2 * SECOND)
    do(gate, "jog release", leaf="inactive")
    gate.run_to(gate.now + 2 * SECOND)
    after = degrees(gate)
    assert after[1] < before[1] - 1.0
    assert after[0] == before[0]


def test_a_thin_cable_makes_a_slow_leaf(site: Site) -> None:
    """The undersized cable of facts 8.1: same gate, 0.5 mm² instead of 1.5 mm², the leaf takes longer to its stop."""

    def seconds(section: float) -> float:
        thin = with_changes(site, {"cables.active_motor.section_mm2": section, "cables.active_motor.length_m": 60.0})
        gate = World(thin, arrival=Arrival(angles_deg=(10.0, 10.0)))
        start = gate.now
        do(gate, "jog press", leaf="active", direction="open")
        gate.run_to(gate.now + 90 * SECOND, lambda: gate.plant.touching(0) == "open stop")
        while gate.plant.touching(0) != "open stop" and gate.now < start + 120 * SECOND:
            gate.run_to(gate.now + SECOND // 10)
        return (gate.now - start) / SECOND

    assert seconds(0.5) > 1.01 * seconds(1.5)
