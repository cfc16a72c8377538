"""From a site to the kernel's flat array of constants."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import numpy.typing as npt

from sim.errors import DataError
from sim.kernel import layout as at
from sim.mechanics import lap, leaf, motor
from sim.mechanics.obstacle import GAUGE_TIME
from sim.mechanics.ram import Ram
from sim.mechanics.wind import wind_torque
from sim.site.models import Drive, Edge, Leaf, Site, Weather
from sim.units import LEAVES

CONTACT_PARTS: Final = 4
"""Parts of a millisecond while something stiff is near: a 40 kg tip on 500 N/mm then turns by 0.028 rad a part."""

FINE_ENOUGH: Final = 0.5
"""The fastest oscillation of motor, ram and leaf may turn by this in a part [rad]; at 2 the method would fail."""

MOST_PARTS: Final = 64
"""Finer than this no step is divided."""

Slots = npt.NDArray[np.float64]


def constants_of(site: Site) -> Slots:
    """All constants of a site, as `sim.kernel.layout` orders them. Raises DataError for a drive too stiff to step."""
    slots = np.zeros(at.CONSTANTS_SIZE, dtype=np.float64)
    for index in (0, 1):
        block = slots[index * at.LEAF_CONSTANTS : (index + 1) * at.LEAF_CONSTANTS]
        _leaf(block, site.leaves.pair[index])
        _drive(block, site.drives.pair[index])
        wind(block, site.weather, index)
        device = site.guards.device(f"{LEAVES[index]} edge")
        edge(block, device if isinstance(device, Edge) else None)
    parts = max(_parts(slots, index) for index in (0, 1))
    slots[at.FREE_PARTS] = float(parts)
    slots[at.CONTACT_PARTS] = float(max(CONTACT_PARTS, parts))
    _strip(slots, site)
    slots[at.GAUGE_TIME] = GAUGE_TIME
    return slots


def _leaf(block: Slots, model: Leaf) -> None:
    block[at.INERTIA] = leaf.inertia(model.mass_kg, model.width_m, model.thickness_m)
    block[at.WIDTH] = model.width_m
    block[at.HINGE_FRICTION] = model.hinge_friction_n_m
    block[at.HINGE_VISCOUS] = model.hinge_viscous_n_m_s
    tilt = math.radians(model.hinge_tilt_deg)
    block[at.TILT_TORQUE] = leaf.tilt_torque(model.mass_kg, model.width_m, tilt, math.pi / 2.0)
    block[at.WIND_FACTOR] = wind_torque(1.0, model.width_m, model.height_m, model.solidity)
    block[at.OPEN_STOP] = math.radians(model.open_stop_deg)
    block[at.CLOSED_STOP] = 0.0
    block[at.STOP_STIFFNESS] = model.stop_stiffness_n_m_rad
    block[at.STOP_DAMPING] = model.stop_damping_n_m_s_rad


def _drive(block: Slots, drive: Drive) -> None:
    ram = Ram.of(drive)
    shut = ram.length(0.0)
    block[at.POST_ACROSS], block[at.POST_INSIDE] = ram.across_m, ram.inside_m
    block[at.BRACKET_ALONG], block[at.BRACKET_OFFSET] = ram.along_m, ram.offset_m
    block[at.SHUT_LENGTH] = shut
    block[at.RAM_STIFFNESS] = drive.stiffness_n_m
    block[at.RAM_DAMPING] = drive.damping_n_s_m
    block[at.SCREW] = motor.travel_per_turn(drive)
    block[at.LOAD_FRICTION] = 1.0 / motor.efficiency(drive) - 1.0
    block[at.SCREW_LEAST] = shut - (drive.retracted_m + drive.stroke_m)
    block[at.SCREW_MOST] = shut - drive.retracted_m
    block[at.ROTOR] = drive.motor.rotor_kg_m2
    block[at.MOTOR_CONSTANT] = drive.motor.constant_v_s_rad
    block[at.RESISTANCE] = drive.motor.resistance_ohm
    block[at.INDUCTANCE] = drive.motor.inductance_h
    block[at.NO_LOAD_TORQUE] = drive.motor.constant_v_s_rad * drive.motor.no_load_a
    block[at.PULSES] = drive.pulses_per_turn / (2.0 * math.pi)


def wind(block: Slots, weather: Weather, index: int) -> None:
    """Write the steady wind into one leaf's block, in the leaf's own axes."""
    bearing = math.radians(weather.wind_from_deg)
    along = -weather.wind_m_s * math.sin(bearing)
    block[at.WIND_ALONG] = along if index == 0 else -along
    block[at.WIND_ACROSS] = -weather.wind_m_s * math.cos(bearing)


def edge(block: Slots, device: Edge | None) -> None:
    """Write a soft edge, or none, into one leaf's block."""
    block[at.EDGE_STIFFNESS] = device.stiffness_n_m if device else 0.0
    block[at.EDGE_TRAVEL] = device.working_travel_m if device else 0.0
    block[at.EDGE_TRIP] = device.trip_force_n if device else 0.0


def _strip(slots: Slots, site: Site) -> None:
    free = lap.free_leaf(site)
    covered = site.leaves.pair[1 - free]
    slots[at.LAP_OVERLAP] = site.cover_strip.overlap_m
    slots[at.LAP_FREE_LEAF] = float(free)
    slots[at.LAP_STIFFNESS] = lap.STIFFNESS
    slots[at.LAP_DAMPING] = lap.DAMPING
    slots[at.LAP_PLAY] = lap.PLAY
    slots[at.LAP_THICKNESS] = site.cover_strip.thickness_m + covered.thickness_m


def _parts(slots: Slots, index: int) -> int:
    """Into how many parts a step must be divided for this drive's fastest oscillation and strongest damping."""
    block = slots[index * at.LEAF_CONSTANTS : (index + 1) * at.LEAF_CONSTANTS]
    lever = math.hypot(block[at.POST_ACROSS], block[at.POST_INSIDE])
    loose = block[at.SCREW] ** 2 / block[at.ROTOR] + lever**2 / block[at.INERTIA]
    for parts in range(1, MOST_PARTS + 1):
        dt = at.STEP_S / parts
        winding = block[at.INDUCTANCE] + block[at.RESISTANCE] * dt
        fastest = max(
            block[at.MOTOR_CONSTANT] / math.sqrt(block[at.ROTOR] * winding),
            math.sqrt(block[at.RAM_STIFFNESS] * loose),
            block[at.RAM_DAMPING] * loose,
        )
        if fastest * dt <= FINE_ENOUGH:
            return parts
    raise DataError(
        f"drives.{LEAVES[index]}: a ram of {block[at.RAM_STIFFNESS]:g} N/m and {block[at.RAM_DAMPING]:g} N·s/m on a "
        f"rotor of {block[at.ROTOR]:g} kg·m² swings {fastest / (2 * math.pi):.0f} times a second; allowed: "
        f"{FINE_ENOUGH * MOST_PARTS / at.STEP_S / (2 * math.pi):.0f}"
    )
