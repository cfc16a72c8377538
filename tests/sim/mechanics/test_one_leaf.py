"""One leaf: it moves as it would beside another, shuts against its post, and the empty place never stirs."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.kernel.network import DriveNetwork
from sim.mechanics import hanging
from sim.mechanics.lap import gap_between_edges, is_lapped
from sim.mechanics.plant import Plant
from sim.mechanics.report import StopReport
from sim.site import Site, Weather, validate, with_changes
from sim.site.document import Document
from sim.units import SECOND, Us

Run = Callable[[Plant, float], list[StopReport]]
NET = DriveNetwork(voc=(27.3, 27.3), z=((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))

PAIR = Site(name="Quince Lane, invented")


def alone(opening_m: float = 2.02) -> Site:
    """The active leaf of the two-leaf gate, before a post."""
    data = {"name": "Quince Gap, invented", "opening_width_m": opening_m, "leaves": {"inactive": "not fitted"}}
    return validate(Document("yard", {"format": "gudgeon-site/1", **data}), Site)  # type: ignore[dict-item]


def powered(site: Site) -> Plant:
    """A plant with a supply."""
    plant = Plant(site)
    plant.set_network(NET)
    return plant


@settings(max_examples=20, deadline=None)
@given(
    duty=st.floats(-1.0, 1.0).filter(lambda duty: abs(duty) > 0.05),
    degrees=st.floats(30.0, 60.0),
    seconds=st.floats(0.5, 3.0),
)
def test_a_leaf_moves_alone_as_beside_a_resting_one(duty: float, degrees: float, seconds: float) -> None:
    """Clear of the lap, nothing of a leaf's motion hangs on the other: the same bits (the kernel's own promise)."""
    ends = []
    for site in (PAIR, alone()):
        plant = powered(site)
        plant.place_leaf(0, math.radians(degrees))
        plant.command(0, duty)
        plant.run_to(Us(round(seconds * SECOND)))
        ends.append((plant.angle(0), plant.speed(0), plant.motor_current(0), plant.counts(0)))
    assert ends[0] == ends[1]


def test_the_empty_place_never_stirs(run: Run) -> None:
    """Storm, gusts and somebody who drives it: what fills the place of a leaf that isn't there stays where it is."""
    storm = {"weather.wind_m_s": 30.0, "weather.gust_intensity": 0.3, "weather.wind_from_deg": 180.0}
    plant = powered(with_changes(alone(), storm))
    plant.command(0, 1.0)
    plant.command(1, 1.0)
    run(plant, 40.0)
    assert plant.angle(0) > math.radians(80.0)
    assert (plant.angle(1), plant.speed(1)) == (0.0, 0.0)
    assert not plant.engaged(1)
    assert plant.lap_force() == 0.0
    assert plant.lap_side() == 0


def test_it_shuts_at_its_closed_stop_and_laps_nothing(run: Run) -> None:
    """Its stop ends the closing, as far as the stop gives; no strip is met on the way."""
    plant = powered(alone())
    plant.place_leaf(0, math.radians(20.0))
    plant.command(0, -0.5)
    run(plant, 20.0)
    assert plant.touching(0) == "closed stop"
    assert math.degrees(plant.angle(0)) == pytest.approx(0.0, abs=1.0)
    assert plant.lap_force() == 0.0
    assert not is_lapped(alone(), 0.0, 0.0)


def test_a_leaf_too_long_jams_on_its_post() -> None:
    """In the sun it grows by 23e-6/K · 45 K · 2 m = 2.1 mm; with 1 mm to spare its tip meets the post where
    2.0021·cos θ = 2.001, at 1.9° (closed formula)."""
    hot = {
        "leaves.active.expansion_per_k": 23e-6,
        "leaves.active.sun_gain_c": 40.0,
        "weather.temperature_c": 25.0,
        "weather.sunshine": 1.0,
    }
    site = with_changes(alone(2.001), hot)
    assert hanging.meeting_gap(site, site.weather) == pytest.approx(2.001 - 2.0 * (1 + 23e-6 * 45))
    plant = Plant(site)
    assert math.degrees(plant.angle(0)) == pytest.approx(math.degrees(math.acos(1 - 0.00107 / 2.0)), abs=0.02)


@pytest.mark.parametrize("degrees", [0.0, 10.0, 45.0, 92.0])
def test_the_gap_to_the_post_is_the_chord(degrees: float) -> None:
    """From a tip at (W·cos θ, W·sin θ) to the post's face at (D, 0): √((D − W·cos θ)² + (W·sin θ)²)."""
    angle = math.radians(degrees)
    wanted = math.hypot(2.02 - 2.0 * math.cos(angle), 2.0 * math.sin(angle))
    assert gap_between_edges(alone(), angle, 0.0) == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("from_deg", "words"),
    [(90.0, "from the closing post's side"), (225.0, "between outside and the hinge side"), (0.0, "from inside")],
)
def test_wind_comes_from_no_inactive_side(from_deg: float, words: str) -> None:
    """The words of the weather name what stands there."""
    windy = Weather(wind_m_s=4.0, wind_from_deg=from_deg)
    assert words in hanging.weather_words(windy, 1)
