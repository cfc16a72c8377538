"""The yardstick: one gate as one would write it first, every millisecond of it visited in Python.

A SimPy process wakes every millisecond, steps both leaves (two masses each, ram geometry, winding, screw friction
with true stick, stops) and asks a small state machine: open, wait, close, with leaf delays and slow zones. It is
comparable to the product in what it computes for a healthy gate, and leaves out what the product adds (network,
obstacles, strip, wind, journal). Its figures are those of the site models' defaults. It is kept for one thing:
how many simulated seconds it makes in one second of wall time.
"""

from __future__ import annotations

import math
from collections.abc import Generator
from dataclasses import dataclass, field

import simpy

STEP = 0.001  # [s]
ACROSS, INSIDE, ALONG, OFFSET = 0.15, 0.15, 0.85, 0.05  # ram pivots [m]
RESISTANCE, CONSTANT, NO_LOAD, INDUCTANCE, ROTOR = 1.2, 0.050, 0.7, 0.001, 1.5e-5  # motor, SI
PER_RADIAN = 0.005 / (2 * math.pi * 20.0)  # ram travel for one radian of the motor [m]
EFFICIENCY = 0.85 * 0.35
SPRING, DAMPER = 250_000.0, 1_500.0  # between nut and bracket [N/m], [N·s/m]
INERTIA = 120.0 * (2.0**2 + 0.06**2) / 3.0  # [kg·m²]
HINGE, VISCOUS = 5.2, 2.0  # [N·m], [N·m·s/rad]
OPEN_STOP, STOP_SPRING, STOP_DAMPER = math.radians(92.0), 40_000.0, 1_500.0
SUPPLY, LIMIT, SLEW = 27.3, 8.0, 2.0  # [V], [A], [1/s]
TRAVEL = 0.30 / PER_RADIAN  # about the motor's way from shut to open [rad]


@dataclass
class NaiveLeaf:
    """One leaf behind its ram: motor and leaf are two masses."""

    angle: float = 0.0
    speed: float = 0.0
    motor_angle: float = 0.0
    motor_speed: float = 0.0
    current: float = 0.0
    duty: float = 0.0
    target: float = 0.0

    def step(self) -> None:
        """One millisecond: duty, winding, rotor, spring, leaf, stop."""
        change = SLEW * STEP
        self.duty += max(-change, min(change, self.target - self.duty))
        volts = self.duty * SUPPLY - CONSTANT * self.motor_speed
        current = (self.current + STEP / INDUCTANCE * volts) / (1.0 + STEP * RESISTANCE / INDUCTANCE)
        self.current = max(-LIMIT, min(LIMIT, current))

        length, lever = ram(self.angle)
        pull = SPRING * (self.motor_angle * PER_RADIAN - (SHUT_LENGTH - length))
        pull += DAMPER * (self.motor_speed * PER_RADIAN - self.speed * lever)

        load = pull * PER_RADIAN
        drive = CONSTANT * self.current - load
        rub = CONSTANT * NO_LOAD + abs(load) * (1.0 / EFFICIENCY - 1.0)
        self.motor_speed = slide(self.motor_speed + STEP * drive / ROTOR, STEP * rub / ROTOR)
        self.motor_angle += STEP * self.motor_speed

        torque = pull * lever - VISCOUS * self.speed + stop(self.angle, self.speed)
        self.speed = slide(self.speed + STEP * torque / INERTIA, STEP * HINGE / INERTIA)
        self.angle += STEP * self.speed


def ram(angle: float) -> tuple[float, float]:
    """Length of the ram [m] and how much shorter it gets per radian of the leaf [m]."""
    c, s = math.cos(angle), math.sin(angle)
    x = ALONG * c - OFFSET * s + ACROSS
    y = ALONG * s + OFFSET * c - INSIDE
    length = math.sqrt(x * x + y * y)
    return length, -(x * (-ALONG * s - OFFSET * c) + y * (ALONG * c - OFFSET * s)) / length


SHUT_LENGTH = ram(0.0)[0]


def slide(speed: float, most: float) -> float:
    """Speed after dry friction has taken at most `most` of it: it stops a motion and never starts one."""
    return math.copysign(max(0.0, abs(speed) - most), speed)


def stop(angle: float, speed: float) -> float:
    """Torque of the stop that is touched, if any [N·m]."""
    if angle < 0.0:
        return max(0.0, -STOP_SPRING * angle - STOP_DAMPER * speed)
    if angle > OPEN_STOP:
        return min(0.0, STOP_SPRING * (OPEN_STOP - angle) - STOP_DAMPER * speed)
    return 0.0


@dataclass
class NaiveGate:
    """Two leaves and the least logic that opens, waits and closes them."""

    dwell: float
    """How long the gate stays open [s]."""
    leaves: tuple[NaiveLeaf, NaiveLeaf] = field(default_factory=lambda: (NaiveLeaf(), NaiveLeaf()))
    state: str = "closed"
    since: float = 0.0
    log: list[tuple[float, str]] = field(default_factory=list)

    def process(self, env: simpy.Environment) -> Generator[simpy.Event, None, None]:
        """Visit every millisecond."""
        while True:
            for leaf in self.leaves:
                leaf.step()
            self.think(env.now / 1000.0)
            yield env.timeout(1)

    def think(self, now: float) -> None:
        """Open, wait, close: the leaf under the strip second when opening and first when closing."""
        if self.state == "closed":
            self.become("opening", now)
        elif self.state == "opening":
            if self.drive(1.0, first=0, since=now - self.since):
                self.become("open", now)
        elif self.state == "open":
            if now - self.since >= self.dwell:
                self.become("closing", now)
        elif self.state == "closing" and self.drive(-1.0, first=1, since=now - self.since):
            self.become("resting", now)

    def drive(self, sense: float, first: int, since: float) -> bool:
        """Set both duties for one direction; True when both leaves stand at their stops."""
        done = 0
        for index, leaf in enumerate(self.leaves):
            part = leaf.motor_angle / TRAVEL
            left = 1.0 - part if sense > 0.0 else part
            delay = 0.0 if index == first else 2.0
            if since < delay:
                leaf.target = 0.0
            elif since > delay + 2.0 and abs(leaf.motor_speed) < 1e-6:
                leaf.target = 0.0
                done += 1
            else:
                leaf.target = sense * (1.0 if left > 0.2 else 0.4)
        return done == 2

    def become(self, state: str, now: float) -> None:
        self.state, self.since = state, now
        self.log.append((now, state))


def run(seconds: float, dwell: float) -> NaiveGate:
    """Run a whole cycle: `seconds` of simulated time, one millisecond at a time."""
    env = simpy.Environment()
    gate = NaiveGate(dwell)
    env.process(gate.process(env))
    env.run(until=round(seconds * 1000))
    return gate
