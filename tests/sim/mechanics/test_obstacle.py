"""Things in the way: the gauge in front of a leaf that closes, and of one that opens."""

from __future__ import annotations

import math

import pytest

from sim.mechanics.obstacle import force_gauge
from sim.mechanics.plant import Plant, Reason
from sim.site import Site
from sim.units import SECOND, Us


@pytest.mark.parametrize(("opening", "start_deg", "speed"), [(False, 30.0, -0.3), (True, 10.0, 0.3)])
def test_the_gauge_stands_on_either_side(opening: bool, start_deg: float, speed: float) -> None:
    """A released leaf that swings into the gauge touches it at its place, and the curve is written, whichever way."""
    site = Site(name="Larch Bank")
    plant = Plant(site)
    plant.release(0)
    plant.place_leaf(0, math.radians(start_deg), speed)
    plant.place_obstacle(0, 0, force_gauge(math.radians(20.0), 2.0, opening=opening))
    stop = plant.run_to(Us(10 * SECOND))
    assert stop.reason is Reason.CONTACT
    assert math.degrees(plant.angle(0)) == pytest.approx(20.0, abs=0.1)
    end = Us(stop.time + SECOND)
    while plant.now < end:
        plant.run_to(end)
    curve = plant.gauge_curve()
    assert curve.peak_n > 50.0
    assert curve.time_s[0] == 0.0


def test_a_leaf_that_goes_the_other_way_passes() -> None:
    """The gauge is one-sided: a closing leaf is not met by the one that is set for opening."""
    plant = Plant(Site(name="Larch Bank"))
    plant.release(0)
    plant.place_leaf(0, math.radians(18.0), -0.3)
    plant.place_obstacle(0, 0, force_gauge(math.radians(20.0), 2.0, opening=True))
    assert plant.run_to(Us(SECOND)).reason is Reason.REACHED
    assert len(plant.gauge_curve().time_s) == 0
