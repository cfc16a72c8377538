"""Fuses, breakers, battery and bolt in a world: events at instants that were worked out, however time is cut."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench.trial import as_installed
from sim.faults.edit import Leak, Value
from sim.instruments.toolbag import Toolbag
from sim.site import Site, load_site, with_changes
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.world import World

BENCH = Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml"
SHORT = Leak("warning lamp cable, crushed", "warning lamp plug.plus screw", "warning lamp plug.minus screw", 0.4, 0.4)
WET = Value("supply lead, live, insulation", "ohm", 5e3, 5e3)


@pytest.fixture(scope="module")
def bench() -> Site:
    """The teaching bench."""
    return load_site(BENCH)


def gate(site: Site, *, every_scan: bool = False) -> World:
    """As a good installer leaves it."""
    return World(site, seed=5, bag=Toolbag, arrival=as_installed(site), every_scan=every_scan)


def press(world: World, control: str, seconds: float = 0.5) -> None:
    """Press a button and let it go."""
    world.do(checked("press", {"control": control}))
    world.run_to(world.now + int(seconds * SECOND))
    world.do(checked("release", {"control": control}))


def told(world: World, word: str) -> list[int]:
    """Instants of the events with a word."""
    return [int(event.at) for event in world.events if word in event.text]


def test_a_short_blows_the_board_fuse_when_the_lamp_is_lit(bench: Site) -> None:
    """Nothing until the lamp is switched on; then the fuse melts at the instant its current asks for, and the board
    is dead. A new fuse alone goes the same way."""
    world = gate(bench)
    SHORT.apply(world, 1.0)
    world.run_to(world.now + 60 * SECOND)
    assert told(world, "board fuse") == []
    press(world, "open button")
    world.run_to(world.now + 10 * SECOND)
    (at,) = told(world, "the board fuse let go")
    assert not world.host.on
    lit = next(
        each.at
        for each in world.cabinet.trace
        if "warning lamp, switch" in each.changed and each.at > at - 5 * SECOND
    )
    assert 0.05 < (at - lit) / SECOND < 3.0


def test_a_wet_lead_trips_the_residual_current_device(bench: Site) -> None:
    """46 mA: out within 0.3 s, and it stays out; closed again it trips again, dry it holds."""
    world = gate(bench)
    began = int(world.now)
    undo = WET.apply(world, 1.0)
    world.run_to(world.now + SECOND)
    (at,) = told(world, "residual-current device let go")
    assert 0 < at - began <= 0.3 * SECOND
    assert not world.cabinet.is_switched_on("residual-current device")
    world.do(checked("reset", {"what": "residual-current device"}))
    world.run_to(world.now + SECOND)
    assert len(told(world, "residual-current device let go")) == 2
    undo()
    world.do(checked("reset", {"what": "residual-current device"}))
    world.run_to(world.now + 60 * SECOND)
    assert world.cabinet.is_switched_on("residual-current device")


def test_a_dead_short_takes_the_line_fuse_or_the_breaker(bench: Site) -> None:
    """Live on neutral at the supply: something upstream lets go within a second."""
    world = gate(bench)
    Leak("short", "power supply inlet.live", "power supply inlet.neutral", 0.05, 0.05, "mains").apply(world, 1.0)
    world.run_to(world.now + SECOND)
    gone = [event.data["what"] for event in world.events if "let go" in event.text]
    assert gone
    assert set(gone) <= {"line fuse", "distribution breaker"}


def run_down(world: World, cuts: int = 1) -> str:
    """Half an hour without mains with two movements in it, in so many pieces."""
    world.do(checked("isolate", {}))
    for control in ("open button", "close button"):
        press(world, control)
        end = world.now + 900 * SECOND
        for piece in range(1, cuts + 1):
            world.run_to(world.now + (end - world.now) // (cuts - piece + 1))
        world.run_to(end)
    return world.digest()


@pytest.mark.slow
def test_a_battery_runs_down_the_same_however_time_is_cut(bench: Site) -> None:
    """In one piece or in thousands, asked at every scan or only when due: the same charge and digest, to the bit."""
    small = with_changes(bench, {"supply.battery.capacity_ah": 1.0})
    whole = gate(small)
    expected = run_down(whole)
    charge = whole.cabinet.passing.charge
    assert 0.5 < charge < 0.95
    cut = gate(small)
    assert run_down(cut, cuts=737) == expected
    assert cut.cabinet.passing.charge == charge
    assert run_down(gate(small, every_scan=True)) == expected


def test_moving_from_the_battery_costs_charge(bench: Site) -> None:
    """More than standing for as long: the motors draw on it."""
    charges = []
    for moves in (False, True):
        world = gate(bench)
        world.do(checked("isolate", {}))
        if moves:
            press(world, "open button")
        world.run_to(world.now + 60 * SECOND)
        world.current.look()
        charges.append(world.cabinet.passing.charge)
    assert charges[1] < charges[0] < 1.0


def test_the_trace_says_when_the_net_was_solved_and_why(bench: Site) -> None:
    """At rest it says nothing; an edit stands in it with its instant; what was there isn't solved anew."""
    world = gate(bench)
    world.run_to(world.now + 60 * SECOND)
    before = len(world.cabinet.trace)
    world.run_to(world.now + 600 * SECOND)
    assert len(world.cabinet.trace) == before
    for act in ("unplug", "plug in", "unplug"):
        world.do(checked(act, {"guard": "outer beam"}))
        world.cabinet.guard_volts()
    entries = [each for each in world.cabinet.trace if "outer beam plug, contact pole" in each.changed]
    assert [each.anew for each in entries[:1] + entries[-1:]] == [True, False]
    assert all(each.at > world.now - 60 * SECOND for each in entries)


def test_a_site_without_a_battery_moves(bench: Site) -> None:
    """No battery, no charge to keep: it opens all the same."""
    world = gate(with_changes(bench, {"supply.battery": None}))
    assert opened(world)
    assert world.cabinet.passing.flow.battery_a == 0.0


# -- the bolt ---------------------------------------------------------------------------------------------------


def opened(world: World) -> bool:
    """Whether a command opens the gate."""
    press(world, "open button")
    return world.do(checked("wait until", {"what": "fully open", "at_most_s": 60.0})).endswith("yes.")


def test_the_bolt_holds_a_leaf_that_its_lock_does_not_free(bench: Site) -> None:
    """Shut, it is behind its bolt; opening lifts it; with the lock's plug out the leaf stays where it is."""
    world = gate(bench)
    assert world.bolt.holds
    assert opened(world)
    assert not world.bolt.holds
    press(world, "close button")
    world.do(checked("wait until", {"what": "fully closed", "at_most_s": 60.0}))
    assert world.bolt.holds
    world.do(checked("unplug", {"guard": "lock"}))
    assert not opened(world)
    assert abs(world.plant.angle(0)) < 0.05


@pytest.mark.parametrize(
    ("changes", "push_s", "opens"),
    [
        ({"lock.stuck": True}, 0.3, False),
        ({"lock.pressed_n": 300.0}, 0.0, False),
        ({"lock.pressed_n": 300.0}, 0.3, True),
    ],
)
def test_a_bolt_that_binds(bench: Site, changes: dict[str, object], push_s: float, opens: bool) -> None:
    """Jammed it stays whatever is done; bound by its seal it needs the relief push."""
    world = gate(bench)
    world.refit(with_changes(bench, changes))
    world.assume({"relief push": push_s})
    assert opened(world) is opens


@pytest.mark.parametrize("push_s", [0.3, 1.0])
@pytest.mark.parametrize(("soft_start_s", "pulse_s"), [(1.0, 1.5), (3.0, 3.5)])
def test_held_open_from_shut_it_leaves_the_bolt(
    bench: Site, push_s: float, soft_start_s: float, pulse_s: float
) -> None:
    """Slow under a hand, and however long it was pushed first: with a pulse as long as the sheet's rules ask for, the
    bolt lets the leaf go."""
    world = gate(bench)
    held = {"open and close buttons": "hold-to-run", "relief push": push_s, "soft start": soft_start_s}
    world.assume({**held, "lock pulse": pulse_s})
    assert world.bolt.holds
    world.do(checked("press", {"control": "open button"}))
    world.run_to(world.now + 8 * SECOND)
    assert not world.bolt.holds
    assert world.plant.angle(0) > 0.05
    assert world.controller.panel().state == "hold-to-run opening"


def test_a_site_without_a_lock_has_no_bolt(site: Site) -> None:
    """Nothing holds a leaf there."""
    assert not World(site).bolt.holds
