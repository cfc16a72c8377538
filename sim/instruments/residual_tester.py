"""The residual-current tester: lets a stated current run from live to earth, and times how long the device holds.

While its lead is on, that current is in the net like any leak; the device trips by itself, and the tester sees its
voltage go. What leaks already comes on top.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.cautions import NOBODY_ON_IT
from sim.instruments.course import Stretch, course_of
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.said import said
from sim.units import SECOND
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Undo
from sim.wiring.solve import solve
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

LOAD: Final = "residual-current tester, load"

NOMINAL_V: Final = 230.0
"""For which its loads are made [V]."""

GONE_V: Final = 50.0
"""Below this between live and earth the device has opened [V]. CP, no source."""

TIMES: Final = {"half of rated": 0.5, "rated": 1.0, "five times rated": 5.0}
"""Test currents in shares of the rated residual current. EN 61557-6, from memory."""

HOLDS_S: Final = {"half of rated": 2.0, "rated": 0.5, "five times rated": 0.15}
"""How long the current is left on at most [s]. CP, no source."""

RAMP_STEP_A: Final = 0.001
"""The ramp goes up in steps of this [A]. CP, no source."""

RAMP_HOLD: Final = 3 * SECOND // 10
"""Each step holds this long [µs]: the longest that a device may take at its rated current."""

RAMP_MOST: Final = 40
"""Steps after which the ramp gives up."""


def _timed(name: str, text: str) -> Function:
    return Function(name, "s", text, against="terminal", takes_s=20.0, settles_s=HOLDS_S[name], caution=NOBODY_ON_IT)


class ResidualTester:
    """The residual-current tester of a bag."""

    name = "residual-current tester"
    group: Group = "electrical"
    help = "Whether and when the residual-current device trips, from a live terminal to earth."
    category = 3
    functions: tuple[Function, ...] = (
        _timed("half of rated", "Half of the rated current: it must hold."),
        _timed("rated", "Trip time at the rated current: at most 0.3 s."),
        _timed("five times rated", "Trip time at five times the rated current: at most 0.04 s."),
        Function(
            "ramp",
            "A",
            "The current at which it trips, raised a milliampere at a time.",
            against="terminal",
            takes_s=20.0,
            settles_s=12.5,
            caution=NOBODY_ON_IT,
        ),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Lead on and started: the current runs from live to earth until the device opens."""
        for person in world.people.in_arc():
            world.tell(
                "danger",
                said("the supply is tripped and comes back with the {person} in the arc", person=person),
                what="person in the arc",
                detail=person,
                by="test of the residual-current device",
            )
        net = world.cabinet.mains
        if world.cabinet.shared_net(use.at, use.against) is not net:
            return nothing
        red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
        share = TIMES.get(use.function)
        amps = RAMP_STEP_A if share is None else share * world.site.supply.residual_a
        net.add(Resistor(LOAD, red, black, complex(NOMINAL_V / amps)))
        if share is None:
            _ramp_on(world, use, 2)

        def off() -> None:
            net.remove(LOAD)

        return off

    def read(self, world: World, use: Use, index: int) -> Reading:
        """When the voltage went, or that it never did."""
        gone, before = self._gone(world, use)
        unit = "A" if use.function == "ramp" else "s"
        if before is None:
            return Reading(Shown(None, unit, said("no voltage to test with"), ("wrong function",)))
        if gone is None:
            return Reading(Shown(None, unit, said("holds: did not trip"), ()))
        if unit == "A":
            amps = round(abs(solve(before.mains).current(LOAD)), 4)
            return Reading(Shown(amps, unit, said("tripped at {current_ma:.1f} mA", current_ma=1000.0 * amps)))
        seconds = (gone.at - use.since) / SECOND
        return Reading(
            Shown(round(seconds, 3), unit, said("tripped after {time_ms:.0f} ms", time_ms=1000.0 * seconds))
        )

    def _gone(self, world: World, use: Use) -> tuple[Stretch | None, Stretch | None]:
        """The first stretch without voltage since the lead was put on, and the one before it, if there was any."""
        red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
        before: Stretch | None = None
        for stretch in course_of(world).stretches():
            if stretch.at < use.since:
                continue
            volts = solve(stretch.mains).between(red, black)
            if volts is None or abs(volts) < GONE_V:
                return (stretch, before) if before is not None else (None, None)
            before = stretch
        return None, before


def _ramp_on(world: World, use: Use, step: int) -> None:
    """Another milliampere at its instant, as long as the lead is on and the device holds."""

    def more() -> None:
        net = world.cabinet.mains
        load = net.elements.get(LOAD)
        if load is None or step > RAMP_MOST or not _still_there(world, use):
            return
        net.change(LOAD, ohm=complex(NOMINAL_V / (step * RAMP_STEP_A)))
        world.rewired()
        _ramp_on(world, use, step + 1)

    world.clock.at(int(world.now) + RAMP_HOLD, Phase.HAND, more, "ramp of the residual-current tester")


def _still_there(world: World, use: Use) -> bool:
    volts = world.cabinet.mains_volts(use.at, use.against)
    return volts is not None and volts >= GONE_V
