"""Hydraulic rams: the bypass ends their force, oil creeps past its valves, air makes them soft, warm oil is thin."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from sim.kernel.network import DriveNetwork
from sim.mechanics.linkage import Linkage
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import HydraulicRam
from sim.site.models import Drives, Leaf, Leaves, Site, Weather
from sim.units import Us

NET: Final = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.1, 0.1))

STANDS: Final = 0.6
"""Leaf angle at which it is pushed [rad]."""


def site_of(**ram: Any) -> Site:
    """Two like leaves that slow down with their speed and don't stick, on oil at 20 °C."""
    leaf, drive = Leaf(hinge_friction_n_m=0.0, hinge_viscous_n_m_s=200.0), HydraulicRam(**ram)
    return Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=leaf, inactive=leaf),
        drives=Drives(active=drive, inactive=drive),
        weather=Weather(temperature_c=20.0),
    )


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


def pushed(site: Site, force_n: float = 50.0) -> Plant:
    """Both leaves stand half open with their motors off, and a hand pushes the active one open."""
    plant = Plant(site)
    for leaf in (0, 1):
        plant.place_leaf(leaf, STANDS)
    plant.push(0, force_n)
    run(plant, 5.0)
    return plant


def crept(plant: Plant, seconds: float = 20.0) -> float:
    """How fast the ram gives way on average over a time [m/s], by the geometry of its leaf."""
    linkage, before = Linkage(plant.site, 0), plant.angle(0)
    run(plant, seconds)
    return (linkage.travel(plant.angle(0)) - linkage.travel(before)) / seconds


@pytest.mark.parametrize("relief_bar", [8.0, 14.0])
def test_the_bypass_ends_the_force(relief_bar: float) -> None:
    """Against its stop a ram presses with relief pressure × piston area and not a newton more (Pascal), and the
    pump goes on turning through the bypass."""
    plant = Plant(site_of(relief_bar=relief_bar, leak_cm3_s_bar=0.0))
    plant.set_network(NET)
    plant.place_leaf(1, 1.2)
    plant.place_leaf(0, math.radians(88.0))
    plant.command(0, 1.0, limit_a=40.0)
    run(plant, 15.0)
    assert plant.touching(0) == "open stop"
    assert plant.ram_force(0) == pytest.approx(relief_bar * 1e5 * 12e-4, rel=1e-12)
    assert plant.motor_speed(0) > 10.0
    before = plant.angle(0), plant.counts(0)
    run(plant, 5.0)
    assert plant.angle(0) == pytest.approx(before[0], abs=1e-6)
    assert plant.counts(0) > before[1] + 20


def test_after_the_bypass_the_ram_is_found_where_the_oil_left_it() -> None:
    """What ran through the bypass is not in the ram: driven back, the leaf leaves its stop at once, though the motor
    had turned for five seconds at a standing leaf."""
    plant = Plant(site_of(relief_bar=10.0, leak_cm3_s_bar=0.0))
    plant.set_network(NET)
    plant.place_leaf(1, 1.2)
    plant.place_leaf(0, math.radians(88.0))
    plant.command(0, 1.0, limit_a=40.0)
    run(plant, 10.0)
    through = plant.counts(0)
    run(plant, 5.0)
    slipped = plant.counts(0) - through
    plant.command(0, -1.0, 50.0, limit_a=40.0)
    run(plant, 1.0)
    assert plant.touching(0) == ""
    assert plant.counts(0) > through + slipped / 2, "it did not have to turn back what it had turned in vain"


@pytest.mark.parametrize("leak", [0.002, 0.02, 0.2])
def test_creep_is_leak_times_pressure(leak: float) -> None:
    """Under a steady load with the motor off, piston speed = leak [cm³/(s·bar)] × pressure / area, within 1 % (the
    lever changes while it creeps)."""
    plant = pushed(site_of(leak_cm3_s_bar=leak), 20.0)
    seconds = 20.0 if leak < 0.1 else 4.0
    rate = crept(plant, seconds)
    bar = abs(plant.ram_force(0)) / 12e-4 / 1e5
    assert plant.motor_speed(0) == 0.0
    assert rate == pytest.approx(leak * bar / 12.0 / 100.0, rel=0.01 if leak < 0.1 else 0.05)


def test_a_tight_ram_does_not_creep() -> None:
    """Without a leak the oil holds: an hour under load moves nothing."""
    plant = pushed(site_of(leak_cm3_s_bar=0.0))
    stands = plant.angle(0)
    run(plant, 3600.0)
    assert plant.angle(0) == pytest.approx(stands, abs=1e-7)


@pytest.mark.parametrize(("oil_c", "factor"), [(-10.0, math.exp(-0.9)), (20.0, 1.0), (50.0, math.exp(0.9))])
def test_warm_oil_leaks_more(oil_c: float, factor: float) -> None:
    """3 % more for each kelvin (engineering value, no source): the same load creeps by exp(0.03·ΔT) as fast."""
    plant = pushed(site_of(leak_cm3_s_bar=0.005), 20.0)
    usual = crept(plant)
    other = pushed(site_of(leak_cm3_s_bar=0.005), 20.0)
    other.set_temperature(oil_c)
    assert crept(other) / usual == pytest.approx(factor, rel=0.02)


@pytest.mark.parametrize("air", [0.0, 0.02, 0.2])
def test_air_makes_the_ram_soft(air: float) -> None:
    """A push moves the ram by F/k, with 1/k = 1/(10⁶ N/m) + 0.4 m·((1 − a)/1.5 GPa + a/2 MPa)/12 cm²: oil column,
    air at its working pressure and brackets in series (textbook; oil's modulus from memory of handbooks)."""
    site = site_of(air_share=air, leak_cm3_s_bar=0.0)
    plant, linkage = pushed(site, 20.0), Linkage(site, 0)
    run(plant, 20.0)
    gives = linkage.travel(plant.angle(0)) - linkage.travel(STANDS)
    per_newton = 1e-6 + 0.4 * ((1.0 - air) / 1.5e9 + air / 2e6) / 12e-4
    assert gives == pytest.approx(-plant.ram_force(0) * per_newton, rel=1e-3)


@pytest.mark.parametrize("air_c", [20.0, 50.0])
def test_the_leakiest_ram_gives_way_evenly(air_c: float) -> None:
    """A ram that holds next to nothing loses its force without ever pushing back: the oil that passes in a step may
    be more than the spring behind it holds, and still no force turns round."""
    site = site_of(
        leak_cm3_s_bar=10.0, bore_cm2=1.0, relief_bar=250.0, stiffness_n_m=2e7, damping_n_s_m=0.0, stroke_m=0.36
    )
    plant = Plant(site)
    plant.set_temperature(air_c)
    for leaf in (0, 1):
        plant.place_leaf(leaf, STANDS)
    plant.push(0, 20.0)
    forces = []
    for _ in range(500):
        run(plant, 0.001)
        forces.append(plant.ram_force(0))
    assert max(forces) < 1.0, "the hand opens: the train can only hold against it"
    assert min(forces) > -400.0
    assert plant.speed(0) > 0.01, "it gives way"
