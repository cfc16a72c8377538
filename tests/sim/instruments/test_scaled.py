"""The simple instruments: what they show is what is there, to their fineness, and a push in the model agrees."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.errors import Refused
from sim.instruments.instrument import Use
from sim.instruments.scaled import Scaled
from sim.instruments.shelf import SHELF
from sim.instruments.toolbag import Toolbag
from sim.mechanics import by_hand, hanging
from sim.site import Site, load_site, with_changes
from sim.units import from_seconds
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

BENCH = Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml"
SHEET = {
    "electric lock": "fitted",
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "opens first": "active",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 4.0,
    "slow zone before stop": 20.0,
}


@pytest.fixture
def site() -> Site:
    """The reference bench."""
    return load_site(BENCH)


def gate(site: Site, *, learned: bool = False, open_deg: float = 0.0, **changes: object) -> World:
    """A world on a changed bench; its leaves stand at an angle."""
    if changes:
        site = with_changes(site, {key.replace("__", "."): value for key, value in changes.items()})
    arrival = Arrival(sheet=SHEET if learned else {}, learned=learned)
    world = World(site, bag=Toolbag, arrival=arrival)
    for leaf in (0, 1):
        if open_deg:
            world.plant.place_leaf(leaf, math.radians(open_deg))
    return world


def measure(world: World, instrument: str, function: str, at: str = "") -> float:
    """One reading, by the act that takes it."""
    world.do(checked("measure", {"instrument": instrument, "function": function, "at": at}))
    event = [e for e in world.events if e.kind == "reading"][-1]
    assert event.data["function"] == function
    return float(event.data["value"])


SCALED = [made for made in (new() for new in SHELF) if isinstance(made, Scaled)]
"""Every simple instrument of the shelf."""


@pytest.mark.parametrize("tool", SCALED, ids=lambda tool: tool.name)
def test_a_reading_is_the_truth_to_fineness_and_noise(site: Site, tool: Scaled) -> None:
    """Of everything that can be read at rest: within six deviations and half a step, on the scale's steps."""
    world = gate(site, leaves__active__sag_m=0.013, leaves__active__post__lean=0.004, drives__active__rod_bow=0.002)
    world.cabinet.isolate()
    world.plant.release(0)
    read = 0
    for row in tool.rows:
        place = {"leaf": "active", "post": "active", "terminal": "isolator outlet, live"}.get(row.function.at, "")
        use = Use(row.function.name, place)
        try:
            true = row.figure(world, use)
        except Refused:
            continue
        read += 1
        values = [tool.read(world, use, index).now for index in range(1, 40)]
        for shown in values:
            assert shown.value is not None
            assert abs(shown.value - true) <= 6.0 * row.scale.noise + 0.5 * row.scale.step + 1e-9
            steps = shown.value / row.scale.step
            assert abs(steps - round(steps)) < 1e-6
            assert shown.text.endswith(shown.unit) or tool.name == "thermal view"
        assert values == [tool.read(world, use, index).now for index in range(1, 40)]
    assert read or tool.name in ("stopwatch",)


def test_beyond_its_range_a_scale_says_so(site: Site) -> None:
    """A leaf that takes 195 N is shown; one of 400 kg that leans 5° and hardly turns at all is not."""
    world = gate(site, leaves__active__hinge_friction_n_m=390.0)
    world.plant.release(0)
    assert measure(world, "spring scale", "force to move the leaf", "active") == pytest.approx(195.0, abs=6.0)
    heavy = {"leaves__active__hinge_friction_n_m": 400.0, "leaves__active__mass_kg": 400.0}
    world = gate(site, open_deg=60.0, leaves__active__hinge_tilt_deg=5.0, **heavy)
    world.plant.release(0)
    assert by_hand.force_to_move(world.plant, 0) > 250.0
    assert math.isnan(measure(world, "spring scale", "force to move the leaf", "active"))


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"leaves__active__hinge_friction_n_m": 120.0},
        {"leaves__active__hinge_tilt_deg": 0.2, "leaves__active__hinge_friction_n_m": 20.0},
        {"leaves__active__sag_m": 0.062, "leaves__active__hinge_friction_n_m": 30.0},
    ],
)
def test_what_the_scale_shows_is_what_moves_the_leaf(site: Site, changes: dict[str, float]) -> None:
    """The released leaf, pushed with a little less than the reading, stays; with a little more, it goes."""
    world = gate(site, open_deg=40.0, **changes)
    plant = world.plant
    plant.release(0)
    force = by_hand.force_to_move(plant, 0)
    hung, _ = by_hand.felt(plant, 0)
    way = -1.0 if hung > 0.0 else 1.0
    for share, moves in ((0.97, False), (1.03, True)):
        plant.place_leaf(0, math.radians(40.0))
        plant.push(0, way * share * force)
        world.run_to(world.now + from_seconds(1.0))
        assert (abs(math.degrees(plant.angle(0)) - 40.0) > 0.01) is moves
        plant.push(0, 0.0)


def test_what_holds_a_leaf_that_runs_downhill(site: Site) -> None:
    """2° of lean towards shut: 41 N·m at 90° (facts C27), less what friction holds: 18 N at 2 m."""
    world = gate(site, open_deg=89.0, leaves__active__hinge_tilt_deg=2.0)
    world.do(checked("rope leaf", {"leaf": "active"}))
    world.do(checked("release drive", {"leaf": "active"}))
    assert measure(world, "spring scale", "force to hold the leaf", "active") == pytest.approx(
        (41.08 - 5.2) / 2.0, abs=4.0
    )
    world.do(checked("free leaf", {"leaf": "active"}))
    world.run_to(world.now + from_seconds(20.0))
    assert math.degrees(world.plant.angle(0)) < 5.0


@pytest.mark.parametrize("play_m", [0.0, 0.002, 0.005])
def test_play_at_the_tip_is_how_far_a_hand_moves_it(site: Site, play_m: float) -> None:
    """10 N to and fro on a leaf that its drive holds: the dial's figure, from the run of the model."""
    world = gate(site, open_deg=30.0, drives__active__play_m=play_m, leaves__active__hinge_friction_n_m=0.1)
    plant = world.plant
    plant.place_leaf(1, 1.2)
    angles = []
    for force in (10.0, -10.0):
        plant.push(0, force)
        world.run_to(world.now + from_seconds(8.0))
        angles.append(plant.angle(0))
    plant.push(0, 0.0)
    went = (angles[0] - angles[1]) * site.leaves.active.width_m
    assert by_hand.tip_play(plant, 0, 10.0) == pytest.approx(went, rel=0.06)


@pytest.mark.parametrize("degrees", [20.0, 38.5, 40.5, 60.0])
def test_no_gap_under_the_leaf_is_where_it_presses_on_the_ground(site: Site, degrees: float) -> None:
    """A crest at 40°, higher than the leaf hangs clear."""
    ice = {"name": "ice", "at_deg": 40.0, "reach_deg": 5.0, "height_m": 0.075, "radius_m": 1.9}
    world = gate(site, open_deg=degrees, leaves__active__ground=[ice], leaves__active__hinge_friction_n_m=390.0)
    world.run_to(world.now + from_seconds(0.1))
    gap = by_hand.clearance(world.plant, 0, world.plant.angle(0))
    assert (gap == 0.0) is (world.plant.ground_force(0) > 0.0)
    assert by_hand.least_clearance(world.plant, 0) == 0.0


def test_a_racked_leaf_hangs_by_its_diagonals(site: Site) -> None:
    """2.0 m by 1.8 m pushed out of square by 11.15 mm: diagonals of √(2² + 1.81115²) and √(2² + 1.78885²)."""
    drop = 0.01115
    apart = math.hypot(2.0, 1.8 + drop) - math.hypot(2.0, 1.8 - drop)
    leaf = with_changes(site, {"leaves.active.out_of_square_m": round(apart, 6)}).leaves.active
    assert hanging.racked(leaf) == pytest.approx(drop, rel=1e-3)


def test_leaves_grow_by_the_coefficient_of_steel(site: Site) -> None:
    """12e-6 per kelvin (textbook): 4 m of leaf, 30 K warmer, take 1.44 mm of the meeting gap."""
    warm = site.weather.model_copy(update={"temperature_c": 50.0})
    assert hanging.meeting_gap(site, site.weather) == pytest.approx(0.020, abs=1e-9)
    assert hanging.meeting_gap(site, warm) == pytest.approx(0.020 - 0.00144, abs=1e-6)
    sunny = warm.model_copy(update={"sunshine": 1.0})
    assert hanging.meeting_gap(site, sunny) == pytest.approx(0.020 - 0.00144 - 4 * 12e-6 * 15, abs=1e-6)


def test_leaves_too_long_for_each_other_leave_one_standing_out(site: Site) -> None:
    """A leaning post takes 35 mm at the top: the leaf that shuts last stops where its tip is 15 mm short of shut."""
    world = gate(site, leaves__inactive__post__lean=0.035 / 1.86)
    short = -hanging.meeting_gap(world.site, world.weather)
    assert short == pytest.approx(0.015, abs=1e-4)
    assert 2.0 * (1.0 - math.cos(world.plant.angle(0))) == pytest.approx(short, rel=0.02)
    assert world.plant.angle(1) == 0.0


def test_a_stopwatch_and_a_tape_after_a_movement(site: Site) -> None:
    """As the sheet says: the second leaf waits 3 s, and 20 % of the travel of 90° on 2 m is slow."""
    world = gate(site, learned=True)
    for instrument, function in (("stopwatch", "start after the other leaf"), ("tape", "slow way before the stop")):
        at = "inactive" if instrument == "stopwatch" else "active"
        world.do(checked("place instrument", {"instrument": instrument, "function": function, "at": at}))
    world.do(checked("press", {"control": "open button"}))
    world.run_to(world.now + from_seconds(0.5))
    world.do(checked("release", {"control": "open button"}))
    world.do(checked("wait until", {"what": "fully open", "at_most_s": 60.0}))
    world.do(checked("wait", {"seconds": 3.0}))
    read = {}
    for instrument in ("stopwatch", "tape"):
        world.do(checked("read instrument", {"instrument": instrument}))
        read[instrument] = float([e for e in world.events if e.kind == "reading"][-1].data["value"])
    assert read["stopwatch"] == pytest.approx(3.0, abs=0.6)
    assert read["tape"] == pytest.approx(0.2 * math.pi / 2.0 * 2000.0, rel=0.25)


def test_by_day_by_night_and_by_the_sun(site: Site) -> None:
    """Noon in midsummer at 50° north, clear: the 100,000 lx of any table, within a fifth; night: none."""
    noon = gate(site, starts_at_h=12.0, weather__sunshine=1.0)
    assert measure(noon, "light meter", "light on the ground") == pytest.approx(100_000.0, rel=0.2)
    overcast = gate(site, starts_at_h=12.0)
    assert 5_000.0 < measure(overcast, "light meter", "light on the ground") < 20_000.0
    night = gate(site, starts_at_h=0.0)
    assert measure(night, "light meter", "light on the ground") < 3.0


def test_every_place_that_eyes_can_look_at(site: Site) -> None:
    """Words that change with what is there."""
    world = gate(
        site,
        leaves__active__solidity=1.0,
        leaves__active__open_stop_fitted=False,
        drives__active__rod_bow=0.006,
        drives__active__bracket_play_m=0.003,
        drives__active__release_key="missing",
        leaves__active__out_of_square_m=0.02,
        cover_strip__face="outside",
        leaves__active__ground=[
            {"name": "a stone", "at_deg": 40.0, "reach_deg": 2.0, "height_m": 0.08, "radius_m": 1.5}
        ],
    )
    sound = gate(site)
    look = world.bag.instruments["look"]  # type: ignore[attr-defined]
    things = ("rod", "bracket", "manual release", "ground under the leaf", "cover strip", "infill", "frame", "stops")
    for function in (each for each in look.functions if each.name in things):
        use = Use(function.name, "active" if function.at else "")
        assert look.read(world, use, 1).now.text != look.read(sound, use, 1).now.text


def test_a_missing_key_locks_the_release(site: Site) -> None:
    """Nobody frees a leaf without it."""
    world = gate(site, drives__active__release_key="missing")
    with pytest.raises(Refused, match="key is missing"):
        world.do(checked("release drive", {"leaf": "active"}))
    world.do(checked("release drive", {"leaf": "inactive"}))


def test_a_force_gauge_from_the_bag_reads_the_peak(site: Site) -> None:
    """Set at 300 mm before a leaf that then closes on it; taken off, nothing stands there."""
    world = gate(site, learned=True)
    for control in ("open button",):
        world.do(checked("press", {"control": control}))
        world.run_to(world.now + from_seconds(0.5))
        world.do(checked("release", {"control": control}))
    world.do(checked("wait until", {"what": "fully open", "at_most_s": 60.0}))
    asked = {"instrument": "force gauge", "function": "closing force, gap 300 mm", "at": "active"}
    world.do(checked("place instrument", asked))
    world.do(checked("press", {"control": "close button"}))
    world.run_to(world.now + from_seconds(0.5))
    world.do(checked("release", {"control": "close button"}))
    world.do(checked("wait", {"seconds": 30.0}))
    world.do(checked("read instrument", {"instrument": "force gauge"}))
    peak = float([e for e in world.events if e.kind == "reading"][-1].data["value"])
    assert peak == pytest.approx(world.plant.gauge_curve().peak_n, rel=0.06)
    world.do(checked("lift instrument", {"instrument": "force gauge"}))
    assert world.bag.gauge is None  # type: ignore[attr-defined]
