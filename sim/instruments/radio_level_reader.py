"""The radio level reader, on the receiver's aerial: how strong a transmitter arrives, how quiet it is without one.

A transmitter only sends while its button is pressed: whoever measures it presses it, and a gate that is awake obeys.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.devices import radio_link
from sim.draws import normal
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.said import said
from sim.site import Edge, RadioLink
from sim.wiring.netlist import Undo
from sim.world import by_itself, radio

if TYPE_CHECKING:
    from sim.world.world import World

NOISE_DB: Final = 0.8
"""Deviation of one reading [dB]. CP, no source."""

AWAKE: Final = "A gate that is awake obeys the transmitter you test. Nobody in the arc; isolate it, or stand clear."

FUNCTIONS: Final = (
    Function("quiet level", "dBm", "What arrives with nobody sending: noise, and whatever interferes.", at=""),
    Function(
        "level of a transmitter",
        "dBm",
        "Pressed five metres from the receiver.",
        at="transmitter",
        takes_s=30.0,
        caution=AWAKE,
    ),
    Function(
        "range of a transmitter",
        "m",
        "Walk away with it until its words are not understood any more.",
        at="transmitter",
        takes_s=300.0,
        caution=AWAKE,
    ),
    Function(
        "code of a transmitter",
        "words",
        "Two presses beside the reader: whether the word changes.",
        at="transmitter",
        takes_s=30.0,
        caution=AWAKE,
    ),
    Function("margin of an edge", "dB", "What a safety edge's radio link has in hand.", at="guard", takes_s=30.0),
)


class RadioLevelReader:
    """The level reader of a bag."""

    name = "radio level reader"
    group: Group = "guards and radio"
    help = "Levels at the radio receiver's aerial, range, and whether a transmitter's word changes."
    functions: tuple[Function, ...] = FUNCTIONS

    def place(self, world: World, use: Use) -> Undo:
        """Put it on the aerial; to measure a transmitter is to press it, twice for its code."""
        if use.at and use.function != "margin of an edge":
            for _ in range(2 if use.function == "code of a transmitter" else 1):
                world.counters[use.at] = world.counters.get(use.at, 0) + 1
                for pressed in (True, False):
                    radio.send(world, use.at, 1, pressed=pressed)
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What it shows; a pure look."""
        if use.function == "code of a transmitter":
            return Reading(_code(world, use.at))
        if use.function == "range of a transmitter":
            held = radio.transmitter(world, use.at)
            reached = radio_link.range_m(held.erp_dbm, held.charge, world.site.access.receiver)
            return Reading(Shown(float(round(reached)), "m", f"{reached:.0f} m"))
        if use.function == "margin of an edge":
            link = _link(world, use.at)
            if link is None:
                return Reading(Shown(None, "dB", said("no radio link there")))
            unit, level = "dB", by_itself.link_margin_db(link, world)
        else:
            unit, level = "dBm", self._level(world, use)
        if level is None:
            return Reading(Shown(None, unit, said("nothing is sent")))
        shown = round(level + NOISE_DB * normal(world.seed, self.name, use.function, index), 1) + 0.0
        return Reading(Shown(shown, unit, f"{shown:.1f} {unit}"))

    def _level(self, world: World, use: Use) -> float | None:
        quiet = radio_link.quiet_dbm(world.site.access.receiver)
        if use.function == "quiet level":
            return quiet
        level = radio.level_dbm(world, use.at, radio.NEAR_M)
        return None if level is None else max(level, quiet)


def _link(world: World, guard: str) -> RadioLink | None:
    device = world.site.guards.device(guard)
    return device.radio if isinstance(device, Edge) and world.cabinet.by_radio(guard) else None


def _code(world: World, tag: str) -> Shown:
    """Whether the last two words were the same."""
    sent = radio.word(world, tag, 1, pressed=True)
    if radio_link.droop_db(radio.transmitter(world, tag).charge) is None:
        return Shown(None, "words", said("nothing is sent"))
    return Shown(None, "words", said("the same word at each press" if sent.fixed else "another word at each press"))


__all__ = ["FUNCTIONS", "RadioLevelReader"]
