"""A second gate, written from the fact sheet alone: solved by scipy in smooth pieces between terminal events.

Facts 5.3 (motor), 6.1 (leaf), 6.2 (springs in series, two masses), 6.3 (friction, lean, rise), 6.4 and 6.5 (ram and
arm), 4 (wind). It knows nothing of the simulator. Each leaf has five states: its angle and speed, the rotor's angle
and speed, the winding's current; both leaves hang on one supply.

Dry friction is a mode of the motion: a mass slides one way, or the other, or sticks until what pulls at it exceeds
what holds it. Where a mode changes the integration stops and begins anew, so that the solver only ever sees smooth
equations.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Protocol

import numpy as np
from scipy.integrate import solve_ivp

STATES = 5
ANGLE, SPEED, TURN, TURNING, CURRENT = range(STATES)

LIMITS = 5
ROTOR, LEAF, LOAD, STOP, GAUGE = range(LIMITS)

LEAST = 1e-12
"""A load or a depth counts once it is more than this [N·m, m]: one that stays at nothing ends no piece."""

BREAKS_AT = 1.0 + 1e-9
"""A stuck mass lets go when the pull is this much above its friction: it then starts in a definite direction."""


class Chatter(Exception):
    """More changes of mode than the smooth pieces are worth."""


class Linkage(Protocol):
    """What is between a train and its leaf."""

    def __call__(self, angle: float) -> tuple[float, float]:
        """(output, output per leaf angle) at a leaf angle; output in m or rad, rising while the leaf opens."""


def ram(across: float, inside: float, along: float, offset: float) -> Linkage:
    """A ram by the cosine rule: output is how far it has run in (facts 6.4)."""
    rear, front = math.hypot(across, inside), math.hypot(along, offset)
    shut = math.pi - math.atan2(inside, across) - math.atan2(offset, along)

    def linked(angle: float) -> tuple[float, float]:
        gamma = shut - angle
        length = math.sqrt(rear * rear + front * front - 2.0 * rear * front * math.cos(gamma))
        return -length, rear * front * math.sin(gamma) / length

    return linked


def arm(across: float, inside: float, crank: float, link: float, along: float, offset: float) -> Linkage:
    """A crank on the post and a link to the leaf: output is the crank's direction (facts 6.5)."""

    def linked(angle: float) -> tuple[float, float]:
        cos, sin = math.cos(angle), math.sin(angle)
        bx, by = along * cos - offset * sin, along * sin + offset * cos
        x, y = bx + across, by - inside
        apart = math.hypot(x, y)
        cosine = (crank * crank + apart * apart - link * link) / (2.0 * crank * apart)
        swing = (y * by + x * bx) / (apart * apart)  # of the line from axis to leaf pivot, per leaf angle
        longer = (bx * y - by * x) / apart
        steeper = (apart * apart - crank * crank + link * link) / (2.0 * crank * apart * apart)
        return math.atan2(y, x) + math.acos(cosine), swing - longer * steeper / math.sqrt(1.0 - cosine * cosine)

    return linked


def pin(angle: float) -> tuple[float, float]:
    """A drive that turns the hinge pin itself."""
    return angle, 1.0


@dataclass(frozen=True)
class Spring:
    """A force gauge in the way of a closing leaf, behind a soft edge or bare (facts 6.2: springs in series)."""

    angle: float
    radius: float
    stiffness: float
    edge: float = 0.0
    travel: float = 0.0

    def __post_init__(self) -> None:
        soft = self.stiffness if self.edge == 0.0 else 1.0 / (1.0 / self.edge + 1.0 / self.stiffness)
        flat = math.inf if self.edge == 0.0 else self.edge * self.travel / soft
        object.__setattr__(self, "soft", soft)
        object.__setattr__(self, "bounds", (-math.inf, 0.0, flat, math.inf))

    soft: float = field(init=False)
    bounds: tuple[float, ...] = field(init=False)
    """Depths at which its law changes [m]: touch, and the edge pressed flat."""

    def depth(self, angle: float) -> float:
        """How deep a leaf has pressed in [m]."""
        return self.radius * (self.angle - angle)

    def force(self, depth: float, stage: int) -> float:
        """Force [N] at a depth [m] in one smooth stage: 0 apart, 1 soft, 2 hard."""
        if stage == 0:
            return 0.0
        if stage == 1:
            return self.soft * depth
        return self.edge * self.travel + self.stiffness * (depth - self.bounds[2])


@dataclass(frozen=True)
class Side:
    """One leaf with its drive as plain numbers in SI units; `start` to `slew` are what is asked of it."""

    width: float
    inertia: float
    dry: float
    viscous: float
    lean: float
    low_point: float
    rise: float
    sail: float
    """Torque of wind square to the leaf for the square of its speed."""
    wind: tuple[float, float]
    """Along the shut leaf, and to the side it opens to [m/s]."""
    open_stop: float
    stop_k: float
    stop_c: float
    linkage: Linkage
    k: float
    c: float
    ratio: float
    share: float
    drag: float
    rotor: float
    constant: float
    idle: float
    ohm: float
    henry: float
    start: float
    target: float
    slew: float

    def duty(self, t: float) -> float:
        """Duty of its bridge: a ramp up to the target."""
        return math.copysign(min(abs(self.target), self.slew * t), self.target)

    def outside(self, angle: float) -> float:
        """Torque of lean, rising hinges and wind [N·m] (facts 6.3, 4)."""
        square = self.wind[1] * math.cos(angle) - self.wind[0] * math.sin(angle)
        return self.sail * square * abs(square) - self.lean * math.sin(angle - self.low_point) - self.rise

    def stop(self, angle: float, speed: float, which: int) -> float:
        """What a stop pushes back with [N·m]: +1 the open one, −1 the shut one; a spring with a damper."""
        depth = angle - self.open_stop if which > 0 else -angle
        return self.stop_k * depth + self.stop_c * which * speed


@dataclass(frozen=True)
class Supply:
    """Volts at both bridges: open-circuit volts less what both bridges draw through the network."""

    volts: tuple[float, float]
    z: tuple[tuple[float, float], tuple[float, float]]
    loop: tuple[float, float]


@dataclass
class Mode:
    """Which smooth law holds for one leaf: ways of leaf and rotor, sign of the load, stop pressed, gauge's stage."""

    leaf: int = 0
    rotor: int = 0
    load: int = 1
    stop: int = 0
    stage: int = 0


@dataclass
class Told:
    """What one leaf did: when it passed 85 % of its way and reached its stop [s], touched the gauge [s]; greatest
    tip speed [m/s] and current [A] until it reached its stop, greatest force on the gauge [N]."""

    passed: float = math.inf
    reached: float = math.inf
    touched: float = math.inf
    speed: float = 0.0
    current: float = 0.0
    force: float = 0.0


@dataclass
class Run:
    """Both leaves from rest, trains slack. `gauges`: what stands in a leaf's way."""

    sides: tuple[Side, Side]
    supply: Supply
    gauges: tuple[Spring | None, Spring | None] = (None, None)
    most_pieces: int = 400
    method: str = "LSODA"
    told: tuple[Told, Told] = field(default_factory=lambda: (Told(), Told()))
    pieces: int = 0

    def __post_init__(self) -> None:
        self.modes = (Mode(), Mode())
        self._slack = tuple(side.linkage(side.start)[0] for side in self.sides)
        self.t, self.y = 0.0, np.zeros(2 * STATES)
        self.y[ANGLE], self.y[STATES + ANGLE] = (side.start for side in self.sides)
        self._seen: tuple[float, Any, list[float]] | None = None

    # -- the equations -------------------------------------------------------------------------------------

    def _half(self, index: int, y: list[float]) -> tuple[float, float, float, float]:
        """(torque at the leaf, torque at the rotor, friction of the train, its load), dry friction apart [N·m]."""
        side, mode, gauge = self.sides[index], self.modes[index], self.gauges[index]
        angle, speed, turn, turning, current = y
        output, lever = side.linkage(angle)
        pull = side.k * (side.ratio * turn - (output - self._slack[index]))
        pull += side.c * (side.ratio * turning - lever * speed)
        torque = pull * lever + side.outside(angle) - side.viscous * speed
        if mode.stop:
            torque -= mode.stop * side.stop(angle, speed, mode.stop)
        if gauge is not None and mode.stage:
            torque += gauge.force(gauge.depth(angle), mode.stage) * gauge.radius
        load = side.ratio * pull
        rubbing = side.constant * side.idle + side.drag + side.share * mode.load * load
        return torque, side.constant * current - load, rubbing, load

    def slope(self, t: float, y: np.ndarray) -> list[float]:
        """Right-hand side of the piece that holds now."""
        values = y.tolist()
        halves = (values[:STATES], values[STATES:])
        duties = [side.duty(t) for side in self.sides]
        drawn = [duty * half[CURRENT] for duty, half in zip(duties, halves, strict=True)]
        out: list[float] = []
        for index, (side, mode, half) in enumerate(zip(self.sides, self.modes, halves, strict=True)):
            torque, shaft, rubbing, _ = self._half(index, half)
            z = self.supply.z[index]
            volts = duties[index] * (self.supply.volts[index] - z[0] * drawn[0] - z[1] * drawn[1])
            lost = (side.ohm + self.supply.loop[index]) * half[CURRENT] + side.constant * half[TURNING]
            out += [
                half[SPEED] if mode.leaf else 0.0,
                (torque - mode.leaf * side.dry) / side.inertia if mode.leaf else 0.0,
                half[TURNING] if mode.rotor else 0.0,
                (shaft - mode.rotor * rubbing) / side.rotor if mode.rotor else 0.0,
                (volts - lost) / side.henry if side.target else 0.0,
            ]
        return out

    # -- where a piece ends --------------------------------------------------------------------------------

    def _limits(self, y: np.ndarray) -> list[float]:
        """LIMITS numbers a leaf; a piece ends where one of them rises through nothing."""
        values = y.tolist()
        out: list[float] = []
        for index, (side, mode, gauge) in enumerate(zip(self.sides, self.modes, self.gauges, strict=True)):
            half = values[index * STATES : (index + 1) * STATES]
            torque, shaft, rubbing, load = self._half(index, half)
            angle, speed = half[ANGLE], half[SPEED]
            out.append(-mode.rotor * half[TURNING] if mode.rotor else abs(shaft) - BREAKS_AT * rubbing)
            out.append(-mode.leaf * speed if mode.leaf else abs(torque) - BREAKS_AT * side.dry)
            out.append(-mode.load * load - LEAST)
            if mode.stop:
                out.append(-side.stop(angle, speed, mode.stop))
            else:
                opened = min(angle - side.open_stop - LEAST, side.stop(angle, speed, 1))
                out.append(max(opened, min(-angle - LEAST, side.stop(angle, speed, -1))))
            if gauge is None:
                out.append(-1.0)
            else:
                depth = gauge.depth(angle)
                out.append(max(depth - gauge.bounds[mode.stage + 1], gauge.bounds[mode.stage] - depth) - LEAST)
        return out

    def _watches(self) -> list[Callable[[float, np.ndarray], float]]:
        def ending(which: int) -> Callable[[float, np.ndarray], float]:
            def watch(t: float, y: np.ndarray) -> float:
                if self._seen is None or self._seen[0] != t or self._seen[1] is not y:
                    self._seen = (t, y, self._limits(y))
                return self._seen[2][which]

            return watch

        def passing(index: int) -> Callable[[float, np.ndarray], float]:
            goal = 0.85 * self.sides[index].open_stop
            return lambda t, y: float(y[index * STATES + ANGLE] - goal)

        watches: list[Any] = [ending(which) for which in range(2 * LIMITS)]
        for watch in watches:
            watch.terminal = True
        watches += [passing(0), passing(1)]
        for watch in watches:
            watch.direction = 1.0
        return watches

    def _turn_over(self, which: int) -> None:
        """Change the mode that ended the piece."""
        t, y = self.t, self.y
        index, what = divmod(which, LIMITS)
        side, mode, told, gauge = self.sides[index], self.modes[index], self.told[index], self.gauges[index]
        at = index * STATES
        torque, shaft, _, _ = self._half(index, y[at : at + STATES].tolist())
        if what == ROTOR:
            mode.rotor = 0 if mode.rotor else round(math.copysign(1.0, shaft))
            y[at + TURNING] = 0.0
        elif what == LEAF:
            mode.leaf = 0 if mode.leaf else round(math.copysign(1.0, torque))
            y[at + SPEED] = 0.0
        elif what == LOAD:
            mode.load = -mode.load
        elif what == STOP:
            mode.stop = 0 if mode.stop else 1 if y[at + ANGLE] > 0.5 * side.open_stop else -1
            if mode.stop > 0:
                told.reached = min(told.reached, t)
        elif gauge is not None:
            depth = gauge.depth(float(y[at + ANGLE]))
            deeper = depth - gauge.bounds[mode.stage + 1] > gauge.bounds[mode.stage] - depth
            mode.stage += 1 if deeper else -1
            told.touched = min(told.touched, t)

    def _settle(self) -> None:
        """A mass that stands and is pulled harder than its friction holds starts to slide at once."""
        for index, (side, mode) in enumerate(zip(self.sides, self.modes, strict=True)):
            torque, shaft, rubbing, _ = self._half(index, self.y[index * STATES : (index + 1) * STATES].tolist())
            if mode.rotor == 0 and abs(shaft) > BREAKS_AT * rubbing:
                mode.rotor = round(math.copysign(1.0, shaft))
            if mode.leaf == 0 and abs(torque) > BREAKS_AT * side.dry:
                mode.leaf = round(math.copysign(1.0, torque))

    # -- running -------------------------------------------------------------------------------------------

    def to(self, end: float, until: Callable[[], bool] = lambda: False) -> Run:
        """Integrate on to `end` [s], or until `until` holds at the end of a piece. Raises Chatter."""
        ramps = {abs(side.target) / side.slew for side in self.sides if side.target}
        watches = self._watches()
        for kink in sorted({ramp for ramp in ramps if self.t < ramp < end} | {end}):
            while self.t < kink and not until():
                self.pieces += 1
                if self.pieces > self.most_pieces:
                    raise Chatter(f"{self.pieces} pieces by {self.t:.3f} s")
                self._settle()
                self._piece(kink, watches)
        return self

    def _piece(self, end: float, watches: list[Any]) -> None:
        """One smooth piece, to `end` [s] at the latest."""
        self._seen = None
        solved = solve_ivp(
            self.slope,
            (self.t, end),
            self.y,
            method=self.method,
            rtol=1e-9,
            atol=1e-12,
            max_step=0.05,
            events=watches,
            dense_output=True,
        )
        if not solved.success:
            raise ArithmeticError(f"the solver gave up at {solved.t[-1]} s: {solved.message}")
        self._tell(solved)
        self.t, self.y = float(solved.t[-1]), solved.y[:, -1].copy()
        for which in range(2 * LIMITS):
            if solved.t_events[which].size:
                self._turn_over(which)

    def _tell(self, solved: Any) -> None:
        """Note what is asked of a piece."""
        for index, (side, told, gauge) in enumerate(zip(self.sides, self.told, self.gauges, strict=True)):
            at = index * STATES
            passed = solved.t_events[2 * LIMITS + index]
            if passed.size:
                told.passed = min(told.passed, float(passed[0]))
            if told.reached == math.inf:
                told.speed = max(told.speed, side.width * highest(solved, at + SPEED, abs))
                told.current = max(told.current, highest(solved, at + CURRENT, abs))
            if gauge is not None and self.modes[index].stage:
                depth = highest(solved, at + ANGLE, gauge.depth)
                told.force = max(told.force, gauge.force(depth, self.modes[index].stage))


def highest(solved: Any, row: int, of: Callable[[Any], Any]) -> float:
    """Greatest value of a function of one state within a piece, between the solver's steps as well."""
    values = of(solved.y[row])
    top = int(np.argmax(values))
    around = np.linspace(solved.t[max(0, top - 1)], solved.t[min(solved.t.size - 1, top + 1)], 65)
    return float(max(values[top], of(solved.sol(around)[row]).max()))
