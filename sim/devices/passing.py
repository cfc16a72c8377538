"""What passes with time: fuses and a breaker warm, the residual-current device counts, a battery runs down.

Between two changes every current is taken as constant, so each has a formula for what it is at any later instant, and
for when it next does something. Whoever keeps the time calls `pass_to` at a change and at the instant `due_in` named;
nothing polls, and where the instants between lie changes no bit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from sim.devices.battery import CHARGE_EFFICIENCY, CHARGER_FUSE, STEP_V, BatterySet, charge_at, counted_a, rest_v
from sim.devices.boardio import BOARD_FUSE
from sim.devices.mains import BREAKER, LINE_FUSE
from sim.devices.melting import Melting, blade, breaker
from sim.devices.residual import ResidualDevice
from sim.site import Supply
from sim.units import SECOND

PassingState: TypeAlias = tuple[object, ...]

RESIDUAL: Final = "residual-current device"

LEAST_A: Final = 1e-3
"""A battery that gives or takes less keeps its charge: what a cell loses by itself is not modelled [A]. Ours."""


@dataclass(frozen=True, slots=True)
class Flow:
    """What flows from now on, until something changes."""

    amps: tuple[tuple[str, float], ...] = ()
    """Name of each fuse or breaker, and the current through it [A]."""
    residual_a: float = 0.0
    battery_a: float = 0.0
    """Out of the battery; negative while it is charged [A]."""


@dataclass(slots=True)
class Passing:
    """Warmth, counts and charge as they stood at one instant, and what flows since."""

    melting: dict[str, Melting]
    residual: ResidualDevice
    battery: BatterySet | None
    at: int = 0
    """The instant they stand for [µs]."""
    flow: Flow = field(default_factory=Flow)
    warmth: dict[str, float] = field(default_factory=dict)
    counted: float = 0.0
    """Share of its trip time that the residual-current device has seen."""
    charge: float = 1.0

    def pass_to(self, now: int) -> None:
        """Bring everything to an instant [µs], with the currents that flowed since the last."""
        seconds = (now - self.at) / SECOND
        self.at = now
        if seconds <= 0.0:
            return
        for name, amps in self.flow.amps:
            warm = self.warmth.get(name, 0.0)
            if amps or warm:
                warm = self.melting[name].after(warm, amps, seconds)
                self.warmth[name] = warm if warm > 1e-9 else 0.0
        trips_in = self.residual.trips_in(self.flow.residual_a)
        self.counted = 0.0 if math.isinf(trips_in) else self.counted + seconds / trips_in
        self.charge = self._charge_after(seconds)

    def gone(self) -> tuple[str, ...]:
        """What lets go now."""
        found = [name for name, amps in self.flow.amps if self._lets_go_in(name, amps) <= 0.0]
        if self.counted >= 1.0:
            found.append(RESIDUAL)
        return tuple(found)

    def renewed(self, name: str) -> None:
        """A new fuse, or a device that was closed again: cold, and nothing counted."""
        self.warmth.pop(name, None)
        if name == RESIDUAL:
            self.counted = 0.0

    def due_in(self) -> float:
        """Time until something lets go or the battery's voltage moves by its step [s]; infinite for never."""
        dues = [self._lets_go_in(name, amps) for name, amps in self.flow.amps]
        trips_in = self.residual.trips_in(self.flow.residual_a)
        if not math.isinf(trips_in):
            dues.append((1.0 - self.counted) * trips_in)
        dues.append(self._battery_step_in())
        return min(dues)

    def _lets_go_in(self, name: str, amps: float) -> float:
        """Time until one of them lets go at a current [s]."""
        return self.melting[name].lets_go_in(self.warmth.get(name, 0.0), amps) if amps else math.inf

    def _rate(self) -> float:
        """Change of charge [1/s]."""
        if self.battery is None or abs(self.flow.battery_a) < LEAST_A:
            return 0.0
        data, amps = self.battery.data, self.flow.battery_a
        counted = counted_a(amps, data.capacity_ah, data.peukert) if amps > 0.0 else CHARGE_EFFICIENCY * amps
        return -counted / (3600.0 * data.capacity_ah)

    def _charge_after(self, seconds: float) -> float:
        return min(1.0, max(0.0, self.charge + self._rate() * seconds))

    def _battery_step_in(self) -> float:
        rate = self._rate()
        if rate == 0.0 or self.charge == (0.0 if rate < 0.0 else 1.0):
            return math.inf
        steps = rest_v(self.charge) / STEP_V
        edge = (math.floor(steps + 0.5) - 0.5 if rate < 0.0 else math.ceil(steps - 0.5) + 0.5) * STEP_V
        return max(1.0, (charge_at(edge) - self.charge) / rate)

    def state(self) -> PassingState:
        """As base types."""
        flow = (self.flow.amps, self.flow.residual_a, self.flow.battery_a)
        return (self.at, flow, tuple(sorted(self.warmth.items())), self.counted, self.charge)

    def restore(self, state: PassingState) -> None:
        """Become what `state()` was taken of."""
        self.at, flow, warmth, self.counted, self.charge = state  # type: ignore[assignment]
        self.flow = Flow(*flow)  # type: ignore[misc]
        self.warmth = dict(warmth)  # type: ignore[call-overload]


def passing_of(supply: Supply, battery: BatterySet | None) -> Passing:
    """Everything of one site that time passes for, cold, with the battery as full as it is found."""
    melting = {
        BOARD_FUSE: blade(supply.fuse_a),
        CHARGER_FUSE: blade(supply.charger_fuse_a),
        LINE_FUSE: blade(supply.line_fuse_a),
        BREAKER: breaker(supply.breaker_a),
    }
    charge = battery.data.charge if battery is not None else 1.0
    return Passing(melting, ResidualDevice(supply.residual_a, supply.residual_trips_a), battery, charge=charge)
