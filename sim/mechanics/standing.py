"""What can be seen of the plant: places, speeds, currents and forces as they stand. Looking changes nothing."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from sim.kernel import compiler
from sim.kernel import layout as at
from sim.kernel.warming import warm
from sim.mechanics import motor
from sim.mechanics.mounting import Mounting, Point
from sim.site.models import Motor, Site
from sim.units import LEAVES, Us


class GaugeCurve(NamedTuple):
    """What the force gauge wrote, one sample a millisecond; time zero is the first touch."""

    time_s: npt.NDArray[np.float64]
    force_n: npt.NDArray[np.float64]
    """Behind the amplifier: what the instrument shows."""
    raw_n: npt.NDArray[np.float64]
    """On its spring."""
    peak_n: float
    """Greatest shown."""
    raw_peak_n: float


class Commanded(NamedTuple):
    """What a bridge was told."""

    duty: float
    slew_per_s: float
    limit_a: float
    brake: bool


class Standing:
    """The looks at both leaves; `Plant` is what moves them."""

    site: Site
    now: Us
    _state: npt.NDArray[np.float64]
    _constants: npt.NDArray[np.float64]
    _network: npt.NDArray[np.float64]
    _curve: npt.NDArray[np.float64]
    _mountings: tuple[Mounting, ...]
    _names: list[list[str]]

    def _get(self, leaf: int, slot: int) -> float:
        return float(self._state[leaf * at.LEAF_STATE + slot])

    def _put(self, leaf: int, slot: int, value: float) -> None:
        self._state[leaf * at.LEAF_STATE + slot] = value

    def _block(self, leaf: int) -> npt.NDArray[np.float64]:
        return self._constants[leaf * at.LEAF_CONSTANTS : (leaf + 1) * at.LEAF_CONSTANTS]

    def _obstacle(self, leaf: int, slot: int) -> int:
        if leaf not in (0, 1) or not 0 <= slot < at.OBSTACLE_SLOTS:
            raise ValueError(
                f"there is no slot {slot} of leaf {leaf}; slots 0 to {at.OBSTACLE_SLOTS - 1} of leaf 0 and 1"
            )
        return leaf * at.LEAF_STATE + at.FIRST_OBSTACLE + slot * at.OBSTACLE_SIZE

    def angle(self, leaf: int) -> float:
        """Leaf angle [rad], 0 shut."""
        return self._get(leaf, at.ANGLE)

    def speed(self, leaf: int) -> float:
        """Leaf speed [rad/s]."""
        return self._get(leaf, at.SPEED)

    def motor_current(self, leaf: int) -> float:
        """Motor current [A]; positive makes opening torque."""
        return self._get(leaf, at.CURRENT)

    def board_current(self, leaf: int) -> float:
        """Motor current as the board's shunt has it [A]: positive when it drives the way the board last drove."""
        return self._get(leaf, at.CURRENT) * self._get(leaf, at.WIRED) * self._get(leaf, at.SENSE) + 0.0

    def motor_speed(self, leaf: int) -> float:
        """Motor speed [rad/s]; positive opens."""
        return self._get(leaf, at.TURNING)

    def counts(self, leaf: int) -> int:
        """Encoder pulses, up when the motor turns in the board's opening sense."""
        return int(self._get(leaf, at.COUNT))

    def quiet_us(self, leaf: int) -> int:
        """Time since the count last changed [µs]."""
        return self.now - int(self._get(leaf, at.COUNT_TIME))

    def wired(self, leaf: int) -> float:
        """+1 the motor was last driven the way the board took it to be, −1 the other way."""
        return self._get(leaf, at.WIRED)

    def rotor_pulses(self, leaf: int) -> float:
        """How far the rotor has turned [encoder pulses], a part of one and all; nothing counts them here."""
        per_turn = self.site.drives.pair[leaf].pulses_per_turn
        return self._get(leaf, at.TURNED) / (2.0 * math.pi) * per_turn

    def duty(self, leaf: int) -> float:
        """Duty the bridge has slewed to."""
        return self._get(leaf, at.DUTY)

    def commanded(self, leaf: int) -> Commanded:
        """What its bridge was last told, as it reached this motor."""
        duty, slew_per_s, limit_a = (self._get(leaf, slot) for slot in (at.TARGET, at.SLEW, at.LIMIT))
        return Commanded(duty, slew_per_s, limit_a, bool(self._get(leaf, at.BRAKE)))

    def driven(self, leaf: int) -> float:
        """Duty as it acts: less than commanded while the bridge holds its current limit, none in a broken loop."""
        return self._get(leaf, at.EFFECTIVE)

    def ram_force(self, leaf: int) -> float:
        """What the train gives out: force in a ram [N], torque of a crank or pin [N·m]; positive opens."""
        return self._get(leaf, at.FORCE_OUT)

    def drive_points(self, leaf: int) -> tuple[Point, ...]:
        """Pivots of the drive on the plan [m]: on the post, the knee of an arm, on the leaf."""
        side = 1.0 if self.site.opens_towards == "inside" else -1.0
        points = tuple((x, side * y) for x, y in self._mountings[leaf].points(self.angle(leaf)))
        if leaf == 0:
            return points
        width = self.site.opening_width_m
        return tuple((width - x, y) for x, y in points)

    def ram_ends(self, leaf: int) -> tuple[Point, Point]:
        """(post pivot, leaf pivot) on the plan [m]."""
        points = self.drive_points(leaf)
        return points[0], points[-1]

    def winding_c(self, leaf: int) -> float:
        """Winding temperature [°C], at the last whole second."""
        return self._get(leaf, at.WINDING_C)

    def cools_below(self, leaf: int, warmth_c: float) -> int | None:
        """In how many whole seconds a winding without current is cooler than this [°C]; None: not within a day."""
        state, constants = self._state.tolist(), self._constants.tolist()
        for second in range(1, 86_401):
            warm(state, constants, leaf)
            if state[leaf * at.LEAF_STATE + at.WINDING_C] < warmth_c:
                return second
            if state[leaf * at.LEAF_STATE + at.WINDING_C] == constants[leaf * at.LEAF_CONSTANTS + at.AIR_C]:
                return None
        return None

    def case_c(self, leaf: int) -> float:
        """Temperature of the motor's case [°C], at the last whole second."""
        return self._get(leaf, at.CASE_C)

    def winding_ohm(self, leaf: int) -> float:
        """Resistance of winding and brushes as warm as they are [Ω]; a broken winding apart."""
        return self._get(leaf, at.OHM)

    def lead_ohm(self, leaf: int, seed: int) -> float:
        """What an ohmmeter finds at the motor's leads with the rotor as it stands [Ω].

        Worn brushes touch some bars of the commutator well and others hardly; a sound motor shows the same all round.
        """
        model = self.site.drives.pair[leaf].motor
        brush = model.brush_ohm if isinstance(model, Motor) else 0.0
        share = motor.brush_share(seed, LEAVES[leaf], self._get(leaf, at.TURNED)) if brush else 1.0
        return self.winding_ohm(leaf) + brush * (share - 1.0)

    def cut_out_open(self, leaf: int) -> bool:
        """Whether the motor's thermal cut-out is open."""
        return self._get(leaf, at.CUT_OUT) != 0.0

    def ground_force(self, leaf: int) -> float:
        """How hard the leaf presses on the ground [N]."""
        return self._get(leaf, at.GROUND_FORCE)

    def wind_m_s(self) -> float:
        """The wind of this instant [m/s], gusts and all."""
        block = self._block(0)
        return math.hypot(block[at.WIND_ALONG], block[at.WIND_ACROSS]) * float(self._state[at.WIND])

    def limit_switches(self, leaf: int) -> tuple[bool, bool]:
        """Whether the contacts of the open and of the closed limit switch are made; both False without any."""
        sensing = self.site.drives.pair[leaf].sensing
        if sensing.kind != "limit switches" and not sensing.limits_in_motor_lead:
            return False, False
        degrees = math.degrees(self.angle(leaf))
        reached = degrees >= sensing.limit_open_deg, degrees <= sensing.limit_closed_deg
        normally_closed = sensing.limit_contact == "normally closed"
        return reached[0] != normally_closed, reached[1] != normally_closed

    def contact_force(self, leaf: int) -> float:
        """Sum of the forces on things in the leaf's way now [N]."""
        return self._get(leaf, at.CONTACT)

    def slot_force(self, leaf: int, slot: int) -> float:
        """Force on what stands in a slot now [N]."""
        return float(self._state[self._obstacle(leaf, slot) + at.FORCE])

    def peak_force(self, leaf: int, slot: int) -> float:
        """Greatest force on what stands in a slot since it was placed [N]."""
        return float(self._state[self._obstacle(leaf, slot) + at.PEAK])

    def lap_force(self) -> float:
        """Force between the leaves at the cover strip [N]."""
        return float(self._state[at.LAP_FORCE])

    def lap_side(self) -> int:
        """0 tips clear of each other, +1 lapped in order, −1 lapped in the wrong order."""
        return int(self._state[at.LAP_SIDE])

    def touching(self, leaf: int) -> str:
        """What the leaf presses on now: a body's name, `other leaf`, `open stop`, `closed stop`, or nothing.

        Leaves seated at their closed stop in order press on each other through the strip as well; that is seated.
        """
        for slot in range(at.OBSTACLE_SLOTS):
            if self._state[self._obstacle(leaf, slot) + at.TOUCHED]:
                return self._names[leaf][slot]
        pressed, torque = self.lap_force() > 0.0, self._get(leaf, at.STOP_TORQUE)
        if pressed and (self.lap_side() < 0 or torque == 0.0):
            return "other leaf"
        return "open stop" if torque < 0.0 else "closed stop" if torque > 0.0 else ""

    def edge_pressed(self, leaf: int) -> bool:
        """Whether the leaf's soft edge is pressed past its trip force (with hysteresis)."""
        return self._get(leaf, at.EDGE_PRESSED) != 0.0

    def engaged(self, leaf: int) -> bool:
        """Whether the manual release is locked."""
        return self._get(leaf, at.ENGAGED) != 0.0

    def supply_v(self, leaf: int = 0) -> float:
        """The board's supply now, as one leaf's bridge has it [V]."""
        return float(compiler.INTERPRETED.supply(self._state.tolist(), self._network.tolist(), leaf))

    def gauge_curve(self) -> GaugeCurve:
        """What the force gauge wrote since its first touch; empty arrays while untouched."""
        count = int(self._state[at.GAUGE_SAMPLES])
        raw, shown = self._curve[0 : 2 * count : 2].copy(), self._curve[1 : 2 * count : 2].copy()
        peaks = float(self._state[at.GAUGE_SHOWN_PEAK]), float(self._state[at.GAUGE_RAW_PEAK])
        time = np.arange(count, dtype=np.float64) * np.float64(at.STEP_S)
        return GaugeCurve(time, shown, raw, *peaks)
