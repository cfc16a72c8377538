"""Blocks that can be pulled, screws, insulation: what a technician takes apart and measures."""

from __future__ import annotations

import pytest

from sim.devices.cabinet import Cabinet, Live, build_cabinet
from sim.devices.joint import SCREW_OHM
from sim.errors import Refused
from sim.site import Lock, Site, YardLight, with_changes
from sim.wiring.elements import Contact, Resistor, VoltageSource

LEAF = ("active leaf motor at the leaf, plus", "active leaf motor at the leaf, minus")


@pytest.fixture
def full(site: Site) -> Cabinet:
    """The site with a lock and a light."""
    return build_cabinet(site.model_copy(update={"lock": Lock(), "yard_light": YardLight()}))


def test_every_block_comes_off_and_goes_back(full: Cabinet) -> None:
    """Each is out when it was pulled, can't be pulled twice, and leaves no trace when it is back."""
    assert {"active leaf motor", "warning lamp", "lock", "yard light", "battery"} <= set(full.plugs)
    before = full.wiring()
    for plug in full.plugs:
        undo = full.unplug(plug)
        assert full.unplugged == (plug,)
        assert full.seen[f"{plug} plug"] is False
        with pytest.raises(Refused, match="out already"):
            full.unplug(plug)
        undo()
        assert full.wiring() == before


def test_a_motor_unplugged_is_measured_alone(full: Cabinet) -> None:
    """Its loop and winding stand at the withdrawn plug; the board's terminals are free."""
    full.unplug("active leaf motor")
    net = full.netlist.solution().network
    seen = net.resistance("active leaf motor plug.plus", "active leaf motor plug.minus")
    assert abs(complex(seen or 0.0)) == pytest.approx(1.2 + 0.665, rel=0.01)
    drive = full.network((1, 1))
    assert drive.closed == (False, True)


def test_no_such_plug(full: Cabinet) -> None:
    """The plugs there are are told."""
    with pytest.raises(Refused, match="the plugs are: outer beam"):
        full.unplug("fountain")


def test_every_screw_is_a_contact_of_its_terminals_name(full: Cabinet) -> None:
    """Supply, mains, battery, motors, lamp and lock have one at every end."""
    nets = (full.netlist, full.mains)
    for terminal in (
        "power supply, plus",
        "board supply, minus",
        "battery, plus",
        "isolator outlet, live",
        "power supply inlet, neutral",
        "active post, earth",
        "active leaf motor plug, plus",
        "inactive leaf motor at the leaf, minus",
        "warning lamp at the post, plus",
        "lock at the leaf, minus",
    ):
        found = [net[f"{terminal}, screw"] for net in nets if f"{terminal}, screw" in net]
        assert len(found) == 1
        assert isinstance(found[0], Contact)
        assert abs(complex(found[0].ohm)) == SCREW_OHM
        assert terminal in full.terminals


def test_the_low_voltage_side_floats_until_something_leaks(full: Cabinet) -> None:
    """Sound: no meter finds a voltage to earth. One core on earth through 100 kΩ: there it is."""
    to_earth = ("board supply, plus", "earth bar, earth")
    assert full.shared_net(*to_earth) is full.netlist
    assert full.volts(*to_earth) is None
    full.netlist.change("active leaf motor, minus core, insulation", ohm=100e3)
    full.netlist.add(Resistor("meter", "board supply.plus", "earth bar.earth", 10e6))
    assert full.volts(*to_earth) is not None


def test_healthy_insulation_is_far_above_what_is_asked_for(full: Cabinet) -> None:
    """At least 1 MΩ (facts 5.8): with every plug in, all of the low-voltage side together still has over 100."""
    seen = full.netlist.solution().network.resistance("board.common", "earth bar.earth")
    assert abs(complex(seen or 0.0)) > 100e6


def test_what_a_board_stands(full: Cabinet) -> None:
    """250 V to the frame it bears; 500 V strike its arrester, and it is dead; dead, its supply terminals still have
    their volts and its bus has none."""
    assert not full.stress().kills
    for volts, kills in ((250.0, False), (500.0, True)):
        undo = full.netlist.add(VoltageSource("tester", "active leaf motor.plus", "earth bar.earth", volts, 500e3))
        full.netlist.add(Resistor("core on common", "active leaf motor.plus", "board.common", 1.0))
        assert full.stress().kills is kills
        full.netlist.remove("core on common")
        undo()
    assert not full.stress().kills
    undo = full.kill_board()
    assert full.board_v() == pytest.approx(0.0, abs=1e-6)
    assert (full.volts("board supply, plus", "board supply, minus") or 0.0) > 26.0
    undo()
    assert full.board_v() > 26.0


def test_volts_across_an_input_kill(full: Cabinet) -> None:
    """An input bears its own rail and no test voltage."""
    full.netlist.add(VoltageSource("tester", "step button.contact", "step button.common", 250.0, 1e3))
    assert full.stress().inside_v > 200.0
    assert full.stress().kills


# -- lamp, light and lock ------------------------------------------------------------------------------------------


def test_a_filament_is_cold_until_it_is_lit(full: Cabinet) -> None:
    """About 2 Ω to an ohmmeter (facts 8.1, board fuse), 23 Ω while it burns, cold again when it is dark."""
    full.settle()
    assert full.netlist["warning lamp, filament"].ohm == 2.0
    full.set_lamp(True)
    full.settle()
    assert full.netlist["warning lamp, filament"].ohm == pytest.approx(23.04)
    full.set_lamp(False)
    full.settle()
    assert full.netlist["warning lamp, filament"].ohm == 2.0


def test_the_lock_gets_twelve_volts(full: Cabinet) -> None:
    """12 V 15 W: 1.25 A through 9.6 Ω (facts 8, reference bench), and its bolt is lifted; unplugged it isn't."""
    assert not full.lock_pulls()
    full.set_lock(True)
    volts = full.volts("lock at the leaf, plus", "lock at the leaf, minus") or 0.0
    assert volts == pytest.approx(12.0, rel=0.06)
    assert full.netlist.solution().current("lock, coil").real == pytest.approx(1.25, rel=0.06)
    assert full.lock_pulls()
    full.unplug("lock")
    assert not full.lock_pulls()


@pytest.mark.parametrize(
    ("changes", "lifts"), [({}, True), ({"lock.stuck": True}, False), ({"lock.pull_n": 5.0}, False)]
)
def test_what_a_bolt_is_lifted_against(full: Cabinet, changes: dict[str, object], lifts: bool) -> None:
    """Pull against friction times what presses on it; a jammed bolt stays."""
    full.refit(with_changes(full.site, changes) if changes else full.site)
    assert full.lock_lifts_against(20.0) is lifts
    assert not full.lock_lifts_against(1000.0)


def test_the_yard_light_burns(full: Cabinet) -> None:
    """27 V across 58 Ω."""
    full.set_yard_light(True)
    assert (full.volts("yard light at the wall, plus", "yard light at the wall, minus") or 0.0) > 24.0


# -- accessory rail -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ohm", "least", "most"), [(1e6, 23.7, 24.0), (60.0, 23.5, 24.0), (20.0, 5.0, 18.0), (1.0, 0.1, 1.0)]
)
def test_the_rail_folds_back(cabinet: Cabinet, ohm: float, least: float, most: float) -> None:
    """Within its limit it holds 24 V; overloaded it falls, and gives less into a short than at its limit."""
    cabinet.netlist.add(Resistor("load", "accessory supply.plus", "accessory supply.minus", ohm))
    volts = cabinet.volts("accessory supply, plus", "accessory supply, minus") or 0.0
    assert least <= volts <= most
    amps = cabinet.netlist.solution().current("board converter, output").real
    assert amps <= 1.0 + 0.02
    if ohm == 1.0:
        assert amps == pytest.approx(0.4, rel=0.05)


def test_live_ends(cabinet: Cabinet) -> None:
    """A drop over a screw is its resistance times the current."""
    cabinet.netlist.change("board supply, plus, screw", ohm=0.05)
    cabinet.network((1, 0))
    live = Live(duty=(1.0, 0.0), motor_a=(8.0, 0.0))
    assert (cabinet.volts("power supply, plus", "board supply, plus", live) or 0.0) > 0.3
    assert cabinet.volts(*LEAF, live) is not None
