"""One gate, one truth: however it is run, looked at, kept and restored, the bits are the same."""

from __future__ import annotations

import random
from collections.abc import Callable

import numpy as np
import pytest

from sim.errors import DataError
from sim.kernel import compiler, watching
from sim.kernel.network import DriveNetwork
from sim.mechanics.obstacle import Obstacle, force_gauge
from sim.mechanics.plant import KernelWatch, Plant, Reason
from sim.site.models import Leaf, Leaves, Site, Weather
from sim.units import Us

Script = list[tuple[int, Callable[[Plant], None]]]
"""What is done when [µs]."""


def acts(net: DriveNetwork) -> Script:
    """A busy 40 s: both leaves, a limit, a brake, a body, the gauge, a release, a swap, rest between."""
    swapped = DriveNetwork(net.voc, net.z, (1.0, -1.0), (0.0, 0.001), net.rth, (True, True))
    return [
        (0, lambda p: p.set_network(net)),
        (20_000, lambda p: p.command(0, 1.0, 2.0, 6.0)),
        (1_500_000, lambda p: p.command(1, 0.9, 1.0, 8.0)),
        (3_000_000, lambda p: p.place_obstacle(1, 1, Obstacle("adult", 0.5, 1.2, True, 25_000.0, 350.0))),
        (6_000_000, lambda p: p.command(0, 0.0, brake=True)),
        (6_500_000, lambda p: p.remove_obstacle(1, 1)),
        (9_000_000, lambda p: p.place_obstacle(0, 0, force_gauge(p.angle(0) - 0.2, 2.0))),
        (9_010_000, lambda p: p.command(0, -0.7, 2.0, 8.0)),
        (9_020_000, lambda p: p.set_watches([KernelWatch(watching.STALLED_FOR, 1, 2_000_000.0)])),
        (20_000_000, lambda p: p.remove_obstacle(0, 0)),
        (21_000_000, lambda p: p.set_network(swapped)),
        (24_000_000, lambda p: p.release(0)),
        (24_000_000, lambda p: p.push(0, 30.0)),
        (25_000_000, lambda p: p.push(0, 0.0)),
        (25_000_000, lambda p: p.command(1, 0.0, 0.5)),
        (30_000_000, lambda p: p.engage(0)),
        (31_000_000, lambda p: p.command(0, -1.0)),
    ]


@pytest.fixture
def windy() -> Site:
    """A site with wind and a lean, so that nothing is symmetrical."""
    leaves = Leaves(active=Leaf(hinge_tilt_deg=0.5), inactive=Leaf(mass_kg=95.0))
    return Site(name="Quince Lane, invented", leaves=leaves, weather=Weather(wind_m_s=4.0, wind_from_deg=30.0))


def play(site: Site, script: Script, end: int, chunk: Callable[[], int], record: bool = False) -> Plant:
    """Run a script to `end` [µs] in chunks of the given lengths [µs], through all stops."""
    plant = Plant(site)
    plant.record(record)
    for when, act in [*script, (end, lambda _: None)]:
        while plant.now < when:
            plant.run_to(Us(min(when, plant.now + chunk())))
        act(plant)
    return plant


def straight() -> int:
    """No chunks: one run between acts."""
    return 10**9


def test_compiled_and_interpreted_give_the_same_bits(windy: Site, net: DriveNetwork, interpreted: None) -> None:
    """Law 13: forty busy seconds, every bit of the state, in both forms."""
    slow = play(windy, acts(net), 40_000_000, straight, record=True)
    assert not compiler.is_loaded()
    before = slow.keyframe()
    compiler._forms = compiler.INTERPRETED
    if not compiler.load():
        pytest.skip("no compiler here: it isn't installed, or it is switched off")
    fast = play(windy, acts(net), 40_000_000, straight, record=True)
    assert compiler.is_loaded()
    assert fast.keyframe() == before
    assert fast.gauge_curve().raw_n.tobytes() == slow.gauge_curve().raw_n.tobytes()
    assert fast.recording().active_angle.tobytes() == slow.recording().active_angle.tobytes()


@pytest.mark.parametrize("seed", range(6))
def test_chunks_leave_no_trace(windy: Site, net: DriveNetwork, seed: int) -> None:
    """Law 1: any cutting of the time, on the grid or off it, ends in the same bits, recordings included."""
    whole = play(windy, acts(net), 40_000_000, straight, record=True)
    random_length = random.Random(seed)
    choices = [(1, 4_000), (500, 30_000), (10_000, 900_000)][seed % 3]
    cut = play(windy, acts(net), 40_000_000, lambda: random_length.randint(*choices), record=True)
    assert cut.keyframe() == whole.keyframe()
    for name in ("time_us", "active_angle", "inactive_current", "supply", "active_contact"):
        assert getattr(cut.recording(), name).tobytes() == getattr(whole.recording(), name).tobytes()


def test_recording_changes_nothing(windy: Site, net: DriveNetwork) -> None:
    """With and without recording: the same keyframe."""
    quiet = play(windy, acts(net), 40_000_000, straight)
    watched = play(windy, acts(net), 40_000_000, straight, record=True)
    assert quiet.keyframe() == watched.keyframe()
    assert quiet.recording().time_us.size == 0
    assert watched.recording().time_us.size > 1000


def test_a_skipped_rest_has_the_bits_of_a_stepped_one(plant: Plant, run) -> None:
    """Two hours of rest against the same two hours stepped a millisecond at a time at its far end and its near."""
    plant.command(0, 1.0)
    run(plant, 30.0)
    plant.command(0, 0.0)
    run(plant, 5.0)
    start = plant.keyframe()
    assert plant.run_to(Us(7_235_000_000)).reason is Reason.REACHED
    jumped = plant.keyframe()
    plant.restore(start)
    for _ in range(3000):
        plant.run_to(Us(plant.now + 1000))
    plant.run_to(Us(7_234_999_000))
    plant.run_to(Us(7_235_000_000))
    assert plant.keyframe() == jumped


@pytest.mark.parametrize("at_us", [4_321_000, 10_200_000, 23_456_789, 29_000_000])
def test_a_restored_keyframe_goes_on_the_same_way(windy: Site, net: DriveNetwork, at_us: int) -> None:
    """Law 10: kept anywhere (in motion, on the gauge, swapped, released) and restored in another plant."""
    script = acts(net)
    early = [entry for entry in script if entry[0] <= at_us]
    late = [entry for entry in script if entry[0] > at_us]
    frame = play(windy, early, at_us, straight).keyframe()
    restored = Plant(windy)
    restored.restore(frame)
    assert restored.keyframe() == frame
    for when, act in [*late, (40_000_000, lambda _: None)]:
        while restored.now < when:
            restored.run_to(Us(when))
        act(restored)
    assert restored.keyframe() == play(windy, script, 40_000_000, straight).keyframe()


def test_restoring_forgets_what_was_recorded_later(plant: Plant, run) -> None:
    """After a rewind the recording ends at the keyframe and goes on from there without a seam."""
    plant.record()
    plant.command(0, 0.5)
    run(plant, 2.0)
    frame = plant.keyframe()
    run(plant, 60.0)
    straight_on = plant.recording()
    plant.restore(frame)
    assert plant.recording().time_us[-1] == 2_000_000
    run(plant, 60.0)
    assert np.array_equal(plant.recording().time_us, straight_on.time_us)
    assert np.array_equal(plant.recording().active_angle, straight_on.active_angle)


def test_who_watches_is_no_physics(plant: Plant, site: Site, net: DriveNetwork, run) -> None:
    """Law 2: with other watches the physical state is the same, though the keyframe tells them apart."""
    other = Plant(site)
    other.set_network(net)
    other.set_watches([KernelWatch(watching.COUNT_AT_LEAST, 0, 10.0)])
    for each in (plant, other):
        each.command(0, 0.5)
        run(each, 3.0)
    assert plant.physical() == other.physical()
    assert plant.keyframe() != other.keyframe()


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda frame: b"nonsense", "begins with a line of JSON"),
        (lambda frame: frame.replace(b"gudgeon-plant/2", b"gudgeon-plant/9"), "of format gudgeon-plant/2"),
        (lambda frame: frame[:-8], "bytes long"),
        (lambda frame: frame.replace(b'"network":16', b'"network":15'), "this version needs 16"),
    ],
)
def test_a_spoilt_keyframe_is_refused(plant: Plant, spoil, said: str) -> None:
    """What is no keyframe of this version is refused in words, and the plant stands as before."""
    before = plant.keyframe()
    with pytest.raises(DataError, match=said):
        plant.restore(spoil(before))
    assert plant.keyframe() == before


def test_a_recording_holds_what_happened(plant: Plant, run) -> None:
    """Samples every 10 ms while something moves; a rest is its first and last instant."""
    plant.record()
    run(plant, 100.0)
    plant.command(0, 0.5)
    run(plant, 5.0)
    seen = plant.recording()
    assert list(seen.time_us[:2]) == [10_000, 100_000_000]
    assert set(np.diff(seen.time_us[1:])) == {10_000}
    assert seen.active_angle[-1] == plant.angle(0)
    assert seen.active_current[-1] == plant.motor_current(0)
    assert seen.supply[-1] == plant.supply_v()
    assert seen.supply[0] == 27.3


def test_a_long_recording_loses_nothing(plant: Plant, run) -> None:
    """100 s of slow motion overflow the kernel's buffer more than once; every sample is there."""
    plant.record()
    plant.command(0, 0.25, 99.0)
    run(plant, 100.0)
    assert 0.5 < plant.angle(0) < 1.5
    assert np.array_equal(plant.recording().time_us, np.arange(1, 10_001) * 10_000.0)


@pytest.mark.parametrize("push_n", [4.0, 1.0, 0.0])
def test_coasting_is_stepping(run, push_n: float) -> None:
    """Leaves free of their drives: run at once and millisecond by millisecond they stand the same, to the bit."""
    plants = [Plant(Site(name="Quince Lane, invented")) for _ in range(3)]
    for plant in plants:
        for leaf in (0, 1):
            plant.release(leaf)
            plant.place_leaf(leaf, 0.4 + 0.3 * leaf, 0.3 - 0.45 * leaf)
            plant.push(leaf, push_n)
        plant.place_obstacle(0, 1, force_gauge(0.1, 1.9))
    whole, watched, sliced = plants
    watched.record()
    run(whole, 9.0)
    run(watched, 9.0)
    for _ in range(9_000):
        run(sliced, 0.001)
    assert whole.physical() == sliced.physical() == watched.physical()
    assert abs(whole.angle(0) - 0.4) > 0.05


@pytest.mark.parametrize(("duty", "gusts"), [(0.9, 0.0), (0.3, 0.0), (0.6, 0.3)])
def test_cruising_is_stepping(net: DriveNetwork, run, duty: float, gusts: float) -> None:
    """Driven steadily into their stops and let go of: run at once and millisecond by millisecond, the same bits."""
    weather = Weather(wind_m_s=7.0, wind_from_deg=160.0, gust_intensity=gusts)
    plants = [Plant(Site(name="Quince Lane, invented", weather=weather), seed=3) for _ in range(3)]
    whole, watched, sliced = plants
    for plant in plants:
        plant.set_network(net)
        for leaf in (0, 1):
            plant.place_leaf(leaf, 1.3 + 0.1 * leaf)
    watched.record()
    for asked, seconds in ((duty, 4.0), (0.0, 0.5), (-duty, 2.0)):
        for plant in plants:
            plant.command(0, asked)
            plant.command(1, asked, brake=asked == 0.0)
        run(whole, seconds)
        run(watched, seconds)
        for _ in range(round(seconds * 1000)):
            run(sliced, 0.001)
    assert whole.physical() == sliced.physical() == watched.physical()
    assert whole.angle(0) != whole.angle(1)
