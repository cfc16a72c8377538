"""Gates drawn at random, each by its seed, with everything that takes or gives energy in them."""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random
from typing import Any

import pytest

from sim.site.models import (
    ArticulatedArm,
    Drive,
    Drives,
    Fitting,
    HydraulicRam,
    Leaf,
    Leaves,
    Motor,
    Site,
    Underground,
    Weather,
)


def _leaf(draw: Random, width: float) -> Leaf:
    of = draw.uniform
    return Leaf(
        width_m=width,
        hinge_offset_m=of(0.0, 0.1),
        mass_kg=of(50, 300),
        fittings=(Fitting(name="lock", mass_kg=of(0, 15), along_m=of(0.5, width)),),
        thickness_m=of(0.03, 0.1),
        height_m=of(1.0, 2.0),
        solidity=of(0.1, 1.0),
        hinge_friction_n_m=of(0, 25),
        hinge_viscous_n_m_s=of(0, 40),
        hinge_tilt_deg=of(0.0, 2.0),
        hinge_tilt_towards_deg=of(-180, 180),
        hinge_rise_m=of(0.0, 0.03),
        stop_stiffness_n_m_rad=10 ** of(4, 5.7),
        stop_damping_n_m_s_rad=10 ** of(2, 3.5),
    )


def _motor(draw: Random) -> Motor:
    of = draw.uniform
    return Motor(
        resistance_ohm=of(0.8, 1.6),
        constant_v_s_rad=of(0.04, 0.07),
        no_load_a=of(0.3, 1.0),
        inductance_h=10 ** of(-3.7, -2.7),
        rotor_kg_m2=10 ** of(-5, -4),
    )


def _drive(draw: Random, kind: str, play: bool) -> Drive | HydraulicRam | ArticulatedArm | Underground:
    of = draw.uniform
    if kind == "linear ram":
        return Drive(
            motor=_motor(draw),
            drag_n_m=of(0.03, 0.1),
            gear_ratio=of(12, 25),
            gear_efficiency=of(0.7, 0.95),
            screw_efficiency=of(0.25, 0.9),
            post_across_m=of(0.13, 0.18),
            post_inside_m=of(0.13, 0.18),
            bracket_along_m=of(0.8, 0.9),
            bracket_offset_m=of(0.0, 0.08),
            retracted_m=0.62,
            stroke_m=0.5,
            stiffness_n_m=10 ** of(5.5, 6.5),
            damping_n_s_m=10 ** of(3.8, 4.5),
            play_m=of(0.0005, 0.004) if play else 0.0,
            slip_n=of(900, 2500) if play else None,
        )
    if kind == "hydraulic ram":
        return HydraulicRam(
            motor=_motor(draw),
            drag_n_m=of(0.03, 0.1),
            pump_cm3_per_turn=of(0.9, 1.5),
            pump_efficiency=of(0.3, 0.8),
            bore_cm2=of(9, 15),
            relief_bar=of(8, 25),
            leak_cm3_s_bar=of(0.0, 0.05),
            air_share=of(0.0, 0.1),
            retracted_m=0.62,
            stroke_m=0.5,
        )
    train = {
        "motor": _motor(draw),
        "drag_n_m": of(0.03, 0.1),
        "gear_ratio": of(1200, 2600),
        "gear_efficiency": of(0.25, 0.9),
        "stiffness_n_m_rad": 10 ** of(4, 5),
        "damping_n_m_s_rad": 10 ** of(2.5, 3.2),
        "play_deg": of(0.1, 1.0) if play else 0.0,
        "slip_n_m": of(80, 250) if play else None,
    }
    return Underground(**train) if kind == "underground" else ArticulatedArm(**train)


KINDS = ("linear ram", "underground", "articulated arm")
YIELDING = (*KINDS, "hydraulic ram")


@pytest.fixture(scope="session")
def random_gate() -> Callable[..., Site]:
    """A site by its seed: two leaves of one width, whose drives take turns among the kinds; wind from anywhere.

    `play` gives the trains backlash and a limiter that slips, and oil that leaks past its valves is then among the
    kinds. The weather is 20 °C, so that the grease is what the
    site says.
    """

    def drawn(seed: int, *, play: bool = False, wind: float = 12.0) -> Site:
        draw = Random(seed)
        width = draw.uniform(1.5, 2.6)
        kinds = YIELDING if play else KINDS
        drives: Any = [_drive(draw, kinds[(seed + leaf) % len(kinds)], play) for leaf in (0, 1)]
        return Site(
            name="Quince Lane, invented",
            opening_width_m=2 * width + 0.02,
            leaves=Leaves(active=_leaf(draw, width), inactive=_leaf(draw, width)),
            drives=Drives(active=drives[0], inactive=drives[1]),
            weather=Weather(
                temperature_c=20.0,
                wind_m_s=draw.uniform(0, wind),
                wind_from_deg=draw.uniform(0, 360),
                gust_intensity=draw.choice((0.0, 0.3)),
            ),
        )

    return drawn


@pytest.fixture(scope="session")
def inertia() -> Callable[[Leaf], float]:
    """Of a leaf about its hinge line [kg·m²]: a bar from the offset to the width, its thickness, and fittings."""

    def about_the_hinge(leaf: Leaf) -> float:
        near, far = leaf.hinge_offset_m, leaf.width_m
        bar = (far**3 - near**3) / (3 * (far - near)) + leaf.thickness_m**2 / 12
        return leaf.mass_kg * bar + sum(it.mass_kg * it.along_m**2 for it in leaf.fittings)

    return about_the_hinge


@pytest.fixture(scope="session")
def weight_moment() -> Callable[[Leaf], float]:
    """What a leaf's weight would turn about a level hinge line [N·m]; its sine of the lean is the torque there is."""

    def moment(leaf: Leaf) -> float:
        middle = (leaf.hinge_offset_m + leaf.width_m) / 2
        mass = leaf.mass_kg * middle + sum(it.mass_kg * it.along_m for it in leaf.fittings)
        return 9.81 * mass * math.sin(math.radians(leaf.hinge_tilt_deg))

    return moment
