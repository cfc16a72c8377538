"""Radio as a budget in decibels: what is sent, what the way takes, what the aerial makes of it, what must be left.

Losses of the open field are those of free space, or of flat ground where that loses more. A quarter wave of wire is
an aerial; a stub of it is hardly one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from sim.site import Receiver

LIGHT_M_S: Final = 299_792_458.0

DIPOLE_DBI: Final = 2.15
"""A half-wave dipole against a radiator the same in all directions [dB]: between effective radiated power and what
Friis takes. Textbook value."""

HAND_HEIGHT_M: Final = 1.2
"""A transmitter in a hand [m]. CP, no source."""

NEEDED_DB: Final = 10.0
"""A word must stand this far above noise and interference together [dB]. CP, no source."""

FADING_DB: Final = 4.0
"""Deviation of one press's level: reflections come and go [dB]. CP, no source."""

WIRE_WAVE_OHM: Final = 300.0
"""Wave resistance of a thin wire by itself [Ω]: 60·(ln(2·l/a) − 1) for 173 mm of 0.5 mm wire. CP."""

QUARTER_WAVE_OHM: Final = 36.5
"""Radiation resistance of a quarter wave of wire above ground [Ω]. Textbook value."""

INPUT_OHM: Final = 50.0
"""The receiver's input [Ω]. CP, no source."""


def wavelength_m(frequency_mhz: float) -> float:
    """Length of a wave [m]."""
    return LIGHT_M_S / (frequency_mhz * 1e6)


def free_space_db(distance_m: float, frequency_mhz: float) -> float:
    """20·log10(4·π·d/λ) [dB]: Friis; the same as ITU-R P.525."""
    return 20.0 * math.log10(4.0 * math.pi * distance_m / wavelength_m(frequency_mhz))


def flat_ground_db(distance_m: float, one_m: float, other_m: float) -> float:
    """40·log10(d) − 20·log10(h·h) [dB]: two ways over flat ground that nearly cancel; textbook, far away only."""
    return 40.0 * math.log10(distance_m) - 20.0 * math.log10(one_m * other_m)


def open_field_db(distance_m: float, frequency_mhz: float, height_m: float) -> float:
    """What the open field takes from a transmitter in a hand to an aerial at a height [dB]."""
    far = max(distance_m, 0.5)
    return max(free_space_db(far, frequency_mhz), flat_ground_db(far, HAND_HEIGHT_M, height_m))


def aerial_db(length_mm: float, frequency_mhz: float) -> float:
    """What a wire of a length gives into the receiver, against a quarter wave [dB].

    Effective height tan(k·l/2)/k into a source of its radiation resistance and the reactance −Z·cot(k·l).
    """
    quarter = wavelength_m(frequency_mhz) / 4.0
    return 10.0 * math.log10(_taken(length_mm / 1000.0, quarter) / _taken(quarter, quarter))


def _taken(length_m: float, quarter_m: float) -> float:
    """Power into the receiver for a field of one, in units of its own."""
    turn = math.pi / 2.0 * length_m / quarter_m
    height = math.tan(min(turn, 0.95 * math.pi) / 2.0)
    reactance = -WIRE_WAVE_OHM * math.cos(turn) / math.sin(min(turn, 0.98 * math.pi))
    real = QUARTER_WAVE_OHM * height * height + INPUT_OHM
    return height * height / (real * real + reactance * reactance)


# -- cells -------------------------------------------------------------------------------------------

FRESH_V: Final = 3.05
"""A fresh lithium cell without load [V]. CP, no source."""

_REST_V: Final = ((0.0, 1.9), (0.03, 2.3), (0.1, 2.6), (0.25, 2.85), (0.6, 3.0), (1.0, FRESH_V))
"""A lithium cell without load: (what is left, volts). CP, no source: flat for long, then falling."""

_INNER_OHM: Final = ((0.0, 150.0), (0.03, 45.0), (0.1, 25.0), (0.25, 15.0), (0.6, 11.0), (1.0, 10.0))
"""Its inner resistance by what is left [Ω]. CP, no source."""

SENDING_A: Final = 0.012
"""What a transmitter takes while it sends [A]. CP, no source."""

LEAST_V: Final = 1.75
"""Below this under load it doesn't send [V]. CP, no source."""


def _between(table: tuple[tuple[float, float], ...], at: float) -> float:
    for (low, first), (high, last) in pairwise(table):
        if at <= high:
            return first + (last - first) * (at - low) / (high - low)
    return table[-1][1]


def cell_v(charge: float) -> float:
    """Volts of a cell without load."""
    return _between(_REST_V, charge)


def cell_ohm(charge: float) -> float:
    """Inner resistance of a cell [Ω]."""
    return _between(_INNER_OHM, charge)


def droop_db(charge: float) -> float | None:
    """What a cell takes off the radiated power [dB, not above 0]; None when it can't send at all.

    Amplitude follows the volts that are left above the least.
    """
    fresh = FRESH_V - SENDING_A * cell_ohm(1.0) - LEAST_V
    left = cell_v(charge) - SENDING_A * cell_ohm(charge) - LEAST_V
    return None if left <= 0.0 else 20.0 * math.log10(left / fresh)


# -- the band ---------------------------------------------------------------------------------------

MOST_ON_AIR_SHARE: Final = 0.10
"""Share of any hour that one transmitter may send in this band: ERC/REC 70-03 annex 1, from memory."""

WORD_S: Final = 0.05
"""How long one word takes [s]. CP, no source."""


def most_on_air_s(share: float = MOST_ON_AIR_SHARE) -> float:
    """How long a transmitter may send in an hour [s]."""
    return share * 3600.0


def on_air_s(heartbeat_s: float) -> float:
    """How long a heartbeat sends in an hour [s]."""
    return 3600.0 / heartbeat_s * WORD_S


# -- the budget --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Way:
    """One way from a transmitter to the receiver."""

    erp_dbm: float
    charge: float
    loss_db: float
    """Open field and shading together."""

    def level_dbm(self, receiver: Receiver) -> float | None:
        """Mean level at the receiver; None when nothing is sent."""
        droop = droop_db(self.charge)
        if droop is None:
            return None
        gain = aerial_db(receiver.aerial_mm, receiver.frequency_mhz)
        return self.erp_dbm + DIPOLE_DBI + droop - self.loss_db + gain


def hand_way(erp_dbm: float, charge: float, distance_m: float, receiver: Receiver) -> Way:
    """From a hand at a distance to the receiver."""
    field = open_field_db(distance_m, receiver.frequency_mhz, receiver.aerial_height_m)
    return Way(erp_dbm, charge, field + receiver.shading_db)


def quiet_dbm(receiver: Receiver) -> float:
    """Level with nobody sending: noise and whatever interferes, added as powers [dBm]."""
    total = math.pow(10.0, receiver.noise_dbm / 10.0)
    if receiver.interferer_dbm is not None:
        total += math.pow(10.0, receiver.interferer_dbm / 10.0)
    return 10.0 * math.log10(total)


def is_busy(receiver: Receiver) -> bool:
    """Whether the receiver's busy light is on: something is there though nobody sends a word."""
    return quiet_dbm(receiver) >= receiver.sensitivity_dbm


def margin_db(level_dbm: float | None, receiver: Receiver) -> float | None:
    """How far a level stands above the least that is understood [dB]; below 0 it is lost."""
    if level_dbm is None:
        return None
    return level_dbm - max(receiver.sensitivity_dbm, quiet_dbm(receiver) + NEEDED_DB)


def range_m(erp_dbm: float, charge: float, receiver: Receiver) -> float:
    """How far away its words are still understood, to the half metre [m]; nothing when it doesn't send."""
    reached, step = 0.0, 256.0
    while step >= 0.5:
        margin = margin_db(hand_way(erp_dbm, charge, reached + step, receiver).level_dbm(receiver), receiver)
        if margin is not None and margin >= 0.0:
            reached += step
        step /= 2.0
    return reached
