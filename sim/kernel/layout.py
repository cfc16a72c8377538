"""Named slots of the kernel's flat arrays: what stands where, in which unit.

All arrays are flat, so that one source runs on lists (interpreted) and on arrays (compiled). A leaf's block
begins at `leaf * LEAF_STATE` in the state and at `leaf * LEAF_CONSTANTS` in the constants; what both leaves
share comes behind both blocks. Truths are 0.0 and 1.0; times inside the state are whole microseconds.
"""

from __future__ import annotations

from typing import Any, Final, TypeAlias

from sim.units import SCAN, STEP

Floats: TypeAlias = Any
"""A flat array of float64, or a list of float with the same content."""

Whole: TypeAlias = Any
"""A flat array of int64, or a list of int with the same content."""

# -- state, per leaf ---------------------------------------------------------------------------------------

ANGLE: Final = 0  # leaf angle [rad], 0 shut, positive opening
SPEED: Final = 1  # leaf speed [rad/s]
TURNED: Final = 2  # motor angle [rad], positive opening
TURNING: Final = 3  # motor speed [rad/s]
CURRENT: Final = 4  # motor current [A], positive makes opening torque
DUTY: Final = 5  # what the bridge has slewed to, -1 to 1
EFFECTIVE: Final = 6  # duty after the current limit, -1 to 1
TARGET: Final = 7  # what the bridge slews to, -1 to 1
SLEW: Final = 8  # [1/s]
LIMIT: Final = 9  # current limit of the power stage [A]
BRAKE: Final = 10  # motor shorted through the bridge, truth
ENGAGED: Final = 11  # manual release locked, truth
RAM_OFFSET: Final = 12  # screw travel at which the ram's spring was slack with the leaf shut [m]
RAM_FORCE: Final = 13  # force in the ram [N], positive opens
PUSH: Final = 14  # torque of a hand [N·m], positive opens
COUNTED: Final = 15  # motor angle as the encoder counts it [rad], in the board's opening sense
WIRED: Final = 16  # +1 motor connected the right way round, -1 the other; last known
COUNT: Final = 17  # encoder pulses
COUNT_TIME: Final = 18  # when the count last changed [µs]
CONTACT: Final = 19  # sum of forces on obstacles [N]
STOP_TORQUE: Final = 20  # torque of the stops on the leaf [N·m], positive opens
EDGE_FORCE: Final = 21  # force on the soft edge [N]
EDGE_PRESSED: Final = 22  # truth, with hysteresis
SENSE: Final = 23  # +1 the board last drove in its opening sense, -1 in its closing sense
OBSTACLES: Final = 24  # how many slots are taken
FIRST_OBSTACLE: Final = 25

OBSTACLE_SLOTS: Final = 4
OBSTACLE_SIZE: Final = 11

# inside one obstacle's block
TAKEN: Final = 0  # truth
AT_ANGLE: Final = 1  # leaf angle at first touch [rad]
AT_RADIUS: Final = 2  # distance of the touched point from the hinge [m]
OPENS_INTO: Final = 3  # truth: met while opening; else while closing
STIFFNESS: Final = 4  # [N/m]
DAMPING: Final = 5  # [N·s/m]
GAUGE: Final = 6  # truth: this is the force gauge
AT_EDGE: Final = 7  # truth: the leaf's soft edge is in between
TOUCHED: Final = 8  # truth, with hysteresis
FORCE: Final = 9  # force on it now [N]
PEAK: Final = 10  # greatest force on it [N]

LEAF_STATE: Final = FIRST_OBSTACLE + OBSTACLE_SLOTS * OBSTACLE_SIZE

# -- state, shared -----------------------------------------------------------------------------------------

LAP_SIDE: Final = 2 * LEAF_STATE  # 0 tips clear of each other, +1 lapped in order, -1 lapped in the wrong order
LAP_FORCE: Final = LAP_SIDE + 1  # force between the leaves at the strip [N]
LAP_EASE: Final = LAP_SIDE + 2  # depth at which the strip was met, which makes no force [m]
GAUGE_RAW: Final = LAP_SIDE + 3  # force on the gauge's spring [N]
GAUGE_SHOWN: Final = LAP_SIDE + 4  # the same behind its amplifier [N]
GAUGE_STEP: Final = LAP_SIDE + 5  # length of the last step [s]
GAUGE_START: Final = LAP_SIDE + 6  # last instant before the first touch [µs]; -1 while untouched
GAUGE_SAMPLES: Final = LAP_SIDE + 7  # samples on the curve
GAUGE_RAW_PEAK: Final = LAP_SIDE + 8  # [N]
GAUGE_SHOWN_PEAK: Final = LAP_SIDE + 9  # [N]
GAUGE_LAST: Final = LAP_SIDE + 10  # force on the gauge's spring at the step before [N]
GAUGE_ON: Final = LAP_SIDE + 11  # truth: a gauge stands
STATE_SIZE: Final = LAP_SIDE + 12

# -- constants, per leaf -----------------------------------------------------------------------------------

INERTIA: Final = 0  # of the leaf about its hinge [kg·m²]
WIDTH: Final = 1  # hinge to closing edge [m]
HINGE_FRICTION: Final = 2  # dry [N·m]
HINGE_VISCOUS: Final = 3  # [N·m·s/rad]
TILT_TORQUE: Final = 4  # closing torque of a leaning hinge at 90 degrees [N·m]
WIND_FACTOR: Final = 5  # torque per square of the normal wind speed [N·m·s²/m²]
WIND_ALONG: Final = 6  # wind along the shut leaf, hinge to edge [m/s]
WIND_ACROSS: Final = 7  # wind towards the inside [m/s]
OPEN_STOP: Final = 8  # [rad]
CLOSED_STOP: Final = 9  # [rad]
STOP_STIFFNESS: Final = 10  # [N·m/rad]
STOP_DAMPING: Final = 11  # [N·m·s/rad]
POST_ACROSS: Final = 12  # rear pivot [m]
POST_INSIDE: Final = 13  # rear pivot [m]
BRACKET_ALONG: Final = 14  # front pivot [m]
BRACKET_OFFSET: Final = 15  # front pivot [m]
SHUT_LENGTH: Final = 16  # pivot to pivot with the leaf shut [m]
RAM_STIFFNESS: Final = 17  # [N/m]
RAM_DAMPING: Final = 18  # [N·s/m]
SCREW: Final = 19  # travel of the ram per motor angle [m/rad]
LOAD_FRICTION: Final = 20  # friction of the train as a share of the load: 1/efficiency - 1
SCREW_LEAST: Final = 21  # screw travel at which the ram is run out to its end [m]
SCREW_MOST: Final = 22  # screw travel at which it is run in to its end [m]
ROTOR: Final = 23  # rotor inertia [kg·m²]
MOTOR_CONSTANT: Final = 24  # [V·s/rad = N·m/A]
RESISTANCE: Final = 25  # of the winding [ohm]
INDUCTANCE: Final = 26  # [H]
NO_LOAD_TORQUE: Final = 27  # dry friction of the motor itself [N·m]
PULSES: Final = 28  # encoder pulses per radian of the motor
EDGE_STIFFNESS: Final = 29  # of the soft edge [N/m]; 0 not fitted
EDGE_TRAVEL: Final = 30  # how far it gives before it is hard [m]
EDGE_TRIP: Final = 31  # force at which it switches [N]
LEAF_CONSTANTS: Final = 32

# -- constants, shared -------------------------------------------------------------------------------------

FREE_PARTS: Final = 2 * LEAF_CONSTANTS  # parts of a step with nothing stiff near
CONTACT_PARTS: Final = FREE_PARTS + 1  # parts of a step with a stiff contact near
LAP_OVERLAP: Final = FREE_PARTS + 2  # how far the strip reaches over the other leaf [m]
LAP_FREE_LEAF: Final = FREE_PARTS + 3  # which leaf is free to move when the other is shut, 0 or 1
LAP_STIFFNESS: Final = FREE_PARTS + 4  # [N/m]
LAP_DAMPING: Final = FREE_PARTS + 5  # [N·s/m]
LAP_PLAY: Final = FREE_PARTS + 6  # play between strip and leaf [m]
LAP_THICKNESS: Final = FREE_PARTS + 7  # by how much a leaf in the wrong order stays out [m]
GAUGE_TIME: Final = FREE_PARTS + 8  # time constant of the gauge's amplifier [s]
CONSTANTS_SIZE: Final = FREE_PARTS + 9

# -- network: what the two motors see of the wiring ----------------------------------------------------------

OPEN_CIRCUIT: Final = 0  # two: volts at each bridge with no motor current
COUPLING: Final = 2  # four, by rows: volts lost at a bridge per ampere drawn by a bridge [ohm]
TRANSFER: Final = 6  # two: bridge to motor, +1 healthy, -1 swapped
LEAK: Final = 8  # two: load across the motor's lines [S]
LOOP: Final = 10  # two: resistance of the motor's loop without its winding [ohm]
CLOSED: Final = 12  # two: truth, the loop is whole
NETWORK_SIZE: Final = 14

# -- whole numbers -------------------------------------------------------------------------------------------

TIME: Final = 0  # the state's instant [µs], a whole millisecond
WATCH_COUNT: Final = 1
FIRED: Final = 2  # index of the watch that held on arrival; -1 none
EVENTS: Final = 3  # bits of what was touched and left, see `contact`
RECORDING: Final = 4  # truth
ROWS: Final = 5  # rows in the recording buffer
ROW_LIMIT: Final = 6  # rows that fit
WHOLE_SIZE: Final = 7

# -- a watch -------------------------------------------------------------------------------------------------

WATCH_WHAT: Final = 0
WATCH_LEAF: Final = 1
WATCH_THRESHOLD: Final = 2
WATCH_TABLE: Final = 3  # where its table begins
WATCH_TABLE_SIZE: Final = 4
WATCH_TABLE_START: Final = 5  # count of the first bin
WATCH_TABLE_PITCH: Final = 6  # counts per bin
WATCH_SIZE: Final = 7

# -- a recorded row ------------------------------------------------------------------------------------------

ROW_SIZE: Final = 8
"""Time [µs], both angles [rad], both currents [A], supply [V], both contact forces [N]."""

# -- why an advance ended --------------------------------------------------------------------------------------

REACHED: Final = 0
WATCHED: Final = 1
CONTACTED: Final = 2
FULL: Final = 3

# -- grids and limits ------------------------------------------------------------------------------------------

STEP_US: Final[int] = STEP
STEP_S: Final = 0.001
SCAN_US: Final[int] = SCAN
CURVE_SAMPLES: Final = 8_000
"""The gauge's curve ends after this many milliseconds: a 5 s window and room behind it (facts 1.3)."""
TINY: Final = 1e-12
"""Currents and forces below this are nothing: a decay that never ends would never rest."""
