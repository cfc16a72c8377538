"""A mains motor on the mains side of the wiring."""

from __future__ import annotations

import math

import pytest

from sim.devices.bridge import Asked
from sim.devices.cabinet import Cabinet, build_cabinet
from sim.instruments.multimeter import Probes, place, read
from sim.site import Site, with_changes
from sim.wiring.elements import Resistor

MAINS = {"kind": "underground", "gear_ratio": 500, "motor": {"kind": "mains induction"}}


@pytest.fixture
def mains(site: Site) -> Cabinet:
    """Both leaves driven from the mains."""
    return build_cabinet(with_changes(site, {"drives.active": MAINS, "drives.inactive": MAINS}))


def lead_v(cabinet: Cabinet, lead: str) -> float:
    """Volts of a lead at the active leaf's motor above its neutral."""
    found = cabinet.mains_volts(f"active leaf motor at the leaf, {lead}", "active leaf motor at the leaf, neutral")
    assert found is not None
    return found


@pytest.mark.parametrize(("sign", "fed", "other"), [(1, "opening", "closing"), (-1, "closing", "opening")])
def test_the_relay_feeds_one_lead_and_the_capacitor_the_other(
    mains: Cabinet, sign: int, fed: str, other: str
) -> None:
    """About 230 V on the winding that is fed; what the capacitor passes on the other; nothing at rest."""
    driven = mains.driven((sign, 0))
    assert driven.network.mains[0] == pytest.approx(228.0, abs=4.0)
    assert driven.network.alpha[0] == 1.0
    assert driven.senses == (sign, 0)
    assert lead_v(mains, fed) == pytest.approx(driven.network.mains[0], abs=0.1)
    assert 20.0 < lead_v(mains, other) < 200.0
    mains.driven((0, 0))
    assert lead_v(mains, fed) < 1e-6


def test_exchanged_leads_turn_it_the_other_way(mains: Cabinet) -> None:
    """The board feeds its opening terminal, and the closing winding gets it."""
    mains.swap_motor_leads(0)
    assert mains.leads_swapped(0)
    driven = mains.driven((1, 0))
    assert driven.senses[0] == 1
    assert driven.network.alpha[0] == -1.0


def test_the_isolator_takes_it_away(mains: Cabinet) -> None:
    """No mains, no drive; the battery doesn't help."""
    mains.isolate()
    assert mains.driven((1, 1)).network.mains == (0.0, 0.0)


def test_a_welded_relay_feeds_it_without_a_command(mains: Cabinet) -> None:
    """From the live wire past the contact."""
    mains.mains.add(Resistor("weld", "power supply inlet.live", "active leaf motor.opening", 0.01 + 0j))
    driven = mains.driven((0, 0))
    assert driven.senses[0] == 1
    assert driven.network.mains[0] > 200.0
    assert mains.given(driven, (Asked(), Asked()))[0].duty == 1.0


def test_ohms_are_those_of_direct_current(mains: Cabinet) -> None:
    """One winding 18 Ω, both in series 36 Ω and two cores: no reactance, and nothing through the capacitor."""
    mains.isolate()
    mains.remove_battery_link()
    found = []
    for other in ("neutral", "closing"):
        probes = Probes("ohms", "active leaf motor, opening", f"active leaf motor, {other}")
        undo = place(mains, probes)
        found.append(read(mains, probes, seed=1, index=0).value)
        undo()
    assert found[0] == pytest.approx(18.0 + 2 * 0.3325 + 0.1, abs=0.3)
    assert found[1] == pytest.approx(36.0 + 2 * 0.3325 + 0.1, abs=0.4)


def test_a_pulled_capacitor_feeds_nothing_to_the_other_winding(mains: Cabinet) -> None:
    """Its two leads off: the winding beside it is dead."""
    mains.unplug("active run capacitor")
    mains.driven((1, 0))
    assert lead_v(mains, "closing") < 0.1
    mains.plug("active run capacitor")
    mains.driven((1, 0))
    assert lead_v(mains, "closing") > 20.0


def test_an_aged_capacitor_is_another_impedance(mains: Cabinet) -> None:
    """12.5 µF is 254.6 Ω at 50 Hz: 1/(2πfC); 8 µF is 397.9 Ω."""
    assert abs(complex(mains.mains["active run capacitor"].ohm)) == pytest.approx(  # type: ignore[union-attr]
        1.0 / (2.0 * math.pi * 50.0 * 12.5e-6), rel=1e-9
    )
    mains.refit(with_changes(mains.site, {"drives.active.motor.fitted_uf": 8.0}))
    assert abs(complex(mains.mains["active run capacitor"].ohm)) == pytest.approx(397.887, abs=0.01)  # type: ignore[union-attr]
