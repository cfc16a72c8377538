"""The host's side of both drives: relays and power stages as the controller asks, and what they really give.

The controller asks by leaf; which motor hears it, and which encoder the counter of a leaf counts, follows from the
net. Relays fall back a moment after their stage came to nothing, by a queued instant.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sim.controller.ports import Drive, Outputs
from sim.devices.bridge import Asked
from sim.devices.cabinet import Cabinet
from sim.devices.output_path import Driven
from sim.mechanics.plant import Plant
from sim.units import SCAN, SECOND, next_on_grid
from sim.world.clock import Clock, Phase

FALLS_BACK_AFTER: Final = SECOND // 2
"""A relay falls back this long after its stage came to nothing, so that its contacts part without current [µs]. CP,
no source."""


class DriveSide:
    """What stands between the controller's two drive outputs and the plant's two motors."""

    def __init__(self, clock: Clock, plant: Plant, cabinet: Cabinet, changed: Callable[[], None]) -> None:
        self.signs: tuple[int, int] = (0, 0)
        """Which relay of each leaf is pulled in: +1 opening, −1 closing, 0 neither."""
        self._clock = clock
        self._plant = plant
        self._cabinet = cabinet
        self._changed = changed
        self._asked = (Asked(), Asked())
        self._given = [Asked(), Asked()]
        self._tokens = [0, 0]
        self._counters = Counters(plant)
        self._motor_of = (0, 1)

    @property
    def plain(self) -> bool:
        """Whether output, motor, encoder and counter of each leaf belong together, and the kernel may watch them."""
        return self._motor_of == (0, 1) and self._counters.plain

    def counts(self) -> tuple[int, int]:
        """Both counters of the board."""
        return self._counters.counts()

    def quiet_us(self) -> tuple[int, int]:
        """Time since each counter last changed [µs]."""
        return self._counters.quiet_us()

    def currents(self) -> tuple[float, float]:
        """Motor current through each leaf's shunt [A]."""
        return self._plant.board_current(self._motor_of[0]), self._plant.board_current(self._motor_of[1])

    def write(self, outputs: Outputs) -> bool:
        """The controller asks for this; True if a relay moved, and the net has to be looked at again."""
        signs = list(self.signs)
        asked = list(self._asked)
        for leaf, drive in enumerate((outputs.active, outputs.inactive)):
            wanted = Asked(drive.duty, drive.slew_per_s, drive.limit_a, drive.brake)
            if wanted == asked[leaf]:
                continue
            signs[leaf] = 1 if drive.duty > 0.0 else -1 if drive.duty < 0.0 else signs[leaf]
            self._let_fall(leaf, drive, asked[leaf])
            asked[leaf] = wanted
        self._asked = (asked[0], asked[1])
        moved = (signs[0], signs[1]) != self.signs
        self.signs = (signs[0], signs[1])
        if not moved:
            self._command(self._cabinet.driven(self.signs))
        return moved

    def _let_fall(self, leaf: int, drive: Drive, before: Asked) -> None:
        if drive.duty:
            self._tokens[leaf] += 1
            return
        if not before.duty:
            return
        self._tokens[leaf] += 1
        token = self._tokens[leaf]
        down_s = 0.0 if drive.brake or not drive.slew_per_s else 1.0 / drive.slew_per_s
        after = 0 if self._cabinet.on_mains(leaf) else FALLS_BACK_AFTER
        due = next_on_grid(int(self._clock.now) + round(down_s * SECOND) + after, SCAN)
        self._clock.at(due, Phase.HAND, lambda: self._fall(leaf, token), "a relay falls back")

    def _fall(self, leaf: int, token: int) -> None:
        if token == self._tokens[leaf] and self.signs[leaf]:
            self.signs = (0, self.signs[1]) if leaf == 0 else (self.signs[0], 0)
            self.rewired()
            self._changed()

    def drop(self) -> None:
        """The board lost its power: both relays fall back at once."""
        self.signs = (0, 0)
        self._tokens = [token + 1 for token in self._tokens]
        self.rewired()

    def rewired(self) -> None:
        """The net or a relay changed: give the plant its new network, and what the stages give it."""
        driven = self._cabinet.driven(self.signs)
        self._plant.set_network(driven.network)
        self._motor_of = (driven.stages.index(0), driven.stages.index(1))
        self._command(driven)
        self._counters.follow(self._cabinet, driven)

    def _command(self, driven: Driven) -> None:
        for motor, given in enumerate(self._cabinet.given(driven, self._asked)):
            if given != self._given[motor]:
                self._given[motor] = given
                self._plant.command(motor, given.duty, given.slew_per_s, given.limit_a, given.brake)


class Counters:
    """The board's two counters, each moved by whichever encoder its line leads to."""

    def __init__(self, plant: Plant) -> None:
        self._plant = plant
        self._encoders = [0, 1]
        self._offsets = [0, 0]

    @property
    def plain(self) -> bool:
        """Whether each counter shows what its own leaf's encoder counted."""
        return self._encoders == [0, 1] and self._offsets == [0, 0]

    def counts(self) -> tuple[int, int]:
        """What they show."""
        one, other = (
            self._plant.counts(encoder) + offset
            for encoder, offset in zip(self._encoders, self._offsets, strict=True)
        )
        return one, other

    def quiet_us(self) -> tuple[int, int]:
        """Time since each last changed [µs]."""
        return self._plant.quiet_us(self._encoders[0]), self._plant.quiet_us(self._encoders[1])

    def follow(self, cabinet: Cabinet, driven: Driven) -> None:
        """The net or the drives changed: count what each line now brings. A counter never jumps by it."""
        counting = cabinet.counting()
        shown = self.counts()
        for leaf, seen in enumerate(counting):
            encoder = leaf if seen.encoder is None else seen.encoder
            if encoder != self._encoders[leaf]:
                self._encoders[leaf] = encoder
                self._offsets[leaf] = shown[leaf] - self._plant.counts(encoder)
        for encoder, wander in enumerate(cabinet.wander()):
            orders = [seen.order for seen in counting if seen.encoder == encoder]
            share = float(orders[0]) if orders else 0.0
            if cabinet.tells_way(encoder):
                share *= self._way(encoder, driven)
            self._plant.sense(encoder, share, wander)

    def _way(self, motor: int, driven: Driven) -> float:
        """+1 when the motor turns the way the board drives: what a lone line takes for granted, two lines see."""
        alpha = driven.network.alpha[motor]
        return self._plant.wired(motor) if alpha == 0.0 else 1.0 if alpha > 0.0 else -1.0


__all__ = ["FALLS_BACK_AFTER", "Counters", "DriveSide"]
