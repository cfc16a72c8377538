"""Carries levels from the net into the controller and its commands out, at scan instants and only when due."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sim.controller.ports import (
    BOARD_MINIMUM_V,
    Controller,
    Inputs,
    Outputs,
    RadioWord,
    Request,
    Scan,
    Watch,
    Watched,
)
from sim.devices.cabinet import Cabinet
from sim.devices.clock_reserve import FULL_V, reserve_v
from sim.mechanics.plant import Plant
from sim.units import SCAN, SECOND, Us, next_on_grid
from sim.world.clock import Clock, Phase
from sim.world.drive_side import DriveSide

OFF = Outputs(emitter_supply=False)
"""What a board without power drives."""

_BROWN_OUT = Watch(Watched.SUPPLY_AT_MOST, 0, BOARD_MINIMUM_V)


@dataclass(slots=True)
class HostState:
    """What outlives an instant, as plain data."""

    on: bool = False
    due: Us | None = None
    dark_since: int | None = None
    """When the board lost its power last [µs]."""
    clock_v: float = FULL_V
    """What its clock's reserve had left when power came last [V]."""


class Host:
    """Scans the controller when its wake is due, a watch holds, an input changed, or somebody used its panel."""

    def __init__(
        self,
        clock: Clock,
        plant: Plant,
        cabinet: Cabinet,
        controller: Controller,
        wrote: Callable[[Outputs, Outputs], None],
        scanned: Callable[[], None],
        *,
        every_scan: bool = False,
    ) -> None:
        self.clock = clock
        self.plant = plant
        self.cabinet = cabinet
        self.controller = controller
        self.outputs = OFF
        self.scans = 0
        """How many times the controller was asked."""
        self.changed: list[Callable[[], None]] = []
        """Called after the net, or what is asked of a bridge, changed: nobody polls for it."""
        self.board_c: Callable[[], float] = lambda: 20.0
        """Temperature of the board [°C]; whoever keeps it sets it."""
        self._wrote = wrote
        self._scanned = scanned
        self._every_scan = every_scan
        self._state = HostState()
        self._radio: list[RadioWord] = []
        self._requests: list[Request] = []
        self.drives = DriveSide(clock, plant, cabinet, self._tell_changed)
        self._scanned_at = -1

    @property
    def on(self) -> bool:
        """Whether the board has power."""
        return self._state.on

    def ask(self, at: int | None = None) -> None:
        """Have the controller scanned at the first scan instant at or after `at` (default: now)."""
        when = next_on_grid(int(self.clock.now) if at is None else at, SCAN)
        if when == self._scanned_at:
            when = Us(when + SCAN)
        if self._state.due is not None and self._state.due <= when:
            return
        self._state.due = when
        self.clock.at(when, Phase.SCAN, lambda: self._scan_if_due(when), "controller scan")

    def hear(self, word: RadioWord) -> None:
        """The receiver decoded a radio word; without power nobody hears it."""
        if self._state.on:
            self._radio.append(word)
            self.ask()

    def request(self, request: Request) -> None:
        """Something was done at the service panel; a dead panel does nothing."""
        if self._state.on:
            self._requests.append(request)
            self.ask()

    def rewired(self) -> None:
        """The net, a contact or the supply changed: give the plant its new network, and scan."""
        self.drives.rewired()
        self._tell_changed()
        self.ask()

    def _tell_changed(self) -> None:
        for listener in self.changed:
            listener()

    def _scan_if_due(self, when: Us) -> None:
        if self._state.due == when:
            self._state.due = None
            self._scan(when)

    def _scan(self, now: Us) -> None:
        self._scanned_at = now
        supply_v = self.plant.supply_v()
        if supply_v <= BOARD_MINIMUM_V:
            if self._state.on:
                self._lose_power()
                self._scanned()
            return
        if not self._state.on:
            self._state.on = True
            if self._state.dark_since is not None:
                self._state.clock_v = reserve_v((int(now) - self._state.dark_since) / SECOND)
            self.controller.power_up(now)
        self.scans += 1
        inputs = self._inputs(supply_v)
        self._radio, self._requests = [], []
        scan = self.controller.scan(now, inputs)
        self._write(scan.outputs)
        self._arrange(now, scan, inputs)
        self._scanned()

    def _lose_power(self) -> None:
        self._state.on = False
        self._state.dark_since = int(self.clock.now)
        self._radio, self._requests = [], []
        self._write(OFF)
        self.drives.drop()
        self._tell_changed()
        self.plant.set_watches(())
        self.ask(int(self.clock.now) + SCAN)  # what its own outputs drew is gone: the supply may be back at once

    def _inputs(self, supply_v: float) -> Inputs:
        return Inputs(
            supply_v=supply_v,
            guard_v=self.cabinet.guard_volts(),
            command_v=self.cabinet.command_volts(),
            motor_a=self.drives.currents(),
            counts=self.drives.counts(),
            quiet_us=self.drives.quiet_us(),
            radio=tuple(self._radio),
            requests=tuple(self._requests),
            feed_v=self.cabinet.feed_v(),
            clock_v=self._state.clock_v,
            board_c=float(round(self.board_c())),
            limit_v=self.cabinet.limit_volts(),
        )

    def _write(self, outputs: Outputs) -> None:
        before, self.outputs = self.outputs, outputs
        if outputs == before:
            return
        moved = self.drives.write(outputs)
        changed = self.cabinet.set_lamp(outputs.lamp)
        changed = self.cabinet.set_yard_light(outputs.yard_light) or changed
        changed = self.cabinet.set_lock(outputs.lock) or changed
        changed = self.cabinet.set_emitters(outputs.emitter_supply) or changed
        if changed or moved:
            self.drives.rewired()
        self._tell_changed()
        self._wrote(before, outputs)

    def _arrange(self, now: Us, scan: Scan, inputs: Inputs) -> None:
        """Queue the next scan: its wake, its inputs if these outputs changed them, or simply every 10 ms."""
        if self._every_scan or scan.watches is None or not self.drives.plain:
            self.plant.set_watches((_BROWN_OUT,))
            self.ask(now + SCAN)
            return
        self.plant.set_watches((*scan.watches, _BROWN_OUT))
        if scan.wake is not None:
            self.ask(max(scan.wake, now + SCAN))
        read = inputs.guard_v, inputs.command_v, inputs.feed_v, inputs.limit_v
        now_read = self.cabinet.guard_volts(), self.cabinet.command_volts(), self.cabinet.feed_v()
        if (*now_read, self.cabinet.limit_volts()) != read:
            self.ask(now + SCAN)
