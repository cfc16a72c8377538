"""Drives in a whole world: a fault of one part shows in how the gate moves, and nobody told the controller."""

from __future__ import annotations

import math
from typing import Any

import pytest

from sim.site import Site, with_changes
from sim.units import SECOND
from sim.wiring.elements import Resistor
from sim.world.actions import checked
from sim.world.world import World

BENCH = Site(name="Osier Bed")


def world_of(changes: dict[str, Any] | None = None, seed: int = 0, **more: Any) -> World:
    """A world that stands shut, with nothing learned: for jogging."""
    return World(with_changes(BENCH, changes) if changes else BENCH, seed=seed, **more)


def do(world: World, kind: str, **arguments: Any) -> None:
    """One act."""
    world.do(checked(kind, arguments))


def stated(world: World) -> World:
    """The board is up, and its sheet says what jogging wants to know of the gate."""
    world.run_to(world.now + SECOND)
    for setting, value in (("leaves fitted", "2"), ("drive kind", "linear ram"), ("opens first", "active")):
        do(world, "set", setting=setting, value=value)
    for guard, fitted in world.site.guards.fitted.items():
        if not fitted:
            do(world, "set", setting=guard, value="not fitted")
    return world


def jogged(world: World, seconds: float, direction: str = "open", leaf: str = "active") -> World:
    """Hold a jog so long, let it go, and wait until all rests."""
    do(world, "jog press", leaf=leaf, direction=direction)
    do(world, "wait", seconds=seconds)
    do(world, "jog release", leaf=leaf)
    do(world, "wait", seconds=3.0)
    return world


def degrees(world: World, leaf: int = 0) -> float:
    """Where a leaf stands [°]."""
    return math.degrees(world.plant.angle(leaf))


def weld(world: World) -> None:
    """Both contacts of the active leaf's opening relay."""
    world.cabinet.netlist.add(
        Resistor("feed, welded", "board.active output", "active leaf motor.plus", 0.01),
        Resistor("return, welded", "active leaf motor.minus", "board.common", 0.01),
    )
    world.rewired()


def test_relays_fall_back_after_a_movement() -> None:
    """Pulled in while the leaf is driven, at rest a moment later, and the motor is joined to nothing."""
    world = stated(world_of())
    do(world, "jog press", leaf="active", direction="open")
    do(world, "wait", seconds=1.0)
    assert world.host.drives.signs == (1, 0)
    do(world, "jog release", leaf="active")
    do(world, "wait", seconds=2.0)
    assert world.host.drives.signs == (0, 0)
    assert world.cabinet.driven((0, 0)).network.closed == (False, False)


def test_a_welded_relay_moves_the_leaf_after_a_stop() -> None:
    """With the stop button pressed and nothing asked the leaf opens all the way; the other stays."""
    world = world_of()
    do(world, "press", control="stop button")
    weld(world)
    world.run_to(world.now + 30 * SECOND)
    assert degrees(world) > 85.0
    assert abs(degrees(world, 1)) < 1.0
    assert world.plant.motor_current(0) > 10.0
    do(world, "isolate")
    world.run_to(world.now + 5 * SECOND)
    assert world.plant.motor_current(0) == 0.0


@pytest.mark.parametrize("every_scan", [False, True])
def test_asking_more_often_changes_nothing_for_a_welded_relay(every_scan: bool) -> None:
    """The same digest however often the controller is asked."""
    world = stated(world_of(every_scan=every_scan))
    weld(world)
    jogged(world, 4.0)
    assert world.digest() == _welded_digest()


def _welded_digest() -> str:
    world = stated(world_of())
    weld(world)
    return jogged(world, 4.0).digest()


@pytest.mark.parametrize("every_scan", [False, True])
def test_crossed_encoders_feed_each_other_s_counter(every_scan: bool) -> None:
    """Jogging one leaf moves the other's counter; the controller, asked often or seldom, sees the same."""
    world = stated(world_of(every_scan=every_scan))
    net = world.cabinet.netlist
    one, other = "active encoder, signal core", "inactive encoder, signal core"
    here, there = net[one].a, net[other].a
    net.change(one, a=there)
    net.change(other, a=here)
    world.rewired()
    jogged(world, 1.0)
    assert world.host.drives.counts()[0] == 0
    assert world.host.drives.counts()[1] > 20
    assert not world.host.drives.plain


def test_counters_never_jump_when_a_line_is_moved() -> None:
    """A counter that follows another encoder goes on from what it shows."""
    world = jogged(stated(world_of()), 1.5)
    before = world.host.drives.counts()
    assert before[0] > 20
    net = world.cabinet.netlist
    one, other = "active encoder, signal core", "inactive encoder, signal core"
    here, there = net[one].a, net[other].a
    undos = net.change(one, a=there), net.change(other, a=here)
    world.rewired()
    assert world.host.drives.counts() == before
    for undo in reversed(undos):
        undo()
    world.rewired()
    assert world.host.drives.counts() == before
    assert world.host.drives.plain


def test_a_dead_encoder_counts_nothing_while_the_leaf_moves() -> None:
    """Its supply core broken: the leaf moves, the count stands, and the drive is stopped for it."""
    world = stated(world_of())
    world.cabinet.netlist.change("active encoder, plus core", ohm=1e7)
    world.rewired()
    jogged(world, 4.0)
    assert degrees(world) > 0.5
    assert world.host.drives.counts()[0] == 0
    assert degrees(world) < 10.0, "what isn't counted isn't driven for long"


def test_two_lines_exchanged_count_backwards() -> None:
    """The leaf opens and the count goes down; with the leads swapped as well it closes and goes up."""
    world = stated(world_of({"drives.active.sensing.channels": "two"}))
    net = world.cabinet.netlist
    one, other = "active encoder, signal core", "active encoder, second signal core"
    here, there = net[one].a, net[other].a
    net.change(one, a=there)
    net.change(other, a=here)
    world.rewired()
    jogged(world, 1.5)
    assert degrees(world) > 0.5
    assert world.host.drives.counts()[0] < -20


def test_a_limit_switch_stops_the_leaf_at_its_place() -> None:
    """Cut at 20°, and free to come back from there."""
    changes = {
        "drives.active.sensing.limits_in_motor_lead": True,
        "drives.active.sensing.limit_open_deg": 20.0,
        "drives.active.sensing.limit_closed_deg": -0.5,
    }
    world = jogged(stated(world_of(changes)), 30.0)
    assert degrees(world) == pytest.approx(20.0, abs=0.6)
    assert not world.cabinet.driven((1, 0)).network.closed[0]
    jogged(world, 3.0, "close")
    assert degrees(world) < 19.0
    assert world.cabinet.driven((1, 0)).network.closed[0]


def test_spikes_are_the_same_for_the_same_seed_and_count_only_in_a_shared_conduit() -> None:
    """Separate conduits leave nothing worth a pulse; in one with mains cables counts go wrong."""
    apart, shared, again, other = (
        jogged(stated(world_of(changes, seed)), 1.5)
        for changes, seed in (
            ({}, 4),
            ({"cables.encoders_beside_mains": True}, 4),
            ({"cables.encoders_beside_mains": True}, 4),
            ({"cables.encoders_beside_mains": True}, 5),
        )
    )
    assert apart.coupling.spikes == []
    assert max(spike.volts for spike in shared.coupling.spikes) > 1.0
    assert shared.coupling.spikes == again.coupling.spikes
    assert shared.coupling.spikes != other.coupling.spikes
    assert sum(s.pulses for s in shared.coupling.spikes if s.leaf == 0) == (
        shared.host.drives.counts()[0] - apart.host.drives.counts()[0]
    )


def test_the_board_warms_in_closed_form_and_gives_up() -> None:
    """T = T∞ + (T₀ − T∞)·e^(−t/τ), and the stages protect themselves at 80 °C until 65 °C."""
    world = world_of({"weather.sunshine": 1.0, "weather.temperature_c": 30.0})
    began = world.board_heat.now_c()
    assert began == pytest.approx(30.0 + 68.0 / 2.5)
    world.refit(with_changes(world.site, {"enclosure.vent_w_k": 1.0}))
    world.run_to(world.now + 600 * SECOND)
    assert world.board_heat.now_c() == pytest.approx(98.0 + (began - 98.0) * math.exp(-600.0 / 3000.0), abs=1e-6)
    world.run_to(world.now + 3000 * SECOND)
    assert world.board_heat.now_c() > 80.0
    assert world.cabinet.driven((1, 1)).senses == (0, 0)
    world.refit(with_changes(world.site, {"enclosure.vent_w_k": 2.5}))
    world.run_to(world.now + 3000 * SECOND)
    assert world.board_heat.now_c() < 65.0
    assert world.cabinet.driven((1, 1)).senses == (1, 1)
