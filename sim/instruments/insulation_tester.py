"""The insulation tester: 250 or 500 V between a conductor and earth, and what leaks of it.

EN 61557-2 asks for the rated voltage at the rated 1 mA and no more than half as much again without load: 1.2 times
behind 0.2 of a rated load. Test voltage doesn't ask what hangs on a conductor: electronics that are still connected
see it too.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.devices.boardio import FEED
from sim.instruments.cautions import BOARD_OFF
from sim.instruments.display import Display, Range
from sim.instruments.injection import Source, inject, own_volts, seen_ohm
from sim.instruments.instrument import Function, Group, Reading, Use
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.elements import Contact
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

SOURCE: Final = "insulation tester, source"

RATED_A: Final = 0.001
"""What it gives at its rated voltage [A]. EN 61557-2, from memory."""

OPEN_SHARE: Final = 1.2
"""Open circuit over rated voltage; at most 1.5 (EN 61557-2, from memory)."""

FED_ABOVE_V: Final = 10.0
"""A circuit with more than this in it is fed [V]. CP, no source."""

RANGES: Final = (
    Range(4e6, 1e3, "M"),
    Range(40e6, 10e3, "M"),
    Range(400e6, 100e3, "M"),
    Range(1000e6, 1e6, "M"),
)


def _function(volts: int) -> Function:
    return Function(
        said("{volts} volts", volts=volts),
        "Ω",
        said("Resistance of the insulation between two terminals under {volts} V.", volts=volts),
        against="terminal",
        takes_s=25.0,
        settles_s=5.0,
        caution=BOARD_OFF,
    )


class InsulationTester:
    """The insulation tester of a bag."""

    name = "insulation tester"
    group: Group = "electrical"
    help = "Resistance between a conductor and earth under a test voltage; electronics disconnected first."
    category = 3
    functions: tuple[Function, ...] = (_function(250), _function(500))

    def place(self, world: World, use: Use) -> Undo:
        """Leads on, button pressed. What can't bear the voltage breaks there and then, for good."""
        if own_volts(world, use) > FED_ABOVE_V:
            world.tell(
                "danger",
                said(
                    "test voltage put on a live circuit, between {at} and {against}", at=use.at, against=use.against
                ),
                what="insulation test on a live circuit",
                detail=said("{at} to {against}", at=use.at, against=use.against),
            )
        undo = inject(world, use, _source(use))
        _tell_if_dead(world, use)
        return undo

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What leaks, in megohms."""
        display = Display(self.name, use.function, "Ω", RANGES, gain_error=0.01, beyond=said("more than 1000 MΩ"))
        if own_volts(world, use, SOURCE) > FED_ABOVE_V:
            return Reading(Shown(None, "Ω", said("circuit is live"), ("hazard",)))
        ohm = seen_ohm(world, use, _source(use))
        if ohm is None:
            return Reading(Shown(None, "Ω", said("more than 1000 MΩ"), ("over range",)))
        return Reading(display.show(ohm, world.seed, index))


def _source(use: Use) -> Source:
    rated = float(use.function.split()[0])
    return Source(SOURCE, OPEN_SHARE * rated, (OPEN_SHARE - 1.0) * rated / RATED_A)


def _tell_if_dead(world: World, use: Use) -> None:
    """The board dies if more stands across its electronics than they bear."""
    cabinet = world.cabinet
    track = cabinet.netlist[FEED]
    if not (isinstance(track, Contact) and track.closed and cabinet.stress().kills):
        return
    cabinet.kill_board()
    world.tell(
        "damage",
        said(
            "the board is destroyed: {function} between {at} and {against} while it was connected",
            function=use.function,
            at=use.at,
            against=use.against,
        ),
        what="board destroyed by an insulation test",
        detail=said("{function}, {at} to {against}", function=use.function, at=use.at, against=use.against),
    )
