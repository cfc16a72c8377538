"""A controller of one's own: two buttons, a leaf delay, guards. It sees terminals and nothing else.

gudgeon run scenarios/sites/mill_lane.yaml --for 120s --controller tests/examples/own_controller.py:TwoButtons
"""

from sim.controller.ports import CONTACT_THRESHOLD_V, Drive, Inputs, Outputs, Panel, Scan
from sim.units import Us

OUTER_BEAM, EDGES, STOP_CIRCUIT = 0, (2, 3), 4  # what is wired on this site, by place in `guard_v`
LEAF_DELAY, STARTING, STANDSTILL = 2_000_000, 1_000_000, 300_000  # [µs]
EFFORT = 0.7  # duty of both motors


class TwoButtons:
    """Opens on one button, closes on the other; a guard reopens a closing gate, the stop circuit halts it."""

    def __init__(self) -> None:
        self.power_up(Us(0))

    def power_up(self, now: Us) -> None:
        """Never move by itself: rest, and take both buttons as held until they are seen let go."""
        self.state, self.since, self.held = "resting", now, [True, True]
        self.arrived = [False, False]

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """One look at the terminals, one answer; no watches, so it is asked every 10 ms."""
        pressed = [volts < CONTACT_THRESHOLD_V for volts in inputs.command_v[:2]]
        wants_open, wants_close = (is_in and not was for is_in, was in zip(pressed, self.held, strict=True))
        self.held = pressed
        blocked = inputs.guard_v[OUTER_BEAM] > CONTACT_THRESHOLD_V
        blocked = blocked or any(not 0.8 < inputs.guard_v[edge] < 2.5 for edge in EDGES)
        if inputs.guard_v[STOP_CIRCUIT] > CONTACT_THRESHOLD_V:
            self.turn("resting", now)
        elif wants_open or (blocked and self.state == "closing"):
            self.turn("opening", now)
        elif wants_close and not blocked:
            self.turn("closing", now)
        duties = [self.duty(leaf, now - self.since, inputs.quiet_us[leaf]) for leaf in (0, 1)]
        if all(self.arrived):
            self.turn("resting", now)
        return Scan(Outputs(Drive(duties[0]), Drive(duties[1]), lamp=self.state != "resting"))

    def duty(self, leaf: int, since: int, quiet: int) -> float:
        """The active leaf (0) opens first and closes last; a leaf that stands still has met its stop."""
        delay = LEAF_DELAY if (leaf == 0) == (self.state == "closing") else 0
        self.arrived[leaf] = self.arrived[leaf] or (since > delay + STARTING and quiet > STANDSTILL)
        if self.state == "resting" or self.arrived[leaf] or since < delay:
            return 0.0
        return EFFORT if self.state == "opening" else -EFFORT

    def turn(self, state: str, now: Us) -> None:
        """Go over to another state."""
        self.state, self.since, self.arrived = state, now, [False, False]

    def panel(self) -> Panel:
        """What its display shows."""
        return Panel(state=self.state, message=f"the gate is {self.state}")
