"""A gate that becomes another while it stands or moves: it does not jump, and back again it is the same bits."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sim.errors import DataError, ScenarioError
from sim.kernel.network import DriveNetwork
from sim.mechanics.constants import constants_of
from sim.mechanics.obstacle import Obstacle
from sim.mechanics.plant import Plant, Reason
from sim.mechanics.report import StopReport
from sim.site import with_changes
from sim.site.models import Site, Weather
from sim.units import Us

Run = Callable[[Plant, float], list[StopReport]]

NET = DriveNetwork(voc=(27.3, 27.3), z=((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))

NUMBERS: dict[str, tuple[float, float]] = {
    "leaves.active.mass_kg": (60.0, 250.0),
    "leaves.active.width_m": (1.7, 2.0),
    "leaves.active.solidity": (0.1, 1.0),
    "leaves.inactive.sag_m": (0.0, 0.06),
    "leaves.active.hinge_friction_n_m": (0.0, 200.0),
    "leaves.active.hinge_tilt_deg": (-2.0, 2.0),
    "leaves.inactive.open_stop_deg": (60.0, 110.0),
    "drives.active.play_m": (0.0, 0.05),
    "drives.active.stiffness_n_m": (2e5, 1e6),
    "drives.active.post_inside_m": (0.06, 0.2),
    "drives.active.bracket_along_m": (0.8, 0.9),
    "drives.inactive.gear_ratio": (15.0, 30.0),
    "drives.inactive.motor.terminal_ohm": (0.8, 2.0),
    "weather.temperature_c": (-20.0, 40.0),
}
CHOICES: dict[str, list[Any]] = {
    "leaves.active.open_stop_fitted": [False],
    "leaves.inactive.closed_stop_fitted": [False],
    "drives.active.key": ["sheared"],
    "drives.inactive": [{"kind": "underground"}, {"kind": "articulated arm"}],
    "guards.active_edge": ["not fitted"],
    "leaves.active.ground": [[{"name": "ice", "at_deg": 40.0, "reach_deg": 9.0, "height_m": 0.08, "radius_m": 1.9}]],
}

CHANGES = st.lists(
    st.one_of(
        *(st.tuples(st.just(key), st.floats(*ends)) for key, ends in NUMBERS.items()),
        *(st.tuples(st.just(key), st.sampled_from(values)) for key, values in CHOICES.items()),
    ),
    min_size=1,
    max_size=4,
    unique_by=lambda pair: (
        pair[0].split(".")[:3][-1] if pair[0].startswith("leaves") else ".".join(pair[0].split(".")[:2])
    ),
)


def busy(site: Site, until_s: float) -> Plant:
    """A gate on its way, warmed, with something before its inactive leaf and gusts about it."""
    plant = Plant(site, 5)
    plant.set_network(NET)
    plant.set_wind(Weather(wind_m_s=6.0, gust_intensity=0.2))
    plant.place_obstacle(1, 1, Obstacle("adult", 0.3, 1.2, True, 25_000.0, 350.0))
    plant.command(0, 1.0, limit_a=8.0)
    plant.command(1, 0.8, limit_a=6.0)
    to(plant, until_s)
    return plant


def to(plant: Plant, seconds: float) -> None:
    """Run to a time [s] through every stop on the way."""
    while plant.run_to(Us(round(seconds * 1e6))).reason is not Reason.REACHED:
        pass


def every_bit(plant: Plant) -> bytes:
    """Constants, state, network and curve."""
    return plant.physical()


def fitted(site: Site, changes: list[tuple[str, Any]]) -> Site:
    """A site with these changes, if it may stand."""
    try:
        return with_changes(site, dict(changes))
    except ScenarioError:
        assume(False)
        raise


@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(CHANGES, CHANGES, st.sampled_from((0.0, 0.013, 2.0, 7.5)))
def test_there_and_back_again_is_the_same_to_the_bit(first: Any, second: Any, at_s: float) -> None:
    """Over two changes, undone in turn or at once, at rest, in motion and pressed on something."""
    site = Site(name="Quince Lane, invented")
    plant = busy(site, at_s)
    before = every_bit(plant)
    one = fitted(site, first)
    both = fitted(one, second)
    try:
        plant.refit(one)
        between = every_bit(plant)
        plant.refit(both)
    except DataError:
        assume(False)
    plant.refit(one)
    assert every_bit(plant) == between
    plant.refit(site)
    assert every_bit(plant) == before
    plant.refit(both)
    plant.refit(site)
    assert every_bit(plant) == before


@settings(max_examples=100, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(CHANGES, st.sampled_from((0.0, 2.0, 7.5)))
def test_constants_are_those_of_the_changed_site_in_todays_weather(changes: Any, at_s: float) -> None:
    """Every one of them, as if it had been built so; angles, speeds and motors stay where they are."""
    site = Site(name="Quince Lane, invented")
    plant = busy(site, at_s)
    stood = [(plant.angle(i), plant.speed(i), plant.motor_speed(i), plant.winding_c(i)) for i in (0, 1)]
    other = fitted(site, changes)
    plant.refit(other)
    today = Weather(wind_m_s=6.0, gust_intensity=0.2, temperature_c=site.weather.temperature_c)
    wanted = constants_of(other.model_copy(update={"weather": today}))
    assert np.array_equal(plant._constants, wanted)
    assert stood == [(plant.angle(i), plant.speed(i), plant.motor_speed(i), plant.winding_c(i)) for i in (0, 1)]


@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(
    st.sampled_from(("play_m", "post_inside_m", "post_across_m", "bracket_along_m", "stiffness_n_m", "gear_ratio")),
    st.floats(0.0, 1.0),
    st.floats(5.0, 80.0),
)
def test_a_leaf_at_rest_does_not_jump(key: str, share: float, degrees: float) -> None:
    """Whatever is moved or mended in its train: within a second it stands where it stood, to a tenth of a degree."""
    ends = {
        "play_m": (0.0, 0.05),
        "stiffness_n_m": (2e5, 2e6),
        "gear_ratio": (15.0, 30.0),
        "bracket_along_m": (0.8, 0.9),
    }
    low, high = ends.get(key, (0.10, 0.2))
    site = Site(name="Quince Lane, invented")
    worn = fitted(site, [(f"drives.active.{key}", low + share * (high - low))])
    for there, back in ((site, worn), (worn, site)):
        plant = Plant(there)
        plant.set_network(NET)
        plant.place_leaf(1, 1.2)
        plant.place_leaf(0, math.radians(degrees))
        to(plant, 0.5)
        stood = plant.angle(0)
        plant.refit(back)
        to(plant, 1.5)
        assert plant.angle(0) == pytest.approx(stood, abs=math.radians(0.1))


def test_play_goes_with_a_new_nut(site: Site, net: DriveNetwork, run: Run) -> None:
    """A worn nut leaves the tip loose; mended where the leaf hangs in its play, it holds it there."""
    worn = with_changes(site, {"drives.active.play_m": 0.01})
    plant = Plant(worn)
    plant.set_network(net)
    plant.place_leaf(1, 1.2)
    plant.place_leaf(0, 0.5)
    plant.push(0, 60.0)
    run(plant, 1.0)
    plant.push(0, 0.0)
    run(plant, 1.0)
    hung = plant.angle(0)
    assert abs(hung - 0.5) > 0.01
    plant.refit(site)
    run(plant, 1.0)
    assert plant.angle(0) == pytest.approx(hung, abs=1e-3)
    for force in (60.0, -60.0):  # 120 N·m behind a lever of 0.2 m is 600 N, which 1000 N/mm give 0.6 mm for: 3 mrad
        plant.push(0, force)
        run(plant, 1.0)
        assert plant.angle(0) == pytest.approx(hung, abs=4e-3)


def test_a_sheared_key_lets_go_and_a_new_one_holds(site: Site, net: DriveNetwork, run: Run) -> None:
    """The motor then turns for nothing; mended, it takes the leaf along from where that stands."""
    plant = Plant(site)
    plant.set_network(net)
    plant.refit(with_changes(site, {"drives.active.key": "sheared"}))
    plant.command(0, 1.0)
    run(plant, 3.0)
    assert plant.motor_speed(0) > 300.0
    assert plant.angle(0) == 0.0
    plant.refit(site)
    run(plant, 3.0)
    assert plant.angle(0) > 0.1


@pytest.mark.parametrize("cut_s", [0.0, 1.0, 2.5])
def test_a_keyframe_knows_how_the_gate_was_fitted(site: Site, cut_s: float) -> None:
    """Kept and restored between one fit and the next, the run goes on to the same bits, and so does the undo."""
    worn = with_changes(site, {"drives.active.play_m": 0.01, "leaves.inactive.sag_m": 0.03})

    def script(plant: Plant, from_s: float) -> bytes:
        if from_s <= cut_s:
            to(plant, cut_s)
        plant.refit(site)
        to(plant, 4.0)
        return plant.keyframe()

    straight = busy(site, 0.0)
    straight.refit(worn)
    to(straight, cut_s)
    frame = straight.keyframe()
    restored = Plant(site, 5)
    restored.restore(frame)
    assert restored.site == worn
    assert restored.keyframe() == frame
    assert script(restored, cut_s) == script(straight, cut_s)


def test_a_weather_given_is_undone_with_the_rest(site: Site) -> None:
    """A gale that comes and goes at one instant leaves nothing behind, not even the gust of that instant."""
    plant = busy(site, 2.003)
    before = every_bit(plant)
    today = Weather(wind_m_s=6.0, gust_intensity=0.2)
    plant.refit(site, Weather(wind_m_s=14.0, temperature_c=-10.0))
    assert plant.wind_m_s() == pytest.approx(14.0)
    assert every_bit(plant) != before
    plant.refit(site, today.model_copy(update={"temperature_c": site.weather.temperature_c}))
    assert every_bit(plant) == before


def test_a_drive_too_stiff_to_step_is_refused_and_changes_nothing(site: Site) -> None:
    """As it is when a site is built."""
    plant = busy(site, 1.0)
    before = plant.keyframe()
    stiff = with_changes(
        site,
        {
            "drives.active.stiffness_n_m": 20_000_000.0,
            "drives.active.damping_n_s_m": 200_000.0,
            "drives.active.screw_lead_m": 0.05,
            "drives.active.gear_ratio": 1.0,
            "drives.active.motor.rotor_kg_m2": 1e-6,
        },
    )
    with pytest.raises(DataError, match="times a second"):
        plant.refit(stiff)
    assert plant.keyframe() == before


def test_ground_that_is_taken_away_presses_no_more(site: Site) -> None:
    """What the leaf pressed on it with is gone at once, and back if it is put back."""
    ice = {"name": "ice", "at_deg": 0.0, "reach_deg": 9.0, "height_m": 0.065, "radius_m": 1.9}
    frozen = with_changes(site, {"leaves.active.ground": [ice]})
    plant = Plant(frozen)
    plant.set_network(NET)
    to(plant, 1.0)
    before = plant.ground_force(0)
    assert before == pytest.approx(500.0, rel=0.02)
    plant.refit(site)
    assert plant.ground_force(0) == 0.0
    plant.refit(frozen)
    assert plant.ground_force(0) == before


def test_a_change_by_hand_stays_where_the_sites_agree(site: Site) -> None:
    """A constant that somebody changed is no business of a refit that has nothing to do with it."""
    plant = busy(site, 0.5)
    plant.refine(2)
    before = every_bit(plant)
    plant.refit(with_changes(site, {"leaves.active.solidity": 0.9}))
    plant.refit(site)
    assert every_bit(plant) == before
