"""The mains side: switches in the distribution board, residual current from the net, protective conductors."""

from __future__ import annotations

import pytest

from sim.devices.cabinet import Cabinet, Live, build_cabinet
from sim.devices.mains import SWITCHES
from sim.errors import Refused
from sim.site import Site
from sim.wiring.elements import Contact, Resistor

OUT = ("isolator outlet, live", "isolator outlet, neutral")


def leak(cabinet: Cabinet, ohm: float, node: str = "power supply inlet.live") -> None:
    """Live lies on earth through so many ohms."""
    cabinet.mains.add(Resistor("leak", node, "earth bar.earth", complex(ohm)))


@pytest.mark.parametrize("switch", SWITCHES)
def test_each_switch_takes_the_mains_away_and_brings_it_back(cabinet: Cabinet, switch: str) -> None:
    """Off: nothing at the isolator's outlet, and the battery feeds the board; undone, it is as before, to the bit."""
    state = cabinet.state()
    undo = cabinet.set_switch(switch, False)
    assert (cabinet.mains_volts(*OUT) or 0.0) == pytest.approx(0.0, abs=1e-6)
    assert cabinet.board_v() == pytest.approx(25.3, abs=0.1)
    assert cabinet.seen[switch] is False
    with pytest.raises(Refused, match="off already"):
        cabinet.set_switch(switch, False)
    undo()
    assert cabinet.state() == state


def test_a_switch_there_is_none_of(cabinet: Cabinet) -> None:
    """The right names are told."""
    with pytest.raises(Refused, match="distribution breaker, residual-current device"):
        cabinet.set_switch("main switch", False)


@pytest.mark.parametrize(("ohm", "milliamps"), [(23e3, 10.0), (7667.0, 30.0), (1533.0, 150.0)])
def test_what_does_not_come_back_is_the_residual_current(cabinet: Cabinet, ohm: float, milliamps: float) -> None:
    """230 V through a leak, by hand; a load between live and neutral has none, however large."""
    assert cabinet.flow(Live()).residual_a == pytest.approx(0.0, abs=1e-6)
    cabinet.mains.add(Resistor("kettle", *("isolator outlet.live", "isolator outlet.neutral"), complex(26.0)))
    assert cabinet.flow(Live()).residual_a == pytest.approx(0.0, abs=1e-6)
    cabinet.mains.remove("kettle")
    leak(cabinet, ohm)
    assert cabinet.flow(Live()).residual_a * 1e3 == pytest.approx(milliamps, rel=0.01)


def test_a_low_voltage_leak_to_earth_is_no_residual_current(cabinet: Cabinet) -> None:
    """The supply separates: a motor core on earth draws nothing from the mains."""
    cabinet.netlist.change("active leaf motor, plus core, insulation", ohm=100.0)
    cabinet.network((1, 0))
    assert cabinet.flow(Live(duty=(1.0, 0.0))).residual_a == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("leaf", ["active", "inactive"])
def test_protective_conductors(cabinet: Cabinet, leaf: str) -> None:
    """A post to the earth bar: at most 0.5 Ω; with its screw off only the soil is left (facts 8.1, post)."""

    def ohms() -> float:
        found = cabinet.mains.solution().network.resistance(f"{leaf} post.earth", "earth bar.earth")
        return abs(complex(found or 0.0))

    assert ohms() <= 0.5
    cabinet.mains.change(f"{leaf} post, earth, screw", closed=False)
    assert ohms() > 10.0


def test_a_loose_neutral_is_felt_by_the_motors(cabinet: Cabinet) -> None:
    """Ohms of the mains circuit show through the supply by the square of its ratio: 80 Ω as 1.1 Ω."""
    sound = cabinet.network((1, 1)).z[0][0]
    undo = cabinet.mains.change("power supply inlet, neutral, screw", ohm=80 + 0j)
    assert cabinet.network((1, 1)).z[0][0] > sound + 1.0
    shown = cabinet.netlist["power supply, mains side"]
    assert isinstance(shown, Resistor)
    assert shown.ohm == pytest.approx(80.0 * (27.3 / 230.0) ** 2, rel=0.001)
    loaded = cabinet.mains_volts(
        "power supply inlet, live", "power supply inlet, neutral", live=Live((1.0, 1.0), (4.0, 4.0))
    )
    assert loaded is not None
    assert loaded < 215.0
    undo()
    assert cabinet.network((1, 1)).z[0][0] == sound


def test_isolated_the_lead_is_tested_alone(cabinet: Cabinet) -> None:
    """Live and neutral to earth: gigaohms; a meter of 10 MΩ finds that they float."""
    cabinet.isolate()
    assert cabinet.mains_volts("power supply inlet, live", "earth bar, earth") is None
    seen = cabinet.mains.solution().network.resistance("power supply inlet.live", "earth bar.earth")
    assert abs(complex(seen or 0.0)) > 1e9


def test_a_line_fuse_is_an_element(site: Site) -> None:
    """Open, it takes the live pole away behind the isolator."""
    cabinet = build_cabinet(site)
    fuse = cabinet.mains["line fuse"]
    assert isinstance(fuse, Contact)
    cabinet.mains.change("line fuse", closed=False)
    assert (cabinet.mains_volts(*OUT) or 0.0) == pytest.approx(0.0, abs=1e-6)
