"""What wear, cold, heat and people make of leaf and drive: facts of the site, each seen in how the gate runs."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from sim.kernel import layout as at
from sim.kernel.network import DriveNetwork
from sim.mechanics import hanging, train
from sim.mechanics.constants import constants_of
from sim.mechanics.obstacle import Obstacle
from sim.mechanics.plant import Plant
from sim.mechanics.report import StopReport
from sim.site import with_changes
from sim.site.models import Site, Weather

Run = Callable[[Plant, float], list[StopReport]]


def opened(site: Site, net: DriveNetwork, run: Run, seconds: float = 18.0) -> tuple[Plant, np.ndarray, np.ndarray]:
    """The active leaf opens alone; (plant, its angle [rad], its current [A]) every 50 ms after the start."""
    plant = Plant(site)
    plant.set_network(net)
    plant.place_leaf(1, 1.2)
    plant.command(0, 1.0, limit_a=8.0)
    run(plant, 1.5)
    angles, amps = [], []
    for _ in range(round(seconds / 0.05)):
        run(plant, 0.05)
        angles.append(plant.angle(0))
        amps.append(plant.motor_current(0))
    return plant, np.array(angles), np.array(amps)


def test_a_bent_rod_binds_half_way_and_nowhere_near_the_ends(site: Site, net: DriveNetwork, run: Run) -> None:
    """5 mm/m: the current rises by what the bow rubs, most where half the travel is run, none at both ends."""
    bent = with_changes(site, {"drives.active.rod_bow": 0.005})
    _, straight_at, straight = opened(site, net, run)
    _, angle, amps = opened(bent, net, run)
    more = amps - np.interp(angle, straight_at, straight)
    way = angle < 1.5
    mounting = Plant(site)._mountings[0]
    half = 0.5 * (mounting.apart(0.0) + mounting.apart(math.radians(92.0)))
    most_at = angle[way][int(np.argmax(more[way]))]
    assert mounting.apart(most_at) == pytest.approx(half, abs=0.02)
    drive = bent.drives.active
    friction = 2.0 * 0.15 * 48.0 * 210e9 * math.pi * 0.02**4 / 64.0 / 0.4**2 * 0.005
    assert train.rod_drag(drive) == pytest.approx(friction)
    peak = friction * 0.005 / (2.0 * math.pi * 20.0) / (0.85 * 0.35) / 0.05
    assert more[way].max() == pytest.approx(peak, rel=0.08)
    assert abs(more[angle < 0.22]).max() < 0.1
    assert abs(more[(angle > 1.42) & way]).max() < 0.1


def test_a_straight_rod_of_a_released_leaf_is_not_felt(site: Site, net: DriveNetwork, run: Run) -> None:
    """It rubs in the ram: a leaf free of its drive runs the same, bow or not."""
    ends = []
    for bow in (0.0, 0.009):
        plant = Plant(with_changes(site, {"drives.active.rod_bow": bow}))
        plant.release(0)
        plant.place_leaf(1, 1.2)
        plant.place_leaf(0, 0.6, 0.3)
        run(plant, 3.0)
        ends.append(plant.angle(0))
    assert ends[0] == ends[1] > 0.65


def test_stiff_grease_takes_more_current_by_its_exponent(site: Site, net: DriveNetwork, run: Run) -> None:
    """At −10 °C grease of 0.022 per kelvin drags e^0.66 = 1.93 times; the current rises by that drag over K."""
    cold = {"weather.temperature_c": -10.0}
    summer = with_changes(site, {**cold, "drives.active.grease_per_k": 0.022})
    _, plain_at, plain = opened(with_changes(site, cold), net, run, 8.0)
    _, angle, amps = opened(summer, net, run, 8.0)
    more = amps - np.interp(angle, plain_at, plain)
    assert np.median(more) == pytest.approx(0.065 * (math.exp(0.66) - 1.0) / 0.05, rel=0.05)


def test_a_post_that_leans_pulls_the_leaf_shut(site: Site) -> None:
    """10 mm/m on 120 kg of 2 m: 120·9.81·1.0·sin(atan 0.01) = 11.8 N·m at 90°, and 20 mm at the tip."""
    leaf = with_changes(site, {"leaves.active.post.lean": 0.01}).leaves.active
    assert hanging.lean_torque(leaf) == pytest.approx(11.77, abs=0.01)
    assert hanging.droop(leaf) == pytest.approx(0.020)
    slots = constants_of(with_changes(site, {"leaves.active.post.lean": 0.01}))
    assert slots[at.TILT_ALONG] == pytest.approx(11.77, abs=0.01)


def test_loose_bolts_let_the_hinges_move_in_their_holes(site: Site) -> None:
    """Tight from half the right torque on; loose, 1.5 mm over hinges 1.4 m apart are 2.1 mm at a tip of 2 m."""
    by_torque = {
        torque: hanging.bolt_play(with_changes(site, {"leaves.active.hinge_bolts_n_m": torque}).leaves.active)
        for torque in (60.0, 30.0, 15.0, 0.0)
    }
    assert by_torque[60.0] == by_torque[30.0] == 0.0
    assert by_torque[15.0] == pytest.approx(0.5 * by_torque[0.0])
    assert by_torque[0.0] == pytest.approx(0.0015 * 2.0 / 1.4)


@pytest.mark.parametrize("how", ["propped", "roped"])
def test_a_secured_leaf_holds_in_a_gale(site: Site, run: Run, how: str) -> None:
    """22 m/s on a boarded leaf is 1300 N·m: free, it swings; secured, it stays."""
    boarded = with_changes(site, {"leaves.active.solidity": 1.0})
    for secured, moves in (("free", True), (how, False)):
        plant = Plant(with_changes(boarded, {"leaves.active.secured": secured}))
        plant.release(0)
        plant.place_leaf(1, 1.2)
        plant.place_leaf(0, 0.8)
        plant.set_wind(Weather(wind_m_s=22.0))
        run(plant, 3.0)
        assert (abs(plant.angle(0) - 0.8) > 0.1) is moves


def test_a_stop_set_where_the_leaf_stands_takes_it_along(site: Site, net: DriveNetwork, run: Run) -> None:
    """It stands against it at rest, and so does what stood in its way; taken back at once, all is as before."""
    plant = Plant(site)
    plant.set_network(net)
    plant.place_leaf(1, 1.2)
    plant.place_leaf(0, 1.4)
    plant.place_obstacle(0, 0, Obstacle("box", 1.35, 1.5, False, 25_000.0, 350.0))
    run(plant, 0.5)
    before = plant.physical()
    plant.refit(with_changes(site, {"leaves.active.open_stop_deg": 70.0}))
    assert math.degrees(plant.angle(0)) == pytest.approx(70.0)
    assert plant.speed(0) == 0.0
    run_on = plant.keyframe()
    plant.refit(site)
    assert plant.physical() == before
    plant.restore(run_on)
    run(plant, 2.0)
    assert math.degrees(plant.angle(0)) == pytest.approx(70.0, abs=0.2)
    assert plant.contact_force(0) < 50.0


def test_a_cracked_bracket_is_play_in_the_drive(site: Site) -> None:
    """As the nut's, and beside it."""
    worn = with_changes(site, {"drives.active.play_m": 0.002, "drives.active.bracket_play_m": 0.003})
    assert constants_of(worn)[at.PLAY] == pytest.approx(0.005)


def test_a_racked_leaf_binds_in_its_hinges(site: Site) -> None:
    """20 mm between its diagonals add 40 N·m."""
    racked = with_changes(site, {"leaves.active.out_of_square_m": 0.02}).leaves.active
    assert hanging.hinge_friction(racked) - hanging.hinge_friction(site.leaves.active) == pytest.approx(40.0)
