"""Beams and bodies on random scenes, against shapely."""

from __future__ import annotations

import math
import random

import pytest
from shapely import LineString, Point, affinity, box

from sim.devices.sightline import Box, crossing, cut_at
from sim.site import Beam


def test_turned_boxes_cut_where_shapely_says() -> None:
    """A level beam passes through a turned box where shapely's intersection begins and ends."""
    rng = random.Random(1)
    hits = 0
    for _ in range(4000):
        ends = tuple((rng.uniform(-5, 5), rng.uniform(-5, 5)) for _ in range(2))
        body = Box(
            x=rng.uniform(-4, 4),
            y=rng.uniform(-4, 4),
            along=rng.uniform(0.05, 3.0),
            across=rng.uniform(0.05, 3.0),
            height=rng.uniform(0.1, 2.0),
            bottom=rng.choice([0.0, 0.05, 0.5]),
            turn=rng.choice([0.0, rng.uniform(-math.pi, math.pi)]),
        )
        height = rng.uniform(0.05, 1.5)
        plan = box(
            body.x - body.along / 2, body.y - body.across / 2, body.x + body.along / 2, body.y + body.across / 2
        )
        plan = affinity.rotate(plan, body.turn, origin=(body.x, body.y), use_radians=True)
        shadow = LineString(ends).intersection(plan)
        found = crossing(ends, height, body)  # type: ignore[arg-type]
        if shadow.is_empty or not body.bottom <= height <= body.bottom + body.height:
            assert found is None
            continue
        hits += 1
        distances = sorted(Point(ends[0]).distance(Point(point)) for point in shadow.coords)
        assert found == pytest.approx((distances[0], distances[-1]), abs=1e-9)
    assert hits > 200


def test_a_beam_across_the_opening() -> None:
    """A square body on the plan cuts a site's beam where shapely finds the middle of its shadow."""
    rng = random.Random(2)
    hits = 0
    for _ in range(2000):
        emitter, receiver = rng.uniform(-1, 0), rng.uniform(3, 5)
        if rng.random() < 0.5:
            emitter, receiver = receiver, emitter
        beam = Beam(
            y_m=rng.uniform(-1, 3), height_m=rng.uniform(0.1, 1.0), emitter_x_m=emitter, receiver_x_m=receiver
        )
        x, y = rng.uniform(-2, 6), rng.uniform(-1.5, 3.5)
        size = (rng.uniform(0.1, 2.0), rng.uniform(0.1, 2.0), rng.uniform(0.1, 1.8))
        plan = box(x - size[0] / 2, y - size[1] / 2, x + size[0] / 2, y + size[1] / 2)
        shadow = LineString([(emitter, beam.y_m), (receiver, beam.y_m)]).intersection(plan)
        found = cut_at(beam, Box(x, y, *size))
        if shadow.is_empty or size[2] < beam.height_m:
            assert found is None
        else:
            hits += 1
            assert found == pytest.approx(shadow.centroid.x, abs=1e-9)
    assert hits > 200
