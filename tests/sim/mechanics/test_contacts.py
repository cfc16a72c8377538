"""Things in a leaf's way: what is reported, when, and only once."""

from __future__ import annotations

import math

import pytest

from sim.mechanics.obstacle import Obstacle, force_gauge
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Edge
from sim.units import STEP, Us


@pytest.fixture
def closing(plant: Plant) -> Plant:
    """The active leaf closes from 60° at half duty, without a soft edge."""
    plant.set_edge(0, None)
    plant.place_leaf(0, math.radians(60))
    plant.place_leaf(1, math.radians(60))
    plant.command(0, -0.5)
    return plant


def body(angle_deg: float, *, opening: bool = False, radius: float = 1.5, stiffness: float = 25_000.0) -> Obstacle:
    """Something soft that stands fast."""
    return Obstacle("test body", math.radians(angle_deg), radius, opening, stiffness, 300.0)


def test_a_touch_stops_the_run_on_the_grid(closing: Plant) -> None:
    """The run ends at the first whole millisecond at which the leaf presses, and says who met whom."""
    closing.place_obstacle(0, 2, body(40))
    stop = closing.run_to(Us(20_000_000))
    assert stop.reason is Reason.CONTACT
    assert stop.culprit == "active leaf touched test body"
    assert stop.time % STEP == 0
    assert closing.touching(0) == "test body"
    assert math.degrees(closing.angle(0)) == pytest.approx(40.0, abs=0.05)
    assert closing.contact_force(0) > 0.0


def test_a_leaf_that_presses_is_reported_once(closing: Plant, run) -> None:
    """A physical event is consumed: pressing on for half a minute makes one report, backing off one more."""
    closing.place_obstacle(0, 0, body(40))
    assert [stop.culprit for stop in run(closing, 30.0)] == ["active leaf touched test body"]
    assert closing.motor_speed(0) == 0.0
    closing.command(0, 0.5)
    assert [stop.culprit for stop in run(closing, 10.0)] == ["active leaf left test body"]
    assert closing.touching(0) != "test body"
    assert closing.contact_force(0) == 0.0


def test_met_while_opening(plant: Plant, run) -> None:
    """The same on the other side: a body in the way of opening holds the leaf there."""
    plant.place_leaf(0, math.radians(20))
    plant.place_obstacle(0, 0, body(50, opening=True))
    plant.command(0, 0.5)
    assert [stop.culprit for stop in run(plant, 20.0)] == ["active leaf touched test body"]
    assert 50.0 < math.degrees(plant.angle(0)) < 53.0
    assert plant.peak_force(0, 0) >= plant.contact_force(0) > 100.0


def test_the_edge_switches_at_its_force_and_lets_go_at_half(closing: Plant, run) -> None:
    """A soft edge of 40 N trips at 40 N and clears below 20 N, each reported once, also without movement between."""
    closing.set_edge(0, Edge(trip_force_n=40.0))
    closing.place_obstacle(0, 0, body(40, radius=2.0, stiffness=500_000.0))
    stops = []
    while "edge pressed" not in "".join(stops):
        stops.append(closing.run_to(Us(20_000_000)).culprit)
    assert stops == ["active leaf touched test body", "active edge pressed"]
    assert closing.edge_pressed(0)
    assert closing.contact_force(0) == pytest.approx(40.0, abs=5.0)
    closing.command(0, 0.5)
    later = [stop.culprit for stop in run(closing, 10.0)]
    assert later[-2:] == ["active edge let go", "active leaf left test body"]
    assert not closing.edge_pressed(0)


def test_a_body_away_from_the_edge_does_not_press_it(closing: Plant, run) -> None:
    """A thing met at 1.5 m of a 2 m leaf meets the leaf itself, not its closing edge."""
    closing.set_edge(0, Edge())
    closing.place_obstacle(0, 0, body(40, radius=1.5))
    assert [stop.culprit for stop in run(closing, 15.0)] == ["active leaf touched test body"]
    assert not closing.edge_pressed(0)


def test_the_edge_is_hard_past_its_travel(closing: Plant) -> None:
    """Up to its travel edge and head are springs in series; past it only the head gives (by hand)."""
    from sim.kernel.contact import through_edge

    series = 1 / (1 / 20_000 + 1 / 500_000)
    bottom = 20_000 * 0.03
    assert through_edge(0.01, 500_000, 20_000, 0.03) == pytest.approx(series * 0.01)
    deep = bottom / series
    assert through_edge(deep, 500_000, 20_000, 0.03) == pytest.approx(bottom)
    assert through_edge(deep + 0.001, 500_000, 20_000, 0.03) == pytest.approx(bottom + 500.0)


def test_taking_a_pressed_body_away_frees_edge_and_leaf(closing: Plant, run) -> None:
    """Removed, a body presses on nothing: force gone, edge let go and reported, the slot free again."""
    closing.set_edge(0, Edge())
    closing.place_obstacle(0, 1, body(40, radius=2.0))
    run(closing, 12.0)
    assert closing.edge_pressed(0)
    closing.remove_obstacle(0, 1)
    closing.remove_obstacle(0, 1)
    assert closing.contact_force(0) == 0.0
    assert closing.touching(0) == ""
    assert [stop.culprit for stop in run(closing, 0.01)] == ["active edge let go"]


def test_placed_in_the_leaf_it_just_touches(closing: Plant, run) -> None:
    """A body placed where the leaf already is makes no force out of nothing."""
    closing.command(0, 0.0, brake=True)
    run(closing, 2.0)
    closing.place_obstacle(0, 0, body(75))
    run(closing, 1.0)
    assert closing.contact_force(0) < 1.0


def test_one_gauge_at_a_time(closing: Plant) -> None:
    """There is one force gauge: a second one is refused and leaves everything as it was."""
    closing.place_obstacle(0, 0, force_gauge(0.3, 2.0))
    before = closing.keyframe()
    with pytest.raises(ValueError, match="there is one"):
        closing.place_obstacle(1, 0, force_gauge(0.3, 2.0))
    assert closing.keyframe() == before
    with pytest.raises(ValueError, match="there is no slot 4"):
        closing.place_obstacle(0, 4, body(10))


def test_the_gauge_writes_a_millisecond_curve(closing: Plant, run) -> None:
    """The curve begins at the touch with nothing, has a sample a millisecond for eight seconds, and stays when the
    gauge is taken away; the amplifier shows less than the spring feels while the force rises fast."""
    closing.place_obstacle(0, 0, force_gauge(math.radians(20), 2.0))
    assert closing.gauge_curve().time_s.size == 0
    run(closing, 30.0)
    curve = closing.gauge_curve()
    assert curve.time_s.size == 8000
    assert curve.time_s[1] - curve.time_s[0] == pytest.approx(0.001)
    assert curve.force_n[0] == curve.raw_n[0] == 0.0
    assert curve.raw_n.max() <= curve.raw_peak_n < 1.01 * curve.raw_n.max()
    assert 0.5 * curve.raw_peak_n < curve.peak_n < curve.raw_peak_n
    assert curve.force_n[-1] == pytest.approx(closing.contact_force(0), rel=1e-3)
    closing.remove_obstacle(0, 0)
    run(closing, 1.0)
    assert closing.gauge_curve().peak_n == curve.peak_n
    closing.place_obstacle(0, 0, force_gauge(0.1, 2.0))
    assert closing.gauge_curve().time_s.size == 0
