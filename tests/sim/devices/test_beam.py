"""When a body stands in a beam: by hand."""

from __future__ import annotations

import math

import pytest

from sim.devices.sightline import Box, crossing, cut_at
from sim.mechanics.yard import SHAPES
from sim.site import Beam

ACROSS = ((0.0, 0.0), (4.0, 0.0))


def test_a_box_in_the_middle() -> None:
    """Half a metre wide at 2 m: cut from 1.75 to 2.25 m. By hand."""
    assert crossing(ACROSS, 0.25, Box(2.0, 0.0, 0.5, 0.2, 1.0)) == pytest.approx((1.75, 2.25))
    assert crossing(ACROSS[::-1], 0.25, Box(2.5, 0.0, 0.5, 0.2, 1.0)) == pytest.approx((1.25, 1.75))


def test_over_under_and_beside() -> None:
    """Too low, raised above the light, beside it, beyond its end: not cut."""
    assert crossing(ACROSS, 0.25, Box(2.0, 0.0, 0.5, 0.2, 0.24)) is None
    assert crossing(ACROSS, 0.25, Box(2.0, 0.0, 0.5, 0.2, 1.0, bottom=0.26)) is None
    assert crossing(ACROSS, 0.25, Box(2.0, 0.11, 0.5, 0.2, 1.0)) is None
    assert crossing(ACROSS, 0.25, Box(4.3, 0.0, 0.5, 0.2, 1.0)) is None


def test_an_end_inside_the_box() -> None:
    """A body over the receiver cuts up to the receiver. By hand."""
    assert crossing(ACROSS, 0.25, Box(4.1, 0.0, 0.5, 0.2, 1.0)) == pytest.approx((3.85, 4.0))


def test_a_turned_box() -> None:
    """A unit square on its corner is √2 wide on its diagonal. By hand."""
    found = crossing(ACROSS, 0.25, Box(2.0, 0.0, 1.0, 1.0, 1.0, turn=math.pi / 4))
    assert found == pytest.approx((2.0 - math.sqrt(0.5), 2.0 + math.sqrt(0.5)))


@pytest.mark.parametrize(("lying", "height", "cuts"), [(True, 0.25, True), (True, 0.7, False), (False, 0.65, True)])
def test_the_test_body_lying_and_standing(lying: bool, height: float, cuts: bool) -> None:
    """A low beam (0.2 to 0.3 m, facts 2.2) sees the 700 × 300 × 200 mm body lying; one at 0.7 m does not."""
    beam = Beam(height_m=height)
    shape = SHAPES["test body"]
    size = shape.lying_m if lying else shape.size_m
    found = cut_at(beam, Box(1.2, beam.y_m, *size))
    assert found == (pytest.approx(1.2) if cuts else None)
