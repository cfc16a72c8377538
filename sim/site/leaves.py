"""Leaves and the cover strip: what hangs on the posts."""

from __future__ import annotations

from typing import Literal

from sim.site.fields import ENGINEERING, PRACTICE, SURVEY, Frozen, choice, part, quantity
from sim.units import LeafName


class Leaf(Frozen):
    """One leaf on its hinge line. Angle 0 is shut, positive towards open."""

    width_m: float = quantity(2.0, "m", 0.5, 6.0, "hinge line to closing edge", SURVEY)
    height_m: float = quantity(1.8, "m", 0.5, 4.0, "lower edge to upper edge", SURVEY)
    mass_kg: float = quantity(120.0, "kg", 10.0, 1500.0, "mass with infill and fittings", SURVEY)
    thickness_m: float = quantity(0.06, "m", 0.01, 0.3, "thickness of the frame", SURVEY)
    solidity: float = quantity(0.4, "-", 0.01, 1.0, "share of the area that stops wind; 1 is boarded", SURVEY)
    hinge_friction_n_m: float = quantity(
        5.2,
        "N·m",
        0.0,
        400.0,
        "dry friction of the hinges; 5.2 is a sound 120 kg leaf",
        "calculated from bearing friction of 0.15",
    )
    hinge_viscous_n_m_s: float = quantity(
        2.0, "N·m·s/rad", 0.0, 200.0, "friction that grows with speed: grease and air", ENGINEERING
    )
    hinge_tilt_deg: float = quantity(
        0.0, "°", -5.0, 5.0, "lean of the hinge line; positive makes the leaf swing shut by itself", SURVEY
    )
    open_stop_deg: float = quantity(92.0, "°", 45.0, 130.0, "where the open stop stands", SURVEY)
    stop_stiffness_n_m_rad: float = quantity(
        40_000.0, "N·m/rad", 5_000.0, 2_000_000.0, "stiffness of both stops, about the hinge", ENGINEERING
    )
    stop_damping_n_m_s_rad: float = quantity(
        1_500.0, "N·m·s/rad", 0.0, 100_000.0, "damping of both stops, about the hinge", ENGINEERING
    )
    ground_clearance_m: float = quantity(0.06, "m", 0.0, 0.5, "gap under the lower edge", SURVEY)


class Leaves(Frozen):
    """Both leaves."""

    active: Leaf = part("the active leaf", default=Leaf())
    inactive: Leaf = part("the inactive leaf", default=Leaf())

    @property
    def pair(self) -> tuple[Leaf, Leaf]:
        """(active, inactive), in the order every array keeps."""
        return (self.active, self.inactive)


class CoverStrip(Frozen):
    """The strip that covers the meeting gap: it belongs to a leaf and to a face."""

    carrier: LeafName = choice("active", "which leaf carries the strip: active or inactive")
    face: Literal["inside", "outside"] = choice("inside", "which face it lies on: inside or outside")
    overlap_m: float = quantity(
        0.05, "m", 0.005, 0.2, "how far it reaches over the other leaf when both are shut", PRACTICE
    )
    thickness_m: float = quantity(0.005, "m", 0.001, 0.05, "thickness of the strip", PRACTICE)
