"""The controller's own display as a witness: how many transmitters it knows, and what became of the last word."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

FUNCTIONS: Final = (
    Function("transmitters enrolled", "buttons", "How many buttons the memory holds.", at="", takes_s=20.0),
    Function(
        "last radio word",
        "steps",
        "Of the last word that came: whose it was, how far its counter was ahead, and what became of it.",
        at="",
        takes_s=20.0,
    ),
    Function("leaf order", "words", "Which leaf the sheet lets open first.", at="", takes_s=20.0),
    Function("busy light", "words", "Whether the receiver's light shows something with nobody sending.", at=""),
)


class ServicePanel:
    """What can be read off the panel."""

    name = "service panel"
    group: Group = "guards and radio"
    help = "What the controller's panel lists of transmitters, and the receiver's light beside it."
    functions: tuple[Function, ...] = FUNCTIONS

    def place(self, world: World, use: Use) -> Undo:
        """Go there. Raises Refused when it is dark."""
        if not world.host.on:
            raise Refused("the controller has no power: its panel is dark")
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What it lists; a pure look."""
        panel = world.controller.panel()
        if use.function == "transmitters enrolled":
            count = len(panel.transmitters)
            return Reading(Shown(float(count), "buttons", said("{count} buttons", count=count)))
        if use.function == "leaf order":
            return Reading(Shown(None, "words", said("opens first: {leaf}", leaf=panel.settings["opens first"])))
        if use.function == "busy light":
            return Reading(Shown(None, "words", said("lit" if world.cabinet.radio_is_busy() else "dark")))
        if not panel.heard:
            return Reading(Shown(None, "steps", said("no word yet")))
        last = panel.heard[-1]
        holder = last.holder or said("nobody on the list")
        text = said("{holder}: {step} steps ahead, {verdict}", holder=holder, step=last.step, verdict=last.verdict)
        return Reading(Shown(float(last.step), "steps", text))
