"""Leaves and the cover strip: what hangs on the posts, how it hangs, and what lies under it."""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from sim.site.access import NotFitted
from sim.site.fields import (
    ENGINEERING,
    PRACTICE,
    SURVEY,
    Frozen,
    choice,
    optional_quantity,
    part,
    quantity,
    required_quantity,
    required_words,
)
from sim.units import LEAVES, LeafName


class Fitting(Frozen):
    """A lock, a sign, a planter: a mass at one place of the leaf."""

    name: str = required_words("what it is", 60)
    mass_kg: float = required_quantity("kg", 0.0, 200.0, "its mass", SURVEY, typical=10.0)
    along_m: float = required_quantity("m", 0.0, 6.0, "from the hinge line, along the leaf", SURVEY, typical=1.9)


class Bearings(Frozen):
    """A thrust bearing below and two journals: from these the dry friction of the hinges is calculated."""

    friction: float = quantity(0.15, "-", 0.0, 1.0, "coefficient of friction; 0.15 greased, 0.5 dry", PRACTICE)
    thrust_radius_m: float = quantity(0.015, "m", 0.001, 0.1, "mean radius of the thrust bearing", SURVEY)
    journal_radius_m: float = quantity(0.010, "m", 0.001, 0.1, "radius of the pins", SURVEY)
    spacing_m: float = quantity(1.4, "m", 0.2, 4.0, "lower hinge to upper hinge", SURVEY)


class Ridge(Frozen):
    """Something under the leaf that it may rub on or jam on: heaved ground, a ridge of ice, a stone."""

    name: str = required_words("what it is", 60)
    at_deg: float = required_quantity("°", -10.0, 130.0, "leaf angle over its crest", SURVEY, typical=60.0)
    reach_deg: float = required_quantity("°", 1.0, 90.0, "from the crest to its foot", SURVEY, typical=15.0)
    height_m: float = required_quantity("m", 0.0, 0.3, "crest above level ground", SURVEY, typical=0.05)
    radius_m: float = required_quantity("m", 0.1, 6.0, "from the hinge line", SURVEY, typical=1.9)


class HingeGap(Frozen):
    """The gap between the leaf's heel and the post, which closes while the leaf opens."""

    post_m: float = quantity(0.07, "m", 0.0, 0.5, "hinge line to the face of the post behind it", SURVEY)
    heel_along_m: float = quantity(0.06, "m", 0.0, 0.5, "heel corner of the shut leaf, towards the opening", SURVEY)
    heel_across_m: float = quantity(
        0.05, "m", 0.0, 0.5, "heel corner of the shut leaf, towards the side it opens to", SURVEY
    )


class Post(Frozen):
    """The post a leaf hangs on."""

    lean: float = quantity(
        0.0, "-", -0.05, 0.05, "metres it leans towards the opening for each metre of height; sound 0.002", PRACTICE
    )


class Leaf(Frozen):
    """One leaf on its hinge line. Angle 0 is shut, positive towards open."""

    width_m: float = quantity(2.0, "m", 0.5, 6.0, "hinge line to closing edge", SURVEY)
    hinge_offset_m: float = quantity(
        0.0, "m", -0.3, 0.5, "hinge line to the leaf's own edge beside it; negative behind the hinge line", SURVEY
    )
    height_m: float = quantity(1.8, "m", 0.5, 4.0, "lower edge to upper edge", SURVEY)
    mass_kg: float = quantity(120.0, "kg", 10.0, 1500.0, "mass with infill, fittings listed below apart", SURVEY)
    fittings: Annotated[tuple[Fitting, ...], Field(strict=False)] = part(
        "masses at one place, beside that mass", most=10, default=()
    )
    thickness_m: float = quantity(0.06, "m", 0.01, 0.3, "thickness of the frame", SURVEY)
    solidity: float = quantity(0.4, "-", 0.01, 1.0, "share of the area that stops wind; 1 is boarded", SURVEY)
    hinge_friction_n_m: float = quantity(
        5.2,
        "N·m",
        0.0,
        400.0,
        "dry friction of the hinges as measured; 5.2 is a sound 120 kg leaf; bearings, where given, count instead",
        "calculated from bearing friction of 0.15",
    )
    bearings: Bearings | None = part("the hinges' bearings, to calculate their dry friction from", default=None)
    hinge_viscous_n_m_s: float = quantity(
        2.0, "N·m·s/rad", 0.0, 200.0, "friction that grows with speed at 20 °C: grease and air", ENGINEERING
    )
    grease_per_k: float = quantity(
        0.04, "1/K", 0.0, 0.15, "by what share the grease stiffens for each kelvin colder", ENGINEERING
    )
    hinge_tilt_deg: float = quantity(
        0.0, "°", -5.0, 5.0, "lean of the hinge line; positive makes the leaf swing to its low point", SURVEY
    )
    hinge_tilt_towards_deg: float = quantity(
        0.0, "°", -180.0, 180.0, "leaf angle of that low point; 0 is shut, 90 open", SURVEY
    )
    hinge_rise_m: float = quantity(
        0.0, "m", -0.2, 0.2, "how far rising hinges lift the leaf over 90°; negative lowers it", SURVEY
    )
    sag_m: float = quantity(0.0, "m", 0.0, 0.2, "how far the closing edge hangs down; usual up to 0.005", PRACTICE)
    open_stop_deg: float = quantity(92.0, "°", 45.0, 130.0, "where the open stop stands, or should stand", SURVEY)
    open_stop_fitted: bool = choice(True, "whether there is an open stop: true or false")
    closed_stop_fitted: bool = choice(True, "whether there is a closed stop: true or false")
    stop_stiffness_n_m_rad: float = quantity(
        40_000.0, "N·m/rad", 5_000.0, 2_000_000.0, "stiffness of both stops, about the hinge", ENGINEERING
    )
    stop_damping_n_m_s_rad: float = quantity(
        1_500.0, "N·m·s/rad", 0.0, 100_000.0, "damping of both stops, about the hinge", ENGINEERING
    )
    stop_restitution: float | None = optional_quantity(
        "-", 0.02, 1.0, "speed after the stops for speed before them", "by their damping", ENGINEERING
    )
    edge_give_n_m: float | None = optional_quantity(
        "N/m", 20_000.0, 1e8, "stiffness of the frame at its closing edge, level with the drive", "rigid", ENGINEERING
    )
    edge_twist_n_m_rad: float | None = optional_quantity(
        "N·m/rad", 1_000.0, 1e8, "stiffness of the frame against twisting", "rigid", ENGINEERING
    )
    ground_clearance_m: float = quantity(0.06, "m", 0.0, 0.5, "gap under the lower edge at the hinge", SURVEY)
    ground: Annotated[tuple[Ridge, ...], Field(strict=False)] = part(
        "what lies under the leaf and may be in its way", most=3, default=()
    )
    hinge_gap: HingeGap = part("the gap behind the leaf at its hinge", default=HingeGap())
    post: Post = part("the post it hangs on", default=Post())
    out_of_square_m: float = quantity(
        0.0, "m", 0.0, 0.1, "by how much its diagonals differ; the closing edge hangs down with it", PRACTICE
    )
    hinge_bolts_n_m: float = quantity(
        60.0,
        "N·m",
        0.0,
        300.0,
        "torque its hinge bolts still hold; below 30 the hinges move in their holes",
        PRACTICE,
    )
    secured: Literal["free", "propped", "roped"] = choice(
        "free", "how it is kept from swinging while somebody works on it: free, propped or roped"
    )
    expansion_per_k: float = quantity(
        12e-6, "1/K", 0.0, 1e-4, "growth of its length for each kelvin; steel 12e-6, aluminium 23e-6", "textbook"
    )
    sun_gain_c: float = quantity(
        15.0, "°C", 0.0, 60.0, "how much warmer than the air it gets in full sun; pale 15, dark 40", ENGINEERING
    )


NO_LEAF: Final = Leaf()
"""What fills the second place of an array where no inactive leaf hangs. It stands for nothing."""


class Leaves(Frozen):
    """Both leaves, or the active one alone, which then shuts against a closing post."""

    active: Leaf = part("the active leaf", default=Leaf())
    inactive: Leaf | NotFitted = part(
        "the inactive leaf, or not fitted: then a closing post stands at the end of the opening", default=Leaf()
    )

    @property
    def fitted(self) -> tuple[LeafName, ...]:
        """Which leaves hang here, in the order every array keeps; with one leaf, the active one."""
        return LEAVES[:1] if self.inactive == "not fitted" else LEAVES

    @property
    def hung(self) -> tuple[Leaf, ...]:
        """The leaves that hang here, as `fitted` names them."""
        return self.pair[: len(self.fitted)]

    @property
    def pair(self) -> tuple[Leaf, Leaf]:
        """(active, inactive), in the order every array keeps; without an inactive leaf, something in its place."""
        return (self.active, NO_LEAF if self.inactive == "not fitted" else self.inactive)


class CoverStrip(Frozen):
    """The strip that covers the meeting gap: it belongs to a leaf and to a face."""

    carrier: LeafName = choice("active", "which leaf carries the strip: active or inactive")
    face: Literal["inside", "outside"] = choice("inside", "which face it lies on: inside or outside")
    overlap_m: float = quantity(
        0.05, "m", 0.005, 0.2, "how far it reaches over the other leaf when both are shut", PRACTICE
    )
    thickness_m: float = quantity(0.005, "m", 0.001, 0.05, "thickness of the strip", PRACTICE)
