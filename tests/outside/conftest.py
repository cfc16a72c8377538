"""The same two leaves in another engine: what the outside checks hold the plant against."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import mujoco
import pytest

BALL = 0.05
"""Radius of the round tip of the gauge in the other engine [m]."""

CONTACT = 1e-4
"""Time constant of the contact between leaf and tip there [s]: the tip sinks in by less than 0.02 mm."""


@pytest.fixture(scope="session")
def two_leaves() -> Callable[..., Any]:
    """Make the two leaves of `two_leaves.xml` for MuJoCo: (model, data) for a step [s] and what the site has.

    `tilt` is the lean of both hinge lines along the opening [rad]: the active leaf falls shut and the inactive one
    falls open. `gauge` is the leaf angle [rad] and the distance from the hinge [m] at which the gauge is first
    touched; without one it stands out of reach. `grip` is the time constant of dry friction that sticks [s].
    """
    text = (Path(__file__).parent / "two_leaves.xml").read_text(encoding="utf-8")

    def made(
        step: float,
        *,
        friction: tuple[float, float] = (0.0, 0.0),
        viscous: tuple[float, float] = (0.0, 0.0),
        mass: float = 120.0,
        width: float = 2.0,
        thickness: float = 0.06,
        opening: float = 4.02,
        tilt: float = 0.0,
        gauge: tuple[float, float] | None = None,
        spring: float = 5e5,
        tip_mass: float = 0.05,
        grip: float = 0.02,
    ) -> Any:
        angle, radius = gauge if gauge else (-1.5, 1.9)
        sin, cos = math.sin(angle), math.cos(angle)
        off = thickness / 2 + BALL
        words = {
            "step": step,
            "lean": 9.81 * math.sin(tilt),
            "down": -9.81 * math.cos(tilt),
            "friction": friction[0],
            "other_friction": friction[1],
            "viscous": viscous[0],
            "other_viscous": viscous[1],
            "grip": grip,
            "half": width / 2,
            "skin": thickness / 2,
            "mass": mass,
            "opening": opening,
            "tip_x": radius * cos + off * sin,
            "tip_y": radius * sin - off * cos,
            "way_x": sin,
            "way_y": -cos,
            "spring": spring,
            "ball": BALL,
            "tip_mass": tip_mass,
            "contact": CONTACT,
        }
        model = mujoco.MjModel.from_xml_string(text.format(**words))
        return model, mujoco.MjData(model)

    return made
