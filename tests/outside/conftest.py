"""What the outside checks share: the same two leaves in another engine, and a leaf to strike a force gauge with."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import mujoco
import numpy as np
import pytest

from sim.kernel.network import DriveNetwork
from sim.mechanics.obstacle import force_gauge
from sim.mechanics.plant import GaugeCurve, Plant, Reason
from sim.site.models import Drive, Drives, Edge, Leaf, Leaves, Motor, Site, Warmth, Weather
from sim.units import Us

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


MEETING: Final = 0.5
"""Leaf angle at which the gauge stands [rad]."""

CALM: Final = Weather(temperature_c=20.0)
"""No wind; grease and windings as the figures for 20 °C say."""


def run_on(plant: Plant, seconds: float) -> Plant:
    """The plant after a time [s], whatever it met."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass
    return plant


@dataclass(frozen=True, slots=True)
class Rig:
    """One leaf let go by its drive, without friction: 120 kg, 2.0 m, J = 160 kg·m², 40 kg at the tip."""

    site: Site

    def strike(
        self, speed: float, *, stiffness: float = 5e5, thrust: float = 0.0, edge: Edge | None = None
    ) -> GaugeCurve:
        """Strike the gauge with the tip, 2.0 m from the hinge, at a speed [m/s]; a thrust [N] goes on at the tip."""
        plant = Plant(self.site)
        plant.set_edge(0, edge)
        plant.release(0)
        plant.place_leaf(0, MEETING, -speed / 2.0)
        plant.push(0, -thrust)
        plant.place_obstacle(0, 0, force_gauge(MEETING, 2.0, stiffness_n_m=stiffness))
        return run_on(plant, 0.12).gauge_curve()

    def press(self, radius: float, thrust: float) -> tuple[float, float]:
        """Press the gauge at a radius [m] with a steady thrust at the tip [N]: force [N], how far it gives [m].

        Hinges that brake with the speed let it come to rest.
        """
        leaf = self.site.leaves.active.model_copy(update={"hinge_viscous_n_m_s": 200.0})
        plant = Plant(self.site.model_copy(update={"leaves": Leaves(active=leaf, inactive=leaf)}))
        plant.set_edge(0, None)
        plant.release(0)
        plant.place_leaf(0, MEETING)
        plant.push(0, -thrust)
        plant.place_obstacle(0, 0, force_gauge(MEETING, radius))
        run_on(plant, 60.0)
        return plant.contact_force(0), (MEETING - plant.angle(0)) * radius

    def torque(self, meeting: float, weather: Weather = CALM, **leaf: float) -> float:
        """What turns a leaf shut that rests on a gauge at an angle [rad], read as force times radius [N·m]."""
        lasting = self.site.leaves.active.model_copy(update={"hinge_viscous_n_m_s": 200.0, **leaf})
        site = self.site.model_copy(update={"leaves": Leaves(active=lasting, inactive=lasting), "weather": weather})
        plant = Plant(site)
        plant.set_edge(0, None)
        plant.release(0)
        plant.place_leaf(0, meeting)
        plant.place_obstacle(0, 0, force_gauge(meeting, 2.0))
        return run_on(plant, 60.0).contact_force(0) * 2.0

    def stalled(self, loop_ohm: float = 0.0, winding_c: float = 20.0) -> float:
        """Current of a motor held by the stop, on 24 V behind a cable, its winding kept at a temperature [A]."""
        keeps = Motor(warmth=Warmth(winding_j_k=1e9, case_j_k=1e9))
        plant = Plant(self.site.model_copy(update={"drives": Drives(active=Drive(motor=keeps))}))
        plant.set_network(DriveNetwork(voc=(24.0, 24.0), z=((0.0, 0.0), (0.0, 0.0)), rth=(loop_ohm, 0.0)))
        plant.warm_motor(0, winding_c, winding_c)
        plant.command(0, -1.0, limit_a=100.0)
        return -run_on(plant, 5.0).motor_current(0)

    def idling(self) -> float:
        """Speed of a motor that turns for nothing, its gear's key sheared, on 24 V [rad/s]."""
        plant = Plant(self.site)
        plant.set_network(DriveNetwork(voc=(24.0, 24.0), z=((0.0, 0.0), (0.0, 0.0))))
        plant.shear(0)
        plant.command(0, 1.0, limit_a=100.0)
        return run_on(plant, 5.0).motor_speed(0)

    @staticmethod
    def time_of_peak(curve: GaugeCurve) -> float:
        """Time of the greatest raw force [s], between samples by a parabola through the three highest."""
        top = int(np.argmax(curve.raw_n))
        before, peak, after = curve.raw_n[top - 1 : top + 2]
        return float(curve.time_s[top] + 0.0005 * (before - after) / (before - 2 * peak + after))


@pytest.fixture(scope="session")
def rig() -> Rig:
    """As thin as a leaf may be, so that its thickness adds nothing."""
    leaf = Leaf(thickness_m=0.01, hinge_friction_n_m=0.0, hinge_viscous_n_m_s=0.0)
    return Rig(Site(name="Quince Lane, invented", weather=CALM, leaves=Leaves(active=leaf, inactive=leaf)))


@pytest.fixture
def ran() -> Callable[[Plant, float], Plant]:
    """Run a plant on for a time [s]."""
    return run_on
