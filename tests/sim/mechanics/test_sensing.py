"""How the board learns where a leaf is: an encoder that may slip, die or wander, limit switches, or nothing."""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import pytest

from sim.kernel.network import DriveNetwork
from sim.mechanics.linkage import Linkage
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import Sensing
from sim.site.models import Drive, Drives, Site, Weather
from sim.units import Us

NET: Final = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))


def plant_of(seed: int = 0, **sensing: Any) -> Plant:
    """A gate sensed this way, the inactive leaf out of the way."""
    drive = Drive(sensing=Sensing(**sensing))
    site = Site(
        name="Quince Lane, invented",
        drives=Drives(active=drive, inactive=drive),
        weather=Weather(temperature_c=20.0),
    )
    plant = Plant(site, seed)
    plant.set_network(NET)
    plant.place_leaf(1, 1.4)
    return plant


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


def open_and_shut(plant: Plant) -> tuple[int, int]:
    """Counts at the open stop and at the closed stop after it, the motor stalled at each at full duty."""
    counts = []
    for duty in (1.0, -1.0):
        plant.command(0, duty, limit_a=6.0)
        run(plant, 22.0)
        counts.append(plant.counts(0))
        plant.command(0, 0.0, brake=True)
        run(plant, 1.0)
    return counts[0], counts[1]


def test_a_sound_encoder_counts_the_same_at_the_stop() -> None:
    """Facts 8, healthy: five runs end within ±2 counts of each other at both stops."""
    plant = plant_of()
    runs = [open_and_shut(plant) for _ in range(5)]
    for at_stop in zip(*runs, strict=True):
        assert max(at_stop) - min(at_stop) <= 4
    full = Linkage(plant.site, 0).travel(math.radians(92.0)) * 16_000
    assert runs[0][0] - runs[0][1] == pytest.approx(full, rel=0.02), "16 000 pulses a metre of ram"


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_noisy_encoder_drifts_by_some_fifty_counts(seed: int) -> None:
    """Facts 8, faulty: with a wander of 0.1 the length of a run differs by some fifty counts from run to run, and
    the place of the stop drifts; the leaf moves as it does with a sound encoder."""
    plant, sound = plant_of(seed, encoder_wander=0.1), plant_of(seed)
    runs = [open_and_shut(plant) for _ in range(5)]
    lengths = np.array([opened - shut for opened, shut in runs], dtype=float)
    for _ in range(5):
        open_and_shut(sound)
    assert 12.0 < lengths.std() < 200.0
    assert plant.angle(0) == sound.angle(0), "noise is in the counting and nowhere else"


def test_seeds_and_leaves_wander_each_its_own_way() -> None:
    """The same seed counts the same to the pulse; another seed, or the other leaf, counts otherwise."""
    told = []
    for seed in (5, 5, 6):
        plant = plant_of(seed, encoder_wander=0.1)
        plant.place_leaf(0, 0.5)
        plant.place_leaf(1, 0.5)
        for leaf in (0, 1):
            plant.command(leaf, 0.8)
        run(plant, 6.0)
        told.append((plant.counts(0), plant.counts(1)))
    assert told[0] == told[1]
    assert told[0] != told[2]
    assert told[0][0] != told[0][1]


@pytest.mark.parametrize("slip", [0.0, 0.25, 0.9, 1.0])
def test_a_slipping_encoder_misses_its_share(slip: float) -> None:
    """It counts 1 − slip of what a sound one counts; a dead one counts nothing while the motor turns."""
    plant, sound = plant_of(encoder_slip=slip), plant_of()
    for each in (plant, sound):
        each.command(0, 0.6)
        run(each, 6.0)
    assert sound.counts(0) > 500
    assert plant.counts(0) == pytest.approx((1.0 - slip) * sound.counts(0), abs=1.0)
    assert plant.angle(0) == sound.angle(0)
    assert slip < 1.0 or plant.quiet_us(0) == 6_000_000


@pytest.mark.parametrize("kind", ["limit switches", "none"])
def test_what_has_no_encoder_counts_nothing(kind: str) -> None:
    """Without an encoder the count stays at nothing while the leaf moves."""
    plant = plant_of(kind=kind)
    plant.command(0, 0.6)
    run(plant, 4.0)
    assert plant.angle(0) > 0.1
    assert plant.counts(0) == 0


@pytest.mark.parametrize("contact", ["normally closed", "normally open"])
def test_limit_switches_work_where_they_stand(contact: str) -> None:
    """Open switch from 88° on, closed switch up to 2°; a normally closed contact is broken there, a normally open one
    made (facts 8: continuity of a normally closed limit opens at its stop)."""
    plant = plant_of(kind="limit switches", limit_open_deg=88.0, limit_closed_deg=2.0, limit_contact=contact)
    rests = contact == "normally closed"
    for degrees, at_open, at_closed in (
        (0.0, False, True),
        (2.0, False, True),
        (2.1, False, False),
        (45.0, False, False),
        (87.9, False, False),
        (88.0, True, False),
        (91.0, True, False),
    ):
        plant.place_leaf(0, math.radians(degrees) + 1e-12 * (1 if at_open else -1))
        assert plant.limit_switches(0) == (rests != at_open, rests != at_closed), degrees


@pytest.mark.parametrize("kind", ["encoder", "none"])
def test_no_limit_switches_no_contacts(kind: str) -> None:
    """Where none are fitted both contacts are open everywhere."""
    plant = plant_of(kind=kind)
    for angle in (0.0, 0.8, 1.6):
        plant.place_leaf(0, angle)
        assert plant.limit_switches(0) == (False, False)


def test_a_switch_out_of_place_works_too_early() -> None:
    """Facts 8: moved by 200 mm at the edge of a 2 m leaf, 5.7°, the open switch works that much before its stop."""
    plant = plant_of(kind="limit switches", limit_open_deg=92.0 - math.degrees(0.2 / 2.0))
    plant.command(0, 0.7)
    while plant.limit_switches(0)[0] and plant.now < 30_000_000:
        run(plant, 0.01)
    assert 2.0 * (math.radians(92.0) - plant.angle(0)) == pytest.approx(0.2, abs=0.005)
