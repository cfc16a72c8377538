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
OFFSET: Final = 12  # output of the train at which its spring was slack with the leaf shut [m, or rad of a crank]
FORCE_OUT: Final = 13  # what the train gives out [N, or N·m of a crank], positive opens
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
KEYED: Final = 25  # the gear's key is whole, truth; a sheared one lets the motor turn for nothing
GROUND_FORCE: Final = 26  # how hard the leaf presses on the ground [N]
OHM: Final = 27  # the winding as warm as it is [ohm]
WINDING_C: Final = 28  # [°C]
CASE_C: Final = 29  # [°C]
HEAT: Final = 30  # into the winding since the last whole second [J]
CUT_OUT: Final = 31  # truth: the thermal cut-out is open
MOTOR_TORQUE: Final = 32  # of the field on the rotor [N·m], positive opens
LOAD: Final = 33  # of the train on the rotor [N·m], positive against opening
RUBBING: Final = 34  # dry friction of motor and train at the rotor [N·m]
FIRST_OBSTACLE: Final = 35

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
WIND: Final = LAP_SIDE + 12  # wind of this step as a share of its mean
STATE_SIZE: Final = LAP_SIDE + 13

# -- constants, per leaf -----------------------------------------------------------------------------------

INERTIA: Final = 0  # of the leaf about its hinge [kg·m²]
WIDTH: Final = 1  # hinge to closing edge [m]
HINGE_FRICTION: Final = 2  # dry [N·m]
HINGE_VISCOUS: Final = 3  # [N·m·s/rad]
TILT_ALONG: Final = 4  # closing torque of a hinge that leans along the shut leaf, at 90 degrees [N·m]
TILT_ACROSS: Final = 5  # opening torque of a hinge that leans across it, at 0 degrees [N·m]
RISE_TORQUE: Final = 6  # closing torque of a rising hinge [N·m]
WIND_FACTOR: Final = 7  # torque per square of the normal wind speed [N·m·s²/m²]
WIND_ALONG: Final = 8  # wind along the shut leaf, hinge to edge [m/s]
WIND_ACROSS: Final = 9  # wind towards the side the leaf opens to [m/s]
OPEN_STOP: Final = 10  # [rad]
CLOSED_STOP: Final = 11  # [rad]
STOP_STIFFNESS: Final = 12  # [N·m/rad]
STOP_DAMPING: Final = 13  # [N·m·s/rad]
LINKAGE: Final = 14  # what is between train and leaf: RAM, ARM or PIN
RUN_SIGN: Final = 15  # +1 the output opens by running in (or by turning the leaf's way), -1 by running out
POST_X: Final = 16  # rear pivot or crank's axis, along the shut leaf [m]
POST_Y: Final = 17  # the same, towards the side the leaf opens to [m]
BRACKET_ALONG: Final = 18  # front pivot [m]
BRACKET_OFFSET: Final = 19  # front pivot [m]
SHUT_OUTPUT: Final = 20  # ram: pivot to pivot with the leaf shut [m]; arm: the crank's angle then [rad]
CRANK: Final = 21  # [m]
LINK: Final = 22  # [m]
ELBOW: Final = 23  # which way the arm bends, +1 or -1
STIFFNESS_OUT: Final = 24  # of train, pivots and brackets at the output [N/m, or N·m/rad]
DAMPING_OUT: Final = 25  # beside it [N·s/m, or N·m·s/rad]
PLAY: Final = 26  # of a worn nut or gear, at the output [m, or rad]
SLIP_LIMIT: Final = 27  # at which a limiter or relief valve gives way [N, or N·m]; 0 none
LEAK: Final = 28  # of oil past its valves, as output speed for force [m/(N·s), or rad/(N·m·s)]
RATIO: Final = 29  # output for the motor's angle [m/rad, or rad/rad]
LOAD_FRICTION: Final = 30  # friction of the train as a share of the load: 1/efficiency - 1
OUTPUT_LEAST: Final = 31  # output at which it is run out to its end
OUTPUT_MOST: Final = 32  # output at which it is run in to its end
ROTOR: Final = 33  # rotor inertia [kg·m²]
MOTOR_CONSTANT: Final = 34  # [V·s/rad = N·m/A]
RESISTANCE: Final = 35  # of the winding with brushes at 20 °C [ohm]
INDUCTANCE: Final = 36  # [H]
NO_LOAD_TORQUE: Final = 37  # dry friction of the motor itself [N·m]
ROTOR_DRAG: Final = 38  # what shorted turns brake with [N·m·s/rad]
PULSES: Final = 39  # encoder pulses per radian of the motor
COUNT_GAIN: Final = 40  # share of the motor's turning that the encoder sees
COUNT_NOISE: Final = 41  # by which that share wanders
EDGE_STIFFNESS: Final = 42  # of the soft edge [N/m]; 0 not fitted
EDGE_TRAVEL: Final = 43  # how far it gives before it is hard [m]
EDGE_TRIP: Final = 44  # force at which it switches [N]
WHOLE_WINDING: Final = 45  # truth: the winding is not broken
OHM_PER_KELVIN: Final = 46  # of the winding, share of its resistance at 20 °C
AIR_C: Final = 47  # air round the motor [°C]
WARMING: Final = 48  # four, by rows: what is left of (winding, case) over the air after a second
HEATING: Final = 52  # two: kelvin that a joule in the winding adds to winding and case within a second
CUT_OUT_OPENS_C: Final = 54  # [°C]
CUT_OUT_CLOSES_C: Final = 55  # [°C]
MAINS: Final = 56  # truth: an induction motor on the mains
SYNCHRONOUS: Final = 57  # speed of its field [rad/s]
PULL_OUT: Final = 58  # greatest torque at its rated voltage and right capacitor [N·m]
PULL_OUT_SLIP: Final = 59  # slip there
RATED_V: Final = 60  # [V]
FORWARD: Final = 61  # share of its field that turns with it
BACKWARD: Final = 62  # share that turns against it
IDLE_A: Final = 63  # [A]
STALL_A: Final = 64  # [A]
TRAIN_DRAG: Final = 65  # dry friction of gear and seals whatever the load, at the motor [N·m]
GROUND_COUNT: Final = 66  # ridges the leaf may rub on
GROUND_LIFT: Final = 67  # how far the leaf rises per radian [m/rad]
REACH_LEAST: Final = 68  # leaf angles between which an arm is clear of its dead points [rad]
REACH_MOST: Final = 69
CRANK_MIDDLE: Final = 70  # middle of what its crank turns there, from where it stands shut [rad]
BIND: Final = 71  # friction of a bent rod where it binds hardest, at the motor [N·m]
BIND_AT: Final = 72  # output at which it does
BIND_REACH: Final = 73  # how far to either side it still binds, as an output
FIRST_RIDGE: Final = 74
RIDGE_SLOTS: Final = 4
RIDGE_SIZE: Final = 5
LEAF_CONSTANTS: Final = FIRST_RIDGE + RIDGE_SLOTS * RIDGE_SIZE

# inside one ridge's block
RIDGE_AT: Final = 0  # leaf angle over its crest [rad]
RIDGE_REACH: Final = 1  # from crest to foot [rad]
RIDGE_HEIGHT: Final = 2  # crest above foot [m]
RIDGE_RADIUS: Final = 3  # where it is rubbed, from the hinge [m]
RIDGE_CLEAR: Final = 4  # how far the shut leaf hangs clear of level ground there [m]

# what LINKAGE may be
RAM: Final = 0.0
ARM: Final = 1.0
PIN: Final = 2.0

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
GUSTING: Final = FREE_PARTS + 9  # deviation of the gusts as a share of the mean wind; 0 steady
CONSTANTS_SIZE: Final = FREE_PARTS + 10

# -- network: what the two motors see of the wiring ----------------------------------------------------------

OPEN_CIRCUIT: Final = 0  # two: volts at each bridge with no motor current
COUPLING: Final = 2  # four, by rows: volts lost at a bridge per ampere drawn by a bridge [ohm]
TRANSFER: Final = 6  # two: bridge to motor, +1 healthy, -1 swapped
LINE_LOAD: Final = 8  # two: load across the motor's lines [S]
LOOP: Final = 10  # two: resistance of the motor's loop without its winding [ohm]
CLOSED: Final = 12  # two: truth, the loop is whole
MAINS_V: Final = 14  # two: volts at a mains motor; 0 not fed
NETWORK_SIZE: Final = 16

# -- whole numbers -------------------------------------------------------------------------------------------

TIME: Final = 0  # the state's instant [µs], a whole millisecond
WATCH_COUNT: Final = 1
FIRED: Final = 2  # index of the watch that held on arrival; -1 none
EVENTS: Final = 3  # bits of what was touched and left, see `contact`
RECORDING: Final = 4  # truth
ROWS: Final = 5  # rows in the recording buffer
ROW_LIMIT: Final = 6  # rows that fit
FIRST_KNOT: Final = 7  # index of the first knot given; a knot every KNOT_US
WHOLE_SIZE: Final = 8

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
KNOT_US: Final = 250_000
"""Gusts and the wander of a noisy encoder are straight between knots this far apart [µs]."""
KNOTS: Final = 1_024
"""Knots given to one advance, per stream."""
GUST_STREAM: Final = 0
ENCODER_STREAM: Final = 1  # the active leaf's; the inactive one's follows
STREAMS: Final = 3
WARM_US: Final = 1_000_000
"""Temperatures are brought up to date at whole seconds [µs], so that resting can be skipped to the same bits."""
TINY: Final = 1e-12
"""Currents and forces below this are nothing: a decay that never ends would never rest."""
