"""The presence loop as it is wired, and its detector: an oscillator whose frequency tells how much metal is near."""

from __future__ import annotations

from typing import Final

from sim.devices.insulation import insulation
from sim.devices.joint import held_core
from sim.devices.loop import WIRE_MM2, loop_h, wire_ohm
from sim.devices.part import Terminal, Volts, pins
from sim.site import Cable, PresenceLoop
from sim.wiring.elements import Contact, Resistor, VoltageSource
from sim.wiring.netlist import Netlist

DETECTOR_OHM: Final = 800.0
"""The detector as a load: 30 mA at 24 V [Ω]. CP, no source."""

FEED_LEAST_V: Final = 18.0
"""Below this it sleeps [V]. CP, no source."""

SENSING_V: Final = 0.5
SENSING_OHM: Final = 1000.0
"""The direct part of what the oscillator sends through the loop: half a volt behind 1 kΩ. CP, no source."""

MOST_LOOP_OHM: Final = 30.0
"""With more than this in the loop the oscillator doesn't start [Ω]. CP, no source."""

LOOP: Final = "presence loop"
BURIED: Final = "presence loop in the ground"
DETECTOR: Final = "loop detector"

RELEASE: Final = 0.5
"""Presence ends where this share of the sensitivity is left. CP, no source."""

SOUND_OHM: Final = 100e6
"""A loop to the earth it lies in [Ω]; healthy at least 10 MΩ (facts 8.4, loop earthed)."""


class LoopDetector:
    """Loop, feeder, detector and the detector's contact on a command input."""

    def __init__(self, loop: PresenceLoop) -> None:
        self.loop = loop
        self.missing = 0.0
        """Share of the inductance that is missing now, as the oscillator has it."""
        self.tuned: float | None = None
        """The share that was missing when it was tuned; None while it has no feed."""
        self.present = False
        self.disturbed = False
        """Whether another loop's field beats with its own just now and looks like metal."""
        self.terminals: tuple[Terminal, ...] = (
            *pins(DETECTOR, "loop start", "loop end", "contact", "contact return", "supply plus", "supply minus"),
            *pins(BURIED, "start", "end"),
        )

    def stamp(self, net: Netlist) -> None:
        """Loop and feeder behind their plug; feed, sensing and contact."""
        feeder = Cable(length_m=self.loop.feeder_m, section_mm2=WIRE_MM2, conductor="stranded")
        plug, buried = pins(f"{LOOP} plug", "start", "end"), pins(BURIED, "start", "end")
        for near, far in zip(plug, buried, strict=True):
            net.add(*held_core(f"{LOOP}, feeder {near.pin} core", near, far, feeder, spliced=True))
        net.add(
            Resistor(f"{LOOP}, turns", f"{BURIED}.start", f"{BURIED}.end", wire_ohm(self.loop)),
            insulation(LOOP, f"{BURIED}.start", SOUND_OHM),
            VoltageSource(
                f"{DETECTOR}, oscillator", f"{DETECTOR}.sending", f"{DETECTOR}.loop end", SENSING_V, SENSING_OHM
            ),
            Contact(f"{DETECTOR}, sending", f"{DETECTOR}.sending", f"{DETECTOR}.loop start", False, 0.1),
            Resistor(f"{DETECTOR}, loop coupling", f"{DETECTOR}.loop end", f"{DETECTOR}.supply minus", 10e6),
            Contact(f"{DETECTOR}, output", f"{DETECTOR}.contact", f"{DETECTOR}.contact return", False, 0.1),
            Resistor(f"{DETECTOR}, contact wire", f"{DETECTOR} plug.contact", f"{DETECTOR}.contact", 0.02),
            Resistor(f"{DETECTOR}, return wire", f"{DETECTOR} plug.common", f"{DETECTOR}.contact return", 0.02),
            Resistor(f"{DETECTOR}, plus wire", "accessory supply plug.plus", f"{DETECTOR}.supply plus", 0.02),
            Resistor(f"{DETECTOR}, minus wire", "accessory supply plug.minus", f"{DETECTOR}.supply minus", 0.02),
            Resistor(f"{DETECTOR}, load", f"{DETECTOR}.supply plus", f"{DETECTOR}.supply minus", DETECTOR_OHM),
        )

    # -- what it notices -------------------------------------------------------------------------------

    def is_fed(self, volts: Volts) -> bool:
        """Whether it has its supply."""
        feed = volts(f"{DETECTOR}.supply plus", f"{DETECTOR}.supply minus")
        return feed is not None and feed >= FEED_LEAST_V

    def runs(self, volts: Volts) -> bool:
        """Whether its oscillator swings: it is fed and its loop is whole. Dark otherwise shows its fault light."""
        across = volts(f"{DETECTOR}.loop start", f"{DETECTOR}.loop end")
        if not self.is_fed(volts) or across is None:
            return False
        return across <= SENSING_V * MOST_LOOP_OHM / (MOST_LOOP_OHM + SENSING_OHM)

    def look(self, missing: float, *, disturbed: bool = False) -> bool:
        """What is missing of the inductance now; True if presence came or went."""
        self.missing, before = missing, (self.present, self.disturbed)
        self.disturbed = disturbed
        gone = 0.0 if self.tuned is None else missing - self.tuned
        least = self.loop.sensitivity * (RELEASE if self.present else 1.0)
        self.present = self.tuned is not None and gone >= least
        return (self.present, self.disturbed) != before

    def tune(self) -> None:
        """Take what there is now for nobody there."""
        self.tuned, self.present = self.missing, False

    def follow(self) -> None:
        """Metal that went away is taken for nobody after a while: what is there then is the new nothing."""
        if self.tuned is not None and self.missing < self.tuned:
            self.tune()

    def sleep(self) -> None:
        """Without a feed it forgets."""
        self.tuned, self.present, self.disturbed = None, False, False

    @property
    def shift(self) -> float:
        """dL/L since it was tuned; negative when metal is near."""
        return 0.0 if self.tuned is None else self.tuned - self.missing

    @property
    def henry(self) -> float:
        """The loop by itself, as it is now [H]."""
        return loop_h(self.loop) * (1.0 - self.loop.stray_metal)

    def react(self, net: Netlist, volts: Volts) -> bool:
        """The oscillator runs while it is fed; the contact closes for presence. True if one of them moved."""
        changed = net.switch(f"{DETECTOR}, sending", self.is_fed(volts))
        closed = (self.present or self.disturbed) and self.runs(volts)
        return net.switch(f"{DETECTOR}, output", closed) or changed
