"""Guard and command inputs as the board reads them, through everything people do to them."""

from __future__ import annotations

import pytest

from sim.controller.ports import CONTACT_THRESHOLD_V
from sim.devices.boardio import COMMAND_NAMES
from sim.devices.cabinet import Cabinet, build_cabinet
from sim.site import GUARD_NAMES, Site, with_changes

OPEN_V = pytest.approx(24.0, abs=0.3)
"""A contact loop that is open (the ports: about 24 V)."""

CLOSED_V = pytest.approx(0.0, abs=0.1)
"""A contact loop that is closed (the ports: about 0 V)."""


def reads(cabinet: Cabinet, guard: str) -> float:
    return cabinet.guard_volts()[GUARD_NAMES.index(guard)]


def test_a_healthy_clear_site(cabinet: Cabinet) -> None:
    """Loops closed, edges at half of 3.3 V, and nothing at the input of the guard that isn't fitted."""
    assert cabinet.guard_volts() == (
        CLOSED_V,
        OPEN_V,
        pytest.approx(1.65, rel=0.02),
        pytest.approx(1.65, rel=0.02),
        CLOSED_V,
    )
    assert cabinet.command_volts() == (OPEN_V,) * len(COMMAND_NAMES)


def test_a_beam_trips_when_cut_and_when_its_emitter_is_dropped(cabinet: Cabinet) -> None:
    """Facts 8.4: 0 V clear, about 24 V blocked; the guard test drops the emitters and sees the same."""
    cabinet.set_beam_blocked("outer beam", True)
    assert reads(cabinet, "outer beam") == OPEN_V
    cabinet.set_beam_blocked("outer beam", False)
    assert reads(cabinet, "outer beam") == CLOSED_V
    cabinet.set_emitters(False)
    assert reads(cabinet, "outer beam") == OPEN_V
    cabinet.set_emitters(True)
    assert reads(cabinet, "outer beam") == CLOSED_V


@pytest.mark.parametrize("core", ["receiver plus core", "receiver minus core", "emitter plus core"])
def test_a_beam_without_its_feed_is_open(cabinet: Cabinet, core: str) -> None:
    """A receiver that isn't fed, or whose emitter is dark, can't close its contact."""
    undo = cabinet.netlist.remove(f"outer beam, {core}")
    assert reads(cabinet, "outer beam") == OPEN_V
    undo()
    assert reads(cabinet, "outer beam") == CLOSED_V


@pytest.mark.parametrize("guard", ["outer beam", "stop circuit"])
def test_a_pulled_plug_opens_a_contact_loop(cabinet: Cabinet, guard: str) -> None:
    """Nothing at the input: pulled up, about 24 V."""
    undo = cabinet.unplug(guard)
    assert reads(cabinet, guard) == OPEN_V
    undo()
    assert reads(cabinet, guard) == CLOSED_V


@pytest.mark.parametrize("guard", ["outer beam", "inner beam", "stop circuit"])
def test_a_link_hides_the_device(cabinet: Cabinet, guard: str) -> None:
    """Facts 2.2: a link wire hides a closed-loop device, cut, dark or absent."""
    cabinet.bridge(guard)
    cabinet.set_beam_blocked("outer beam", True)
    cabinet.set_emitters(False)
    cabinet.set_stop_pressed(True)
    assert reads(cabinet, guard) == CLOSED_V


@pytest.mark.parametrize(
    ("ohm", "volts"),
    [(1e-6, 0.0), (4100.0, 1.10), (8200.0, 1.65), (16400.0, 2.20)],
)
def test_an_edge_divides_by_its_resistance(site: Site, ohm: float, volts: float) -> None:
    """8.2 kΩ pull-up to 3.3 V over the line: 0, 1.10, 1.65, 2.20 V (facts C62)."""
    cabinet = build_cabinet(site)
    cabinet.netlist.change("active edge, end resistor", ohm=ohm)
    assert reads(cabinet, "active edge") == pytest.approx(volts, rel=0.02, abs=0.005)


def test_a_torn_or_unplugged_edge_reads_open(cabinet: Cabinet) -> None:
    """3.30 V with the line open (facts C62)."""
    undo = cabinet.netlist.remove("active edge, end resistor")
    assert reads(cabinet, "active edge") == pytest.approx(3.30, rel=0.02)
    undo()
    cabinet.unplug("inactive edge")
    assert reads(cabinet, "inactive edge") == pytest.approx(3.30, rel=0.02)


def test_a_pressed_edge_reads_near_nothing(cabinet: Cabinet) -> None:
    """Pressed is at most 1 kΩ, below 0.36 V on the divider (facts 2.2 and C62); the other edge doesn't care."""
    cabinet.set_edge_pressed("active edge", True)
    assert reads(cabinet, "active edge") < 3.3 * 1000.0 / 9200.0
    assert reads(cabinet, "inactive edge") == pytest.approx(1.65, rel=0.02)


def test_a_loose_resistor_hides_an_unplugged_edge(cabinet: Cabinet) -> None:
    """A loose 8.2 kΩ at the board reads like a healthy edge with the edge unplugged (facts 8.4, dummy resistor), and
    like two in parallel, 1.10 V, with the edge plugged in (C62)."""
    cabinet.bridge("active edge")
    assert reads(cabinet, "active edge") == pytest.approx(1.10, rel=0.02)
    cabinet.unplug("active edge")
    assert reads(cabinet, "active edge") == pytest.approx(1.65, rel=0.02)
    cabinet.set_edge_pressed("active edge", True)
    assert reads(cabinet, "active edge") == pytest.approx(1.65, rel=0.02)


def test_the_stop_button_breaks_its_loop(cabinet: Cabinet) -> None:
    """Normally closed: pressed reads about 24 V."""
    cabinet.press("stop button")
    assert reads(cabinet, "stop circuit") == OPEN_V
    cabinet.release("stop button")
    assert reads(cabinet, "stop circuit") == CLOSED_V


def test_commands_close_to_common(cabinet: Cabinet) -> None:
    """Normally open contacts: about 24 V idle, 0 V pressed, one input each (facts 8.4, timer)."""
    wired = [name for name in COMMAND_NAMES if name in cabinet.controls]
    assert len(wired) == 6
    for control in wired:
        cabinet.press(control)
        closed = [v < CONTACT_THRESHOLD_V for v in cabinet.command_volts()]
        assert closed == [name == control for name in COMMAND_NAMES]
        cabinet.release(control)


def test_a_guard_that_is_not_fitted_has_an_empty_input(site: Site) -> None:
    """Absent edges read 3.3 V, absent beams about 24 V."""
    absent = {f"guards.{name}": "not fitted" for name in ("outer_beam", "active_edge", "inactive_edge")}
    cabinet = build_cabinet(with_changes(site, absent))
    assert cabinet.guard_volts() == (
        OPEN_V,
        OPEN_V,
        pytest.approx(3.3, rel=0.02),
        pytest.approx(3.3, rel=0.02),
        CLOSED_V,
    )


def test_without_power_nothing_is_read(cabinet: Cabinet) -> None:
    """With both sources off every input is at nothing; the battery alone keeps them up."""
    healthy = cabinet.guard_volts()
    cabinet.isolate()
    assert cabinet.guard_volts() == healthy
    cabinet.remove_battery_link()
    assert cabinet.guard_volts() == (0.0,) * 5
    assert cabinet.command_volts() == (0.0,) * len(COMMAND_NAMES)
    assert not cabinet.radio_hears()


def test_switching_the_lamp_leaves_the_guards_alone(cabinet: Cabinet) -> None:
    """The converter holds the accessory rail whatever hangs on the bus: to the millivolt nothing is seen of it."""
    before = cabinet.guard_volts()
    cabinet.set_lamp(True)
    assert cabinet.guard_volts() == before
