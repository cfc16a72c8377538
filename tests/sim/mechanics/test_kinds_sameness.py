"""Every kind of drive and motor, with all that may ail it: the same bits compiled or not, and however it is cut."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any, Final

import pytest

from sim.kernel import compiler, watching
from sim.kernel.network import DriveNetwork
from sim.mechanics.obstacle import Obstacle, force_gauge
from sim.mechanics.plant import KernelWatch, Plant, Reason
from sim.site.drives import ArticulatedArm, Drive, Drives, HydraulicRam, Sensing, Underground
from sim.site.leaves import Bearings, Ridge
from sim.site.models import Edge, Guards, InductionMotor, Leaf, Leaves, Motor, Site, Weather
from sim.units import Us

NET: Final = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665), mains=(230.0, 228.0))

SWAPPED: Final = DriveNetwork(NET.voc, NET.z, (-1.0, 1.0), (0.001, 0.0), NET.rth, (True, True), NET.mains)

MOTORS: Final = {
    "direct current": Motor(shorted_share=0.1, brush_ohm=0.2),
    "mains induction": InductionMotor(fitted_uf=11.0),
}


def drive_of(kind: str, motor: str) -> Any:
    """A worn drive of a kind, its encoder noisy."""
    more: dict[str, Any] = {"motor": MOTORS[motor], "sensing": Sensing(encoder_wander=0.1, encoder_slip=0.02)}
    geared = {"gear_ratio": 500.0} if motor == "mains induction" else {}
    if kind == "linear ram":
        return Drive(play_m=0.002, slip_n=900.0, **more)
    if kind == "hydraulic ram":
        return HydraulicRam(air_share=0.02, leak_cm3_s_bar=0.02, relief_bar=12.0, **more)
    if kind == "articulated arm":
        return ArticulatedArm(play_deg=0.5, slip_n_m=120.0, **geared, **more)
    return Underground(play_deg=0.3, slip_n_m=150.0, **geared, **more)


def site_of(kind: str, motor: str, **weather: Any) -> Site:
    """Two unlike leaves, everything on: lean, rise, sag, stones, bearings, soft edges, gusty wind."""
    stone = Ridge(name="heaved ground", at_deg=50.0, reach_deg=15.0, height_m=0.061, radius_m=1.9)
    active = Leaf(
        hinge_tilt_deg=0.3,
        hinge_tilt_towards_deg=30.0,
        hinge_rise_m=0.003,
        ground=(stone,),
        stop_restitution=0.3,
        edge_twist_n_m_rad=1e5,
        closed_stop_fitted=kind != "articulated arm",
    )
    inactive = Leaf(mass_kg=95.0, bearings=Bearings(), hinge_offset_m=0.05, sag_m=0.0602)
    drive = drive_of(kind, motor)
    wind = {"wind_m_s": 5.0, "gust_intensity": 0.3, "gust_time_s": 1.5, "wind_from_deg": 40.0} | weather
    return Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=active, inactive=inactive),
        drives=Drives(active=drive, inactive=drive.model_copy(update={"sensing": Sensing()})),
        weather=Weather(**wind),
        guards=Guards(active_edge=Edge(bottom_m=0.2, top_m=1.5)),
    )


def body(angle: float) -> Obstacle:
    """Something soft in the way of opening."""
    return Obstacle("test body", angle, 1.5, True, 25_000.0, 300.0)


Acts = list[tuple[int, Callable[[Plant], None]]]


def acts() -> Acts:
    """Eighteen busy seconds: both ways, a body, the gauge, key, release, swap, cold, a new wind, a watch."""
    return [
        (0, lambda p: p.set_network(NET)),
        (13_000, lambda p: p.command(0, 0.9, 3.0, 9.0)),
        (900_000, lambda p: p.command(1, 1.0, 2.0, 9.0)),
        (2_000_000, lambda p: p.place_obstacle(1, 2, body(p.angle(1) + 0.01))),
        (4_000_000, lambda p: p.set_temperature(-15.0)),
        (5_100_000, lambda p: p.remove_obstacle(1, 2)),
        (6_000_000, lambda p: p.shear(1)),
        (6_500_000, lambda p: p.command(0, 0.0, brake=True)),
        (7_000_000, lambda p: p.mend(1)),
        (7_500_000, lambda p: p.place_obstacle(0, 0, force_gauge(p.angle(0) - 0.05, 2.0))),
        (7_510_000, lambda p: p.command(0, -0.8, 50.0, 9.0)),
        (8_000_000, lambda p: p.set_watches([KernelWatch(watching.COUNT_AT_LEAST, 1, 100.0)])),
        (8_100_000, lambda p: p.set_watches([])),
        (10_000_000, lambda p: p.remove_obstacle(0, 0)),
        (10_000_000, lambda p: p.set_network(SWAPPED)),
        (11_000_000, lambda p: p.release(0)),
        (11_000_000, lambda p: p.push(0, -25.0)),
        (12_500_000, lambda p: p.command(1, 0.0, 0.5)),
        (13_000_000, lambda p: p.set_wind(Weather(wind_m_s=3.0, wind_from_deg=200.0))),
        (15_000_000, lambda p: p.push(0, 0.0)),
        (16_000_000, lambda p: p.engage(0)),
        (16_010_000, lambda p: p.command(0, -1.0)),
        (17_000_000, lambda p: p.set_edge(0, None)),
    ]


def play(site: Site, end: int, script: Acts, slices: Callable[[], int], seed: int = 3) -> tuple[bytes, list[str]]:
    """Keyframe at `end` [µs] and all stops on the way, in slices of the given lengths."""
    plant, told = Plant(site, seed), []
    plant.record()
    for when, act in [*script, (end, lambda _: None)]:
        while plant.now < when:
            stop = plant.run_to(Us(min(when, plant.now + slices())))
            if stop.reason is not Reason.REACHED:
                told.append(f"{plant.now} {stop.reason} {stop.culprit}")
        act(plant)
    told.append(plant.recording().active_angle.tobytes().hex())
    told.append(plant.gauge_curve().raw_n.tobytes().hex())
    return plant.keyframe(), told


def whole() -> int:
    """Not cut at all between acts."""
    return 10**12


KINDS: Final = [
    (kind, motor) for kind in ("linear ram", "hydraulic ram", "articulated arm", "underground") for motor in MOTORS
]


@pytest.mark.parametrize(("kind", "motor"), KINDS)
def test_compiled_and_interpreted_give_the_same_bits(kind: str, motor: str, monkeypatch: Any) -> None:
    """Eighteen busy seconds of every kind of drive on every kind of motor, every bit of state, events, recording and
    gauge curve, in both forms."""
    if not compiler.load():
        pytest.skip("no compiler here: it isn't installed, or it is switched off")
    fast = play(site_of(kind, motor), 18_000_000, acts(), whole)
    with monkeypatch.context() as patch:
        patch.setattr(compiler, "_forms", compiler.INTERPRETED)
        slow = play(site_of(kind, motor), 18_000_000, acts(), whole)
    assert fast[1] == slow[1]
    assert fast[0] == slow[0]
    assert any("touched test body" in each for each in fast[1])


@pytest.mark.parametrize(("kind", "motor"), KINDS)
@pytest.mark.parametrize("span", [(1, 9_000), (4_000, 700_000)])
def test_cutting_a_run_changes_no_bit(kind: str, motor: str, span: tuple[int, int]) -> None:
    """In odd slices, on the grid or off it, with gusts, wandering encoders, slipping, creep and warming going on."""
    length = random.Random(f"{kind} {motor}")
    cut = play(site_of(kind, motor), 18_000_000, acts(), lambda: length.randint(*span))
    assert cut == play(site_of(kind, motor), 18_000_000, acts(), whole)


@pytest.mark.parametrize("calm", [False, True])
def test_long_runs_are_cut_anywhere_too(calm: bool) -> None:
    """Nine minutes with a gate that moves now and then: past the 256 s that gusts and wander are drawn for at a time,
    with wind or in calm where rest is skipped, the bits are the same in one go and in slices."""
    weather = {"wind_m_s": 0.0, "gust_intensity": 0.0} if calm else {}
    script: Acts = [(0, lambda p: p.set_network(NET))]
    for minute in range(9):
        duty = 0.8 if minute % 2 == 0 else -0.8
        script.append((minute * 60_000_000 + 1_000, lambda p, d=duty: p.command(0, d, 2.0, 8.0)))
        script.append((minute * 60_000_000 + 9_000_000, lambda p: p.command(0, 0.0, 2.0, 8.0)))
    length = random.Random(2)
    site = site_of("linear ram", "direct current", **weather)
    in_one = play(site, 540_000_000, script, whole)
    assert play(site, 540_000_000, script, lambda: length.randint(1, 40_000_000)) == in_one
    other = play(site, 540_000_000, script, whole, seed=4)
    assert other != in_one, "another seed wanders otherwise"


def test_what_is_removed_from_a_pressed_edge_is_told_at_once() -> None:
    """A released leaf that swings on while what pressed its edge is taken away: let go is reported at the very next
    millisecond, however far the run is asked to go."""
    for reach in (1_000, 10**9):
        site = Site(name="Quince Lane, invented", leaves=Leaves(active=Leaf(hinge_friction_n_m=1.0)))
        plant = Plant(site)
        plant.release(0)
        plant.release(1)
        plant.place_leaf(1, 1.2)
        plant.place_leaf(0, 0.8, -0.5)
        plant.place_obstacle(0, 0, Obstacle("test body", 0.7, 2.0, False, 2_000.0))
        while not plant.edge_pressed(0):
            plant.run_to(Us(plant.now + 1_000))
        plant.remove_obstacle(0, 0)
        now = plant.now
        stop = plant.run_to(Us(now + reach))
        assert (stop.reason, stop.culprit, plant.now) == (Reason.CONTACT, "active edge let go", now + 1_000)
