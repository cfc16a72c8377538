"""What the two motors see of the wiring: all that the kernel needs of the net until something in it changes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class DriveNetwork:
    """The net as both bridges and both motors see it; index 0 is the active leaf.

    For signed duties D and motor currents i: V = voc − z·I, motor volts = alpha·D·V − rth·i, and the bridges draw
    I = g·D²·V + alpha·D·i.
    """

    voc: Pair
    """Volts at each bridge with nothing drawn by the bridges [V]."""
    z: tuple[Pair, Pair]
    """Volts lost at a bridge (row) per ampere drawn by a bridge (column) [Ω]."""
    alpha: Pair = (1.0, 1.0)
    """Bridge to motor for the present direction: +1 healthy, −1 swapped, 0 open."""
    g: Pair = (0.0, 0.0)
    """Load across the motor's lines [S]."""
    rth: Pair = (0.0, 0.0)
    """Resistance of the motor's loop without its winding [Ω]."""
    closed: tuple[bool, bool] = (True, True)
    """Whether the motor's loop is whole."""
    mains: Pair = (0.0, 0.0)
    """Effective volts at each mains motor; 0 not fed, or no mains motor [V]."""

    def slots(self) -> npt.NDArray[np.float64]:
        """The flat array in the order of `sim.kernel.layout`."""
        return np.array(
            [
                *self.voc,
                *self.z[0],
                *self.z[1],
                *self.alpha,
                *self.g,
                *self.rth,
                float(self.closed[0]),
                float(self.closed[1]),
                *self.mains,
            ],
            dtype=np.float64,
        )


DEAD = DriveNetwork(voc=(0.0, 0.0), z=((0.0, 0.0), (0.0, 0.0)), closed=(False, False))
"""No supply and nothing connected."""
