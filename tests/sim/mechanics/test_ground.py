"""What lies under a leaf: it rubs, it is climbed, it stalls a drive, and it gives no energy away."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from sim.kernel.network import DriveNetwork
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import Underground
from sim.site.leaves import Ridge
from sim.site.models import Drives, Leaf, Leaves, Site, Weather
from sim.units import Us

NET: Final = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))

PRESS: Final = 1e5
"""How stiffly hinges press a lifted leaf down [N/m]: an engineering value of the product, no source."""

RUB: Final = 0.6
"""Friction of steel on ground: an engineering value of the product, no source."""


def plant_of(**leaf: Any) -> Plant:
    """Both leaves free of drive and friction; the inactive one stands wide open, out of the way."""
    model = Leaf(**{"hinge_friction_n_m": 0.0, "hinge_viscous_n_m_s": 0.0} | leaf)
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=model, inactive=Leaf(width_m=model.width_m)),
        drives=Drives(active=Underground(), inactive=Underground()),
        opening_width_m=2 * model.width_m + 0.02,
        weather=Weather(temperature_c=20.0),
    )
    plant = Plant(site)
    plant.release(0)
    plant.place_leaf(1, 1.4)
    return plant


def stone(at_deg: float, reach_deg: float, height_m: float, radius_m: float = 1.9) -> Ridge:
    """Something on the ground."""
    return Ridge(name="stone", at_deg=at_deg, reach_deg=reach_deg, height_m=height_m, radius_m=radius_m)


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


def test_a_sagging_leaf_presses_by_what_it_lacks() -> None:
    """A leaf whose edge hangs 20 mm lower than its 15 mm clearance is lifted 5 mm by level ground: 500 N at every
    angle, and it doesn't touch while it hangs clear."""
    plant = plant_of(sag_m=0.02, ground_clearance_m=0.015)
    for angle in (0.0, 0.6, 1.5):
        plant.place_leaf(0, angle)
        run(plant, 0.01)
        assert plant.ground_force(0) == pytest.approx(PRESS * 0.005, rel=1e-9)
    clear = plant_of(sag_m=0.02, ground_clearance_m=0.021)
    run(clear, 0.01)
    assert clear.ground_force(0) == 0.0


@pytest.mark.parametrize(("share", "moves"), [(0.98, False), (1.02, True)])
def test_rubbing_is_friction_at_the_edge(share: float, moves: bool) -> None:
    """A leaf that presses on the ground with N is freed by a hand of μ·N at the same radius, and not by less."""
    plant = plant_of(sag_m=0.02, ground_clearance_m=0.015)
    plant.place_leaf(0, 0.6)
    plant.push(0, share * RUB * PRESS * 0.005)
    run(plant, 2.0)
    assert (plant.angle(0) > 0.6001) is moves


def test_a_drive_draws_more_while_its_leaf_rubs() -> None:
    """A leaf driven over rubbing ground draws the current of the added torque: more than free, by the friction over
    what the motor gives per ampere at the pin."""
    currents = []
    for clearance in (0.06, 0.018):
        plant = plant_of(sag_m=0.02, ground_clearance_m=clearance, hinge_viscous_n_m_s=2.0)
        plant.set_network(NET)
        plant.engage(0)
        plant.place_leaf(0, 0.3)
        plant.command(0, 0.5)
        run(plant, 4.0)
        currents.append(plant.motor_current(0))
    drive = plant.site.drives.active
    assert isinstance(drive, Underground)
    added = RUB * PRESS * 0.002 * 2.0 / (drive.gear_ratio * drive.gear_efficiency * drive.motor.constant_v_s_rad)
    assert currents[1] - currents[0] == pytest.approx(added, rel=0.03)


def test_the_crest_lifts_by_its_height_less_the_clearance() -> None:
    """Over a crest of 80 mm a leaf with 60 mm of clearance is lifted 20 mm; half-way down half a slope less."""
    plant = plant_of(ground=(stone(60.0, 20.0, 0.08),), hinge_friction_n_m=400.0)
    for degrees, lift in ((60.0, 0.02), (62.0, 0.012), (56.0, 0.004), (66.0, 0.0)):
        plant.place_leaf(0, math.radians(degrees))
        run(plant, 0.001)
        assert plant.ground_force(0) == pytest.approx(PRESS * lift, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(("speed", "height"), [(0.6, 0.072), (-1.0, 0.08), (1.5, 0.09)])
def test_what_climbing_takes_running_down_returns(speed: float, height: float) -> None:
    """Over a ridge and down its far side: all that is lost is the work of rubbing, μ·N·r along the way. N grows and
    falls in straight lines, so that the work is μ·r·k·lift²/slope (by hand). Within 2 % of the energy."""
    ridge, clearance = stone(50.0, 20.0, height, 0.1), 0.06
    plant = plant_of(ground=(ridge,), ground_clearance_m=clearance)
    start = 50.0 - math.copysign(25.0, speed)
    plant.place_leaf(0, math.radians(start), speed)
    inertia = 120.0 * (4.0 / 3.0 + 0.06**2 / 12.0)
    before, lowest = 0.5 * inertia * speed**2, abs(speed)
    while abs(math.degrees(plant.angle(0)) - start) < 50.0:
        run(plant, 0.01)
        lowest = min(lowest, abs(plant.speed(0)))
        assert plant.now < 10_000_000, "it never came over"
    slope = height / math.radians(20.0)
    rubbed = RUB * 0.1 * PRESS * (height - clearance) ** 2 / slope
    after = 0.5 * inertia * plant.speed(0) ** 2
    assert lowest < 0.9 * abs(speed), "it had to climb"
    assert after == pytest.approx(before - rubbed, abs=0.02 * before)


@pytest.mark.parametrize(("radius", "slides"), [(0.9, False), (0.6, True)])
def test_a_leaf_stays_on_a_slope_by_friction(radius: float, slides: bool) -> None:
    """Dry friction's own law: it stays where slope/radius (the slope of the ground under the touching point) is below
    the coefficient 0.6, and slides down where it is above."""
    plant = plant_of(ground=(stone(60.0, 15.0, 0.12, radius),))
    assert (0.12 / math.radians(15.0) / radius > RUB) is slides
    plant.place_leaf(0, math.radians(56.0))
    run(plant, 0.5)
    assert (plant.angle(0) < math.radians(55.0)) is slides


def test_a_stone_stalls_the_drive() -> None:
    """A stone as high as a hand: the leaf stands before its crest, the motor stalls at its current limit, the leaf
    presses on the ground; driven back it comes free (facts 8)."""
    plant = plant_of(ground=(stone(40.0, 4.0, 0.12),), hinge_viscous_n_m_s=2.0)
    plant.set_network(NET)
    plant.engage(0)
    plant.place_leaf(0, 0.2)
    plant.command(0, 1.0, limit_a=6.0)
    run(plant, 20.0)
    assert 36.0 < math.degrees(plant.angle(0)) < 40.0
    assert plant.motor_current(0) == pytest.approx(6.0, abs=1e-6)
    assert plant.speed(0) == 0.0
    assert plant.ground_force(0) > 200.0
    plant.command(0, -1.0)
    run(plant, 3.0)
    assert math.degrees(plant.angle(0)) < 30.0
    assert plant.ground_force(0) == 0.0


def test_a_stone_only_stops_at_its_place() -> None:
    """Beside the stone the leaf swings as if there was none: the same bits until it comes there."""
    free, over = plant_of(), plant_of(ground=(stone(70.0, 5.0, 0.12),))
    for plant in (free, over):
        plant.place_leaf(0, 0.1, 0.5)
        run(plant, 1.5)
    assert free.angle(0) == over.angle(0)
    for plant in (free, over):
        run(plant, 1.5)
    assert over.angle(0) < math.radians(70.0) < free.angle(0)


def test_a_leaf_that_its_hinges_lower_meets_the_ground() -> None:
    """Hinges that lower the leaf by 100 mm over 90° take a clearance of 60 mm to nothing at 54° (by hand)."""
    plant = plant_of(hinge_rise_m=-0.1, ground_clearance_m=0.06, hinge_friction_n_m=200.0)
    for degrees, touches in ((53.0, False), (55.0, True)):
        plant.place_leaf(0, math.radians(degrees))
        run(plant, 0.001)
        assert (plant.ground_force(0) > 0.0) is touches
    assert plant.ground_force(0) == pytest.approx(PRESS * 0.1 / 90.0, rel=1e-6)


@pytest.mark.parametrize(
    ("width", "mass", "height", "reach"), [(0.5, 10.0, 0.3, 1.0), (0.5, 10.0, 0.1, 1.0), (1.0, 20.0, 0.2, 2.0)]
)
def test_a_light_leaf_gains_nothing_from_a_kerb(width: float, mass: float, height: float, reach: float) -> None:
    """The lightest leaf against the steepest ridge there can be: thrown back no faster than it came."""
    plant = plant_of(width_m=width, mass_kg=mass, ground=(stone(60.0, reach, height, 0.1),))
    plant.place_leaf(0, 0.8, 2.0)
    fastest = 0.0
    for _ in range(400):
        run(plant, 0.001)
        fastest = max(fastest, abs(plant.speed(0)))
    assert plant.speed(0) < 0.0, "it was thrown back"
    assert fastest <= 2.0 * 1.001
