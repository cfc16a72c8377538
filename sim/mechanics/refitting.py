"""The gate becomes another while it stands or moves: what its state must do so that no leaf jumps.

Places, speeds and temperatures stay, unless a stop is set where the leaf was: it then stands against it. What was
strained stays as strained: the spring of a train keeps its force, a slack train stays slack. Fitted one way and back
again at one instant, every bit is as it was before.
"""

from __future__ import annotations

import hashlib
import math
from typing import Final

import numpy as np
import numpy.typing as npt

from sim.kernel import layout as at
from sim.kernel.linkage import output
from sim.kernel.trigonometry import sin_cos

Slots = npt.NDArray[np.float64]

_LINKAGE: Final = (*range(at.LINKAGE, at.ELBOW + 1), at.RATIO, at.REACH_LEAST, at.REACH_MOST, at.CRANK_MIDDLE)
_COUPLING: Final = (*_LINKAGE, at.STIFFNESS_OUT, at.PLAY)
"""What decides how far a train's spring is strained."""

_FOUND: Final = (at.KEYED, at.ENGAGED, at.WINDING_C, at.CASE_C)
"""What of a leaf's state a gate may be found with, beside its constants."""

MOST_KEPT: Final = 64
"""So many ways a gate was fitted at one instant are remembered."""


class Fits:
    """The state under every way the gate was fitted, as long as nothing else has changed it since."""

    def __init__(self) -> None:
        self.states: dict[str, Slots] = {}
        self._last = b""

    def before(self, constants: Slots, state: Slots) -> None:
        """Remember how it stands; whatever no longer leads back to this is forgotten."""
        if state.tobytes() != self._last or len(self.states) >= MOST_KEPT:
            self.states = {}
        self.states[_mark(constants, state)] = state.copy()

    def after(self, constants: Slots, state: Slots) -> Slots:
        """The state for these constants: as it was under them at this instant, else `state`."""
        mark = _mark(constants, state)
        known = self.states.setdefault(mark, state.copy())
        self._last = known.tobytes()
        return known.copy()

    def kept(self, state: Slots) -> tuple[list[str], Slots]:
        """(marks, their states one behind the other), for a keyframe; nothing once the gate moved on."""
        if state.tobytes() != self._last:
            return [], np.zeros(0, dtype=np.float64)
        return list(self.states), np.concatenate(list(self.states.values()))

    def restore(self, marks: list[str], states: Slots, state: Slots) -> None:
        """As when the keyframe was taken."""
        rows = states.reshape(max(len(marks), 1), -1) if marks else states.reshape(0, 0)
        self.states = {mark: row.copy() for mark, row in zip(marks, rows, strict=True)}
        self._last = state.tobytes() if marks else b""


def _mark(constants: Slots, state: Slots) -> str:
    """What tells one way of being fitted or found from another: all constants, keys, releases and warmth. How a
    motor is counted comes and goes with the wiring, and no state hangs on it."""
    fitted = constants.copy()
    fitted[[leaf * at.LEAF_CONSTANTS + slot for leaf in (0, 1) for slot in (at.COUNT_GAIN, at.COUNT_NOISE)]] = 0.0
    found = state[[leaf * at.LEAF_STATE + slot for leaf in (0, 1) for slot in _FOUND]]
    return hashlib.blake2b(fitted.tobytes() + found.tobytes(), digest_size=12).hexdigest()


def adapt(state: Slots, old: Slots, new: Slots, leaf: int, key_whole: bool | None) -> None:
    """Bring one leaf's state from the constants `old` to `new`; `key_whole` when its key was changed, else None."""
    first, base = leaf * at.LEAF_STATE, leaf * at.LEAF_CONSTANTS
    before, after = old[base : base + at.LEAF_CONSTANTS], new[base : base + at.LEAF_CONSTANTS]
    changed = before != after
    if changed[list(_COUPLING)].any():
        _recouple(state, old, new, leaf)
    for stop, way in ((at.OPEN_STOP, 1.0), (at.CLOSED_STOP, -1.0)):
        if changed[stop] and way * (state[first + at.ANGLE] - after[stop]) > 0.0:
            stand_at(state, new, leaf, float(after[stop]))
    if key_whole is not None:
        state[first + at.KEYED] = float(key_whole)
        state[first + at.FORCE_OUT] = 0.0
        if key_whole:
            state[first + at.OFFSET] = after[at.RATIO] * state[first + at.TURNED] - there(state, new, leaf)
    if changed[at.RESISTANCE] or changed[at.OHM_PER_KELVIN]:
        warmer = state[first + at.WINDING_C] - 20.0
        state[first + at.OHM] = after[at.RESISTANCE] * (1.0 + after[at.OHM_PER_KELVIN] * warmer)
    if changed[at.WIND_ALONG] or changed[at.WIND_ACROSS]:
        state[at.WIND] = 1.0
    if after[at.GROUND_COUNT] == 0.0:
        state[first + at.GROUND_FORCE] = 0.0
    if after[at.EDGE_TRIP] == 0.0 or after[at.EDGE_STIFFNESS] == 0.0:
        state[first + at.EDGE_PRESSED] = state[first + at.EDGE_FORCE] = 0.0


def stand_at(state: Slots, constants: Slots, leaf: int, angle: float) -> None:
    """Stand a leaf against a stop that was set where it stood, at rest, its train as strained as before. What stands
    in its way and would be in it is moved until it just touches."""
    first = leaf * at.LEAF_STATE
    state[first + at.OFFSET] += there(state, constants, leaf)
    state[first + at.ANGLE], state[first + at.SPEED] = angle, 0.0
    for slot in range(at.OBSTACLE_SLOTS):
        place = first + at.FIRST_OBSTACLE + slot * at.OBSTACLE_SIZE
        met = min if state[place + at.OPENS_INTO] == 0.0 else max
        state[place + at.AT_ANGLE] = met(float(state[place + at.AT_ANGLE]), angle)
    state[first + at.OFFSET] -= there(state, constants, leaf)


def there(state: Slots, constants: Slots, leaf: int) -> float:
    """Where the leaf holds the train's output."""
    angle = float(state[leaf * at.LEAF_STATE + at.ANGLE])
    return output(constants.tolist(), leaf, angle, *sin_cos(angle))[0]


def _recouple(state: Slots, old: Slots, new: Slots, leaf: int) -> None:
    """The spring of the train keeps its force where the leaf stands; one of another kind of drive begins slack."""
    first, base = leaf * at.LEAF_STATE, leaf * at.LEAF_CONSTANTS
    turned = float(state[first + at.TURNED])
    stretch = float(old[base + at.RATIO]) * turned - float(state[first + at.OFFSET]) - there(state, old, leaf)
    slack, slack_now = 0.5 * float(old[base + at.PLAY]), 0.5 * float(new[base + at.PLAY])
    strained = max(abs(stretch) - slack, 0.0) * float(old[base + at.STIFFNESS_OUT] / new[base + at.STIFFNESS_OUT])
    stretch = math.copysign(strained + slack_now if strained > 0.0 else min(abs(stretch), slack_now), stretch)
    if old[base + at.LINKAGE] != new[base + at.LINKAGE]:
        stretch = 0.0
    state[first + at.OFFSET] = float(new[base + at.RATIO]) * turned - there(state, new, leaf) - stretch
