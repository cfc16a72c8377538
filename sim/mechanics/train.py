"""From a site's drive to its part of the kernel's constants: motor, train and what is between train and leaf."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import numpy.typing as npt

from sim.kernel import layout as at
from sim.kernel.trigonometry import direction
from sim.mechanics import leaf, motor, oil, thermal
from sim.mechanics.mounting import Mounting
from sim.site.models import AnyDrive, AnyMotor, ArticulatedArm, Drive, HydraulicRam, InductionMotor, Underground

Slots = npt.NDArray[np.float64]

FREE: Final = 1e9
"""An output that never comes to an end."""


def write(block: Slots, drive: AnyDrive, opens_inside: bool, air_c: float, open_rad: float) -> None:
    """Write one drive into its leaf's block; `open_rad` is where its leaf's open stop should stand."""
    mounting = Mounting.of(drive, opens_inside)
    block[at.POST_X], block[at.POST_Y] = mounting.post
    block[at.BRACKET_ALONG], block[at.BRACKET_OFFSET] = mounting.bracket
    block[at.CRANK], block[at.LINK], block[at.ELBOW] = mounting.crank_m, mounting.link_m, mounting.elbow
    block[at.RUN_SIGN] = 1.0
    match drive:
        case Drive():
            _ram(block, drive, mounting, open_rad)
            _output(block, motor.travel_per_turn(drive), motor.efficiency(drive), drive.stiffness_n_m)
            block[at.DAMPING_OUT], block[at.PLAY] = drive.damping_n_s_m, drive.play_m + drive.bracket_play_m
            block[at.SLIP_LIMIT] = drive.slip_n or 0.0
            _bent(block, drive, mounting, open_rad)
        case HydraulicRam():
            _ram(block, drive, mounting, open_rad)
            _output(block, oil.travel_per_angle(drive), drive.pump_efficiency, oil.stiffness(drive))
            block[at.DAMPING_OUT], block[at.PLAY] = drive.damping_n_s_m, drive.bracket_play_m
            block[at.SLIP_LIMIT] = oil.relief_force(drive)
            _bent(block, drive, mounting, open_rad)
        case ArticulatedArm() | Underground():
            _turned(block, drive, mounting, open_rad)
    block[at.TRAIN_DRAG] = drive.drag_n_m * leaf.grease_factor(air_c, drive.grease_per_k)
    block[at.LEAK] = leak(drive, air_c)
    block[at.PULSES] = drive.pulses_per_turn / (2.0 * math.pi) if drive.sensing.kind == "encoder" else 0.0
    block[at.COUNT_GAIN] = 1.0 - drive.sensing.encoder_slip
    block[at.COUNT_NOISE] = drive.sensing.encoder_wander * block[at.COUNT_GAIN]
    write_motor(block, drive.motor, air_c)


ROD_M: Final = 0.02
"""Diameter of a ram's rod, steel [m]. Engineering value, no source."""

STEEL_N_M2: Final = 210e9
"""Modulus of steel [N/m²]. Textbook."""

GLAND_FRICTION: Final = 0.15
"""Of a rod in its two guides. Engineering value, no source."""


def rod_drag(drive: Drive | HydraulicRam) -> float:
    """Greatest friction of a bent rod in its guides [N].

    To pass, a bow of `rod_bow` times its length L must be pressed straight in the middle, by 48·E·I·bow/L² (beam on
    two supports, textbook); the middle and both ends rub, twice that in all.
    """
    stiff = 48.0 * STEEL_N_M2 * math.pi * ROD_M**4 / 64.0 / drive.stroke_m**2
    return 2.0 * GLAND_FRICTION * stiff * drive.rod_bow


def _bent(block: Slots, drive: Drive | HydraulicRam, mounting: Mounting, open_rad: float) -> None:
    """Where a bent rod binds: most half way, and nothing near both ends of what it travels. What it rubs off is
    driven through the train, at the train's efficiency."""
    travel = abs(mounting.apart(0.0) - mounting.apart(open_rad))
    block[at.BIND] = rod_drag(drive) * block[at.RATIO] * (1.0 + block[at.LOAD_FRICTION])
    block[at.BIND_AT], block[at.BIND_REACH] = 0.5 * travel, 0.3 * travel


def leak(drive: AnyDrive, oil_c: float) -> float:
    """Creep of a hydraulic drive under force [m/(N·s)], oil as warm as `oil_c`; nothing for the others."""
    return oil.creep(drive, oil_c) if isinstance(drive, HydraulicRam) else 0.0


def _output(block: Slots, ratio: float, efficiency: float, stiffness: float) -> None:
    block[at.RATIO], block[at.LOAD_FRICTION], block[at.STIFFNESS_OUT] = ratio, 1.0 / efficiency - 1.0, stiffness


def _ram(block: Slots, drive: Drive | HydraulicRam, mounting: Mounting, open_rad: float) -> None:
    shut = mounting.apart(0.0)
    longest = drive.retracted_m + drive.stroke_m
    block[at.LINKAGE], block[at.SHUT_OUTPUT] = at.RAM, shut
    if mounting.apart(open_rad) < shut:
        block[at.OUTPUT_LEAST], block[at.OUTPUT_MOST] = shut - longest, shut - drive.retracted_m
    else:
        block[at.RUN_SIGN] = -1.0
        block[at.OUTPUT_LEAST], block[at.OUTPUT_MOST] = drive.retracted_m - shut, longest - shut


def _turned(block: Slots, drive: ArticulatedArm | Underground, mounting: Mounting, open_rad: float) -> None:
    _output(block, 1.0 / drive.gear_ratio, drive.gear_efficiency, drive.stiffness_n_m_rad)
    block[at.DAMPING_OUT], block[at.PLAY] = drive.damping_n_m_s_rad, math.radians(drive.play_deg)
    block[at.SLIP_LIMIT] = drive.slip_n_m or 0.0
    block[at.OUTPUT_LEAST], block[at.OUTPUT_MOST] = -FREE, FREE
    block[at.LINKAGE] = at.PIN
    if isinstance(drive, ArticulatedArm):
        block[at.LINKAGE] = at.ARM
        knee_x, knee_y = mounting.knee(0.0)
        block[at.SHUT_OUTPUT] = direction(knee_y - mounting.post[1], knee_x - mounting.post[0])
        least, most = mounting.reach(open_rad)
        back, forth = mounting.turns(least, most)
        block[at.REACH_LEAST], block[at.REACH_MOST], block[at.CRANK_MIDDLE] = least, most, 0.5 * (back + forth)
        block[at.RUN_SIGN] = 1.0 if mounting.turns(0.0, open_rad)[1] > 1e-9 else -1.0


def write_motor(block: Slots, model: AnyMotor, air_c: float) -> None:
    """Write one motor, and the air round it [°C]."""
    block[at.ROTOR] = model.rotor_kg_m2
    block[at.RESISTANCE] = model.terminal_ohm
    block[at.WHOLE_WINDING] = 0.0 if model.winding_open else 1.0
    block[at.OHM_PER_KELVIN] = thermal.COPPER_PER_K * motor.copper_share(model)
    block[at.AIR_C] = air_c
    second = thermal.second(model.warmth)
    block[at.WARMING : at.WARMING + 4] = second.keeps
    block[at.HEATING : at.HEATING + 2] = second.winding_k_j, second.case_k_j
    block[at.CUT_OUT_OPENS_C] = model.warmth.cut_out_opens_c
    block[at.CUT_OUT_CLOSES_C] = model.warmth.cut_out_closes_c
    if isinstance(model, InductionMotor):
        fitted = model.capacitor_uf if model.fitted_uf is None else model.fitted_uf
        share = fitted / model.capacitor_uf
        block[at.MAINS], block[at.INDUCTANCE] = 1.0, 1.0
        block[at.NO_LOAD_TORQUE] = model.drag_n_m
        block[at.SYNCHRONOUS], block[at.PULL_OUT] = model.synchronous_rad_s, model.pull_out_n_m
        block[at.PULL_OUT_SLIP], block[at.RATED_V] = model.pull_out_slip, model.rated_v
        block[at.FORWARD], block[at.BACKWARD] = motor.field_shares(share)
        block[at.IDLE_A], block[at.STALL_A] = model.idle_a, model.stall_a
        return
    block[at.MOTOR_CONSTANT] = model.emf_v_s_rad
    block[at.INDUCTANCE] = model.inductance_h
    block[at.NO_LOAD_TORQUE] = model.constant_v_s_rad * model.no_load_a
    block[at.ROTOR_DRAG] = motor.shorted_drag(model)
