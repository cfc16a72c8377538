"""From a site to the kernel's flat array of constants."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import numpy.typing as npt

from sim.errors import DataError
from sim.kernel import layout as at
from sim.kernel.contact import HINGE_GIVE
from sim.kernel.linkage import output
from sim.kernel.trigonometry import sin_cos
from sim.mechanics import hanging, lap, leaf, train
from sim.mechanics.obstacle import GAUGE_TIME
from sim.site.models import Edge, Leaf, Site, Weather
from sim.units import LEAVES

CONTACT_PARTS: Final = 4
"""Parts of a millisecond while something stiff is near: a 40 kg tip on 500 N/mm then turns by 0.028 rad a part."""

FINE_ENOUGH: Final = 0.5
"""The fastest oscillation of motor, ram and leaf may turn by this in a part [rad]; at 2 the method would fail."""

MOST_PARTS: Final = 64
"""Finer than this no step is divided."""

NO_OPEN_STOP: Final = 2.3
"""Without an open stop the leaf comes against its own post there [rad], or an arm is stretched out or folded up
before. Common practice, no source."""

NO_CLOSED_STOP: Final = -0.5
"""Without a closed stop it swings through, to here [rad], or as far as an arm lets it. Common practice, no source."""

SECURED: Final = 3_000.0
"""What a prop or a rope holds a leaf with [N·m]: 1500 N at its tip, then it slips. Common practice, no source."""

NO_LAP: Final = -1.0
"""Overlap of a strip that is never met [m]: the tips of the leaves always reach further back than this."""

Slots = npt.NDArray[np.float64]


def constants_of(site: Site) -> Slots:
    """All constants of a site, as `sim.kernel.layout` orders them. Raises DataError for a drive too stiff to step."""
    slots = np.zeros(at.CONSTANTS_SIZE, dtype=np.float64)
    for index in (0, 1):
        block = slots[index * at.LEAF_CONSTANTS : (index + 1) * at.LEAF_CONSTANTS]
        model, inside, air_c = site.leaves.pair[index], site.opens_towards == "inside", site.weather.temperature_c
        _leaf(block, model, air_c)
        train.write(block, site.drives.pair[index], inside, air_c, math.radians(model.open_stop_deg))
        _stops(block, model)
        wind(block, site.weather, index, inside)
        device = site.guards.device(f"{LEAVES[index]} edge")
        edge(block, device if isinstance(device, Edge) else None)
        if index >= len(site.leaves.fitted):
            _absent(block)
    _meeting(slots, site)
    parts = max(_parts(slots, index) for index in (0, 1))
    slots[at.FREE_PARTS] = float(parts)
    slots[at.CONTACT_PARTS] = float(max(CONTACT_PARTS, parts))
    _strip(slots, site)
    slots[at.GAUGE_TIME] = GAUGE_TIME
    slots[at.GUSTING] = gusting(site.weather)
    return slots


def _leaf(block: Slots, model: Leaf, air_c: float) -> None:
    inertia = hanging.inertia(model)
    block[at.INERTIA] = inertia
    block[at.WIDTH] = model.width_m
    block[at.HINGE_FRICTION] = hanging.hinge_friction(model) + (0.0 if model.secured == "free" else SECURED)
    block[at.HINGE_VISCOUS] = model.hinge_viscous_n_m_s * leaf.grease_factor(air_c, model.grease_per_k)
    lean = leaf.GRAVITY * hanging.mass_moment(model) * math.sin(math.radians(model.hinge_tilt_deg))
    towards = math.radians(model.hinge_tilt_towards_deg)
    block[at.TILT_ALONG] = lean * math.cos(towards) + hanging.lean_torque(model)
    block[at.TILT_ACROSS] = lean * math.sin(towards)
    block[at.RISE_TORQUE] = leaf.rising_hinge_torque(hanging.whole_mass(model), model.hinge_rise_m, math.pi / 2.0)
    block[at.WIND_FACTOR] = hanging.wind_factor(model)
    block[at.STOP_STIFFNESS] = model.stop_stiffness_n_m_rad
    block[at.STOP_DAMPING] = model.stop_damping_n_m_s_rad
    if model.stop_restitution is not None:
        block[at.STOP_DAMPING] = leaf.restitution_damping(
            model.stop_restitution, model.stop_stiffness_n_m_rad, inertia
        )
    _ground(block, model)


def _absent(block: Slots) -> None:
    """No leaf hangs here: what fills its place stays put, whatever blows."""
    block[at.HINGE_FRICTION] = SECURED
    block[at.WIND_FACTOR] = 0.0


def _stops(block: Slots, model: Leaf) -> None:
    """Where the leaf's way ends; its drive must stand in the block already."""
    is_arm = block[at.LINKAGE] == at.ARM
    least = max(NO_CLOSED_STOP, block[at.REACH_LEAST]) if is_arm else NO_CLOSED_STOP
    most = min(NO_OPEN_STOP, block[at.REACH_MOST]) if is_arm else NO_OPEN_STOP
    block[at.CLOSED_STOP] = 0.0 if model.closed_stop_fitted else least
    block[at.OPEN_STOP] = math.radians(model.open_stop_deg) if model.open_stop_fitted else most


def _meeting(slots: Slots, site: Site) -> None:
    """Leaves too long for each other: the one that shuts last stays out where its tip meets the other's, or the only
    one where it meets its closing post.

    Shut, both reach along the opening; turned by θ, one reaches W·(1 − cos θ) less.
    """
    short = -hanging.meeting_gap(site, site.weather)
    if short <= 0.0:
        return
    last = LEAVES.index(site.opens_first)
    stop = last * at.LEAF_CONSTANTS + at.CLOSED_STOP
    out = math.acos(1.0 - min(1.0, short / site.leaves.pair[last].width_m))
    slots[stop] = max(float(slots[stop]), out)


def _ground(block: Slots, model: Leaf) -> None:
    """Ridges, and level ground itself where the leaf hangs down to it."""
    ridges = [
        (math.radians(r.at_deg), math.radians(r.reach_deg), r.height_m, r.radius_m, _clearance(model, r.radius_m))
        for r in model.ground
    ]
    at_edge = _clearance(model, model.width_m)
    if at_edge < 0.0 or model.hinge_rise_m < 0.0:
        ridges.append((0.0, 2.0 * math.pi, 0.0, model.width_m, at_edge))
    block[at.GROUND_COUNT] = float(len(ridges))
    block[at.GROUND_LIFT] = model.hinge_rise_m / (math.pi / 2.0)
    for index, ridge in enumerate(ridges):
        first = at.FIRST_RIDGE + index * at.RIDGE_SIZE
        block[first : first + at.RIDGE_SIZE] = ridge


def _clearance(model: Leaf, radius_m: float) -> float:
    """How far the shut leaf's lower edge hangs clear of level ground at a radius [m]."""
    return model.ground_clearance_m - hanging.droop(model) * radius_m / model.width_m


def wind(block: Slots, weather: Weather, index: int, opens_inside: bool) -> None:
    """Write the mean wind into one leaf's block, in the leaf's own axes."""
    speed = hanging.mean_wind(weather)
    bearing = math.radians(weather.wind_from_deg)
    along = -speed * math.sin(bearing)
    across = -speed * math.cos(bearing)
    block[at.WIND_ALONG] = along if index == 0 else -along
    block[at.WIND_ACROSS] = across if opens_inside else -across


def gusting(weather: Weather) -> float:
    """Deviation of the gusts as a share of the mean wind; nothing in a calm."""
    return weather.gust_intensity if hanging.mean_wind(weather) > 0.0 else 0.0


def edge(block: Slots, device: Edge | None) -> None:
    """Write a soft edge, or none, into one leaf's block."""
    block[at.EDGE_STIFFNESS] = device.stiffness_n_m if device else 0.0
    block[at.EDGE_TRAVEL] = device.working_travel_m if device else 0.0
    block[at.EDGE_TRIP] = device.trip_force_n if device else 0.0


def _strip(slots: Slots, site: Site) -> None:
    """The strip between two leaves; one alone has nothing to lap."""
    strip = site.cover_strip
    if strip == "not fitted":
        slots[at.LAP_OVERLAP] = NO_LAP
        return
    free = lap.free_leaf(site)
    covered = site.leaves.pair[1 - free]
    slots[at.LAP_OVERLAP] = strip.overlap_m
    slots[at.LAP_FREE_LEAF] = float(free)
    slots[at.LAP_STIFFNESS] = lap.STIFFNESS
    slots[at.LAP_DAMPING] = lap.DAMPING
    slots[at.LAP_PLAY] = lap.PLAY
    slots[at.LAP_THICKNESS] = strip.thickness_m + covered.thickness_m


def _parts(slots: Slots, index: int) -> int:
    """Into how many parts a step must be divided for this drive's fastest oscillation and strongest damping."""
    block = slots[index * at.LEAF_CONSTANTS : (index + 1) * at.LEAF_CONSTANTS]
    loose = block[at.RATIO] ** 2 / block[at.ROTOR] + _longest_lever(block) ** 2 / block[at.INERTIA]
    for parts in range(1, MOST_PARTS + 1):
        dt = at.STEP_S / parts
        winding = block[at.INDUCTANCE] + block[at.RESISTANCE] * dt
        fastest = max(
            block[at.MOTOR_CONSTANT] / math.sqrt(block[at.ROTOR] * winding),
            math.sqrt(block[at.STIFFNESS_OUT] * loose),
            block[at.DAMPING_OUT] * loose,
            _steepest(block) / block[at.ROTOR],
            _roughest(block) * math.sqrt(HINGE_GIVE / block[at.INERTIA]),
        )
        if fastest * dt <= FINE_ENOUGH:
            return parts
    raise DataError(
        f"drives.{LEAVES[index]}: a train of {block[at.STIFFNESS_OUT]:g} N/m (or N·m/rad) with damping "
        f"{block[at.DAMPING_OUT]:g} on a rotor of {block[at.ROTOR]:g} kg·m² swings "
        f"{fastest / (2 * math.pi):.0f} times a second; allowed: "
        f"{FINE_ENOUGH * MOST_PARTS / at.STEP_S / (2 * math.pi):.0f}"
    )


def _roughest(block: Slots) -> float:
    """How steeply the ground under a leaf rises at most, its own rise counted [m/rad]."""
    first = range(at.FIRST_RIDGE, at.FIRST_RIDGE + int(block[at.GROUND_COUNT]) * at.RIDGE_SIZE, at.RIDGE_SIZE)
    slopes = [float(block[ridge + at.RIDGE_HEIGHT] / block[ridge + at.RIDGE_REACH]) for ridge in first]
    return max(slopes) + abs(float(block[at.GROUND_LIFT])) if slopes else 0.0


def _longest_lever(block: Slots) -> float:
    """Greatest lever of the drive between the stops; of an arm as far as it reaches, and beyond."""
    listed = block.tolist()
    is_arm = listed[at.LINKAGE] == at.ARM
    least = listed[at.REACH_LEAST] if is_arm else min(0.0, listed[at.CLOSED_STOP])
    most = listed[at.REACH_MOST] if is_arm else listed[at.OPEN_STOP]
    angles = [least + (most - least) * part / 16 for part in range(17)]
    return max(abs(output(listed, 0, angle, *sin_cos(angle))[1]) for angle in angles)


def _steepest(block: Slots) -> float:
    """How steeply a mains motor's torque falls with its speed [N·m·s/rad]; 0 for other motors."""
    if block[at.MAINS] == 0.0:
        return 0.0
    return float(2.0 * block[at.PULL_OUT] / (block[at.PULL_OUT_SLIP] * block[at.SYNCHRONOUS]))
