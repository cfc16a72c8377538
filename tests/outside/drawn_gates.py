"""Gates drawn at random, each by its number: the site, what is asked of it, and both as plain numbers.

The plain numbers are worked out here from the words of the site by the fact sheet's formulas (facts 4, 5.3, 6.1,
6.3), not by the simulator's. Ranges are common practice about the sheet's parameter sets.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import ModuleType
from typing import Any

import numpy as np

from sim.kernel.network import DriveNetwork
from sim.site.models import (
    ArticulatedArm,
    CoverStrip,
    Drive,
    Drives,
    Edge,
    Fitting,
    Leaf,
    Leaves,
    Motor,
    Site,
    Underground,
    Warmth,
    Weather,
)

KINDS = ("ram", "ram", "arm", "ram", "pin")
"""Kinds of drive take turns, leaf by leaf."""

SMOOTH = 5
"""Of SMOOTH + 1 gates, this many have neither play nor gusts."""

COLD = Warmth(winding_j_k=1e9, case_j_k=1e9)
"""Windings that stay at 20 °C."""

LEAST_SPEED = 0.04
"""Tip speed that every driven leaf must keep [m/s]: one that all but stalls measures nothing but its own margin."""

OTHER_A = 8.0
"""What the other motor may draw meanwhile [A]."""


@dataclass(frozen=True)
class Asked:
    """What both leaves are asked to do: angle at which they stand [rad], duty, its slew [1/s]."""

    start: tuple[float, float]
    target: tuple[float, float]
    slew: tuple[float, float]


@dataclass(frozen=True)
class Blow:
    """A gauge in the way of one closing leaf; a soft edge is fitted or not."""

    leaf: int
    angle: float
    radius: float
    edge: Edge | None


@dataclass(frozen=True)
class Gate:
    """One draw."""

    number: int
    site: Site
    net: DriveNetwork
    opening: Asked
    closing: Asked
    blow: Blow

    @property
    def is_smooth(self) -> bool:
        """Whether it has neither play nor gusts: the smooth pieces know neither."""
        return self.number % (SMOOTH + 1) != SMOOTH


def plain(pieces: ModuleType, gate: Gate, asked: Asked) -> Any:
    """Both leaves as the smooth pieces want them."""
    return tuple(_side(pieces, gate.site, index, asked) for index in (0, 1))


def _side(pieces: ModuleType, site: Site, index: int, asked: Asked) -> Any:
    leaf, drive = site.leaves.pair[index], site.drives.pair[index]
    near, far = leaf.hinge_offset_m, leaf.width_m
    lock = leaf.fittings[0]
    mass = leaf.mass_kg + lock.mass_kg
    bearing, wind = math.radians(site.weather.wind_from_deg), site.weather.wind_m_s
    panel = leaf.mass_kg * ((far - near) ** 2 / 12 + ((near + far) / 2) ** 2 + leaf.thickness_m**2 / 12)
    moment = leaf.mass_kg * (near + far) / 2 + lock.mass_kg * lock.along_m
    return pieces.Side(
        width=far,
        inertia=panel + lock.mass_kg * lock.along_m**2,
        dry=leaf.hinge_friction_n_m,
        viscous=leaf.hinge_viscous_n_m_s,
        lean=9.81 * moment * math.sin(math.radians(leaf.hinge_tilt_deg)),
        low_point=math.radians(leaf.hinge_tilt_towards_deg),
        rise=mass * 9.81 * leaf.hinge_rise_m / (math.pi / 2),
        sail=0.5 * 1.25 * 1.2 * leaf.height_m * leaf.solidity * (far**2 - near**2) / 2,
        wind=((-1.0 if index == 0 else 1.0) * wind * math.sin(bearing), -wind * math.cos(bearing)),
        open_stop=math.radians(leaf.open_stop_deg),
        stop_k=leaf.stop_stiffness_n_m_rad,
        stop_c=leaf.stop_damping_n_m_s_rad,
        drag=drive.drag_n_m,
        rotor=drive.motor.rotor_kg_m2,
        constant=drive.motor.constant_v_s_rad,
        idle=drive.motor.no_load_a,
        ohm=drive.motor.resistance_ohm,
        henry=drive.motor.inductance_h,
        start=asked.start[index],
        target=asked.target[index],
        slew=asked.slew[index],
        **_train(pieces, drive),
    )


def _train(pieces: ModuleType, drive: Any) -> dict[str, Any]:
    if isinstance(drive, Drive):
        return {
            "linkage": pieces.ram(
                drive.post_across_m, drive.post_inside_m, drive.bracket_along_m, drive.bracket_offset_m
            ),
            "k": drive.stiffness_n_m,
            "c": drive.damping_n_s_m,
            "ratio": drive.screw_lead_m / (2 * math.pi) / drive.gear_ratio,
            "share": 1 / (drive.gear_efficiency * drive.screw_efficiency) - 1,
        }
    linkage = pieces.pin
    if isinstance(drive, ArticulatedArm):
        axis = drive.axis_across_m, drive.axis_inside_m
        linkage = pieces.arm(*axis, drive.crank_m, drive.link_m, drive.bracket_along_m, drive.bracket_offset_m)
    return {
        "linkage": linkage,
        "k": drive.stiffness_n_m_rad,
        "c": drive.damping_n_m_s_rad,
        "ratio": 1 / drive.gear_ratio,
        "share": 1 / drive.gear_efficiency - 1,
    }


def drawn(pieces: ModuleType, number: int) -> Gate:
    """Gate `number`: the first of its series that can stand and that its motors move with ease."""
    for attempt in range(400):
        of = np.random.default_rng([number, attempt])
        try:
            site = _site(of, number)
        except ValueError:
            continue  # the site was refused as one that can't stand
        gate = _asked(of, number, site)
        if _moves(pieces, gate, gate.opening) and _moves(pieces, gate, gate.closing):
            return gate
    raise AssertionError(f"of 400 draws for gate {number} none can stand and move")


def _moves(pieces: ModuleType, gate: Gate, asked: Asked) -> bool:
    """Whether every driven leaf keeps LEAST_SPEED at its tip all the way."""
    for index, side in enumerate(plain(pieces, gate, asked)):
        if not side.target:
            continue
        end = side.open_stop if side.target > 0.0 else gate.blow.angle
        if min(_tip_speed(gate, index, side, angle) for angle in np.linspace(side.start, end, 25)) < LEAST_SPEED:
            return False
    return True


def _tip_speed(gate: Gate, index: int, side: Any, angle: float) -> float:
    """Steady tip speed at an angle [m/s]: current by the load, speed by the volts that are left (facts 5.3)."""
    lever = side.linkage(angle)[1]
    force = max(0.0, side.dry - math.copysign(1.0, side.target) * side.outside(angle)) / lever
    current = (force * side.ratio * (1 + side.share) + side.drag) / side.constant + side.idle
    lost = abs(side.target) * (gate.net.z[index][index] * current + gate.net.z[0][1] * OTHER_A)
    left = abs(side.target) * (gate.net.voc[index] - lost) - (side.ohm + gate.net.rth[index]) * current
    return float(left / side.constant * side.ratio / lever * side.width)


def _asked(of: np.random.Generator, number: int, site: Site) -> Gate:
    """What is asked: one leaf moves and the other stands off, or moves as well, turn and turn about."""
    own, common = of.uniform(0.0, 0.3, 2), of.uniform(0.03, 0.4)
    volts = of.uniform(23.0, 29.0)
    net = DriveNetwork(
        voc=(volts, volts),
        z=((common + own[0], common), (common, common + own[1])),
        rth=(of.uniform(0.1, 1.2), of.uniform(0.1, 1.2)),
    )
    first = int(of.integers(2))
    moving = (True, True) if number % 2 else (first == 0, first == 1)
    leaf = site.leaves.pair[first]
    meeting = of.uniform(0.2, 0.9)
    edge, radius = None, leaf.width_m * of.uniform(0.4, 1.0)
    if number % 4 < 2:
        edge = Edge(stiffness_n_m=10 ** of.uniform(3.9, 4.7), working_travel_m=of.uniform(0.01, 0.04))
        radius = leaf.width_m - of.uniform(0.0, 0.09)
    return Gate(
        number=number,
        site=site,
        net=net,
        opening=_ask(of, moving, first, 0.0, of.uniform(0.15, 0.6), of.uniform(0.5, 1.0, 2)),
        closing=_ask(
            of, moving, first, meeting + of.uniform(0.2, 0.5), of.uniform(0.9, 1.3), -of.uniform(0.35, 1.0, 2)
        ),
        blow=Blow(first, meeting, radius, edge),
    )


def _ask(
    of: np.random.Generator, moving: tuple[bool, bool], first: int, here: float, there: float, duty: Any
) -> Asked:
    """`first` sets off from `here`, the other leaf stands at `there`: clear of the strip at the meeting edges."""
    start = (here, there) if first == 0 else (there, here)
    target = tuple(float(duty[index]) if moving[index] else 0.0 for index in (0, 1))
    ramps = [round(1000 * ramp) / 1000 for ramp in of.uniform(0.5, 2.0, 2)]
    return Asked(start, target, (abs(float(duty[0])) / ramps[0], abs(float(duty[1])) / ramps[1]))


def _site(of: np.random.Generator, number: int) -> Site:
    plays = number % (SMOOTH + 1) == SMOOTH
    leaves = [_leaf(of), _leaf(of)]
    drives: list[Any] = [
        _drive(of, KINDS[(2 * number + index) % len(KINDS)], leaves[index], plays) for index in (0, 1)
    ]
    return Site(
        name="Quince Lane, invented",
        opening_width_m=leaves[0].width_m + leaves[1].width_m + 0.02,
        leaves=Leaves(active=leaves[0], inactive=leaves[1]),
        cover_strip=CoverStrip(overlap_m=0.005),
        drives=Drives(active=drives[0], inactive=drives[1]),
        weather=Weather(
            temperature_c=20.0,
            wind_m_s=of.uniform(0.0, 9.0),
            wind_from_deg=of.uniform(0.0, 360.0),
            gust_intensity=0.25 if plays else 0.0,
        ),
    )


def _leaf(of: np.random.Generator) -> Leaf:
    width = of.uniform(1.2, 3.2)
    return Leaf(
        width_m=width,
        hinge_offset_m=of.uniform(0.0, 0.12),
        height_m=of.uniform(1.0, 2.2),
        mass_kg=width * of.uniform(20.0, 80.0),
        fittings=(Fitting(name="lock", mass_kg=of.uniform(0.0, 12.0), along_m=of.uniform(0.5, 1.0) * width),),
        thickness_m=of.uniform(0.03, 0.12),
        solidity=of.uniform(0.1, 0.7),
        hinge_friction_n_m=of.uniform(1.0, 40.0),
        hinge_viscous_n_m_s=of.uniform(0.0, 40.0),
        hinge_tilt_deg=of.uniform(-1.0, 2.0),
        hinge_tilt_towards_deg=of.uniform(-180.0, 180.0),
        hinge_rise_m=of.uniform(0.0, 0.02),
        open_stop_deg=of.uniform(80.0, 105.0),
        stop_stiffness_n_m_rad=10 ** of.uniform(4.2, 5.2),
        stop_damping_n_m_s_rad=of.uniform(300.0, 3000.0),
    )


def _motor(of: np.random.Generator) -> Motor:
    return Motor(
        resistance_ohm=of.uniform(0.7, 1.5),
        constant_v_s_rad=of.uniform(0.04, 0.075),
        no_load_a=of.uniform(0.5, 1.1),
        inductance_h=of.uniform(0.0007, 0.0014),
        rotor_kg_m2=of.uniform(1.4e-5, 2.8e-5),
        warmth=COLD,
    )


def _drive(of: np.random.Generator, kind: str, leaf: Leaf, plays: bool) -> Drive | ArticulatedArm | Underground:
    common: dict[str, Any] = {"motor": _motor(of), "drag_n_m": of.uniform(0.0, 0.06)}
    if kind == "ram":
        return _ram(of, leaf, common | {"play_m": of.uniform(0.0005, 0.003) if plays else 0.0})
    common |= {
        "gear_ratio": of.uniform(1500.0, 2600.0),
        "gear_efficiency": of.uniform(0.25, 0.6),
        "stiffness_n_m_rad": 10 ** of.uniform(4.2, 5.2),
        "damping_n_m_s_rad": 10 ** of.uniform(2.2, 3.1),
        "play_deg": of.uniform(0.1, 0.6) if plays else 0.0,
    }
    if kind == "pin":
        return Underground(**common)
    size = of.uniform(0.85, 1.3) * of.uniform(0.93, 1.07, 5)
    return ArticulatedArm(
        axis_across_m=0.10 * size[0],
        axis_inside_m=0.20 * size[1],
        crank_m=0.30 * size[2],
        link_m=0.45 * size[3],
        bracket_along_m=0.60 * size[4],
        bracket_offset_m=of.uniform(0.0, 0.06),
        **common,
    )


def _ram(of: np.random.Generator, leaf: Leaf, common: dict[str, Any]) -> Drive:
    """A ram with more stroke than its leaf asks for: its ends are never met."""
    across, inside = of.uniform(0.09, 0.25), of.uniform(0.09, 0.25)
    along, offset = of.uniform(0.35, 0.5) * leaf.width_m, of.uniform(0.0, 0.12)
    turns = np.radians(np.linspace(-3.0, leaf.open_stop_deg + 5.0, 60))
    lengths = np.hypot(
        along * np.cos(turns) - offset * np.sin(turns) + across,
        along * np.sin(turns) + offset * np.cos(turns) - inside,
    )
    return Drive(
        post_across_m=across,
        post_inside_m=inside,
        bracket_along_m=along,
        bracket_offset_m=offset,
        retracted_m=float(lengths.min()) - 0.05,
        stroke_m=float(np.ptp(lengths)) + 0.1,
        gear_ratio=of.uniform(14.0, 26.0),
        gear_efficiency=of.uniform(0.75, 0.95),
        screw_lead_m=of.uniform(0.004, 0.007),
        screw_efficiency=of.uniform(0.25, 0.6),
        stiffness_n_m=10 ** of.uniform(5.3, 6.5),
        damping_n_s_m=10 ** of.uniform(3.0, 4.4),
        **common,
    )
