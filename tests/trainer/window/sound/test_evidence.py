"""What a gate's ills sound like, in a real world: the ear hears where the chain from board to leaf is broken."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sim.instruments.toolbag import Toolbag
from sim.site import Site, with_changes
from sim.units import SECOND
from sim.wiring.elements import Resistor
from sim.world.actions import checked
from sim.world.world import World
from trainer.session.observe import leaf_views
from trainer.session.tools import tools_view
from trainer.session.view import View
from trainer.window.canned import CannedSession
from trainer.window.sound.ear import SILENT_A, Ear, Heard

BENCH = Site(name="Osier Bed")
STEP = SECOND // 10


class Listened:
    """A world, and an ear that listens to it ten times a second; all that a look needs beside it is canned."""

    def __init__(self, changes: dict[str, Any] | None = None) -> None:
        self.world = World(with_changes(BENCH, changes) if changes else BENCH, bag=Toolbag)
        self.ear = Ear()
        self.canned: View = CannedSession("practice", 7).observe()
        self.captions: list[str] = []
        self.world.run_to(self.world.now + SECOND)
        for setting, value in (("leaves fitted", "2"), ("drive kind", "linear ram"), ("opens first", "active")):
            self.do("set", setting=setting, value=value)
        for guard, fitted in self.world.site.guards.fitted.items():
            if not fitted:
                self.do("set", setting=guard, value="not fitted")
        self.listen()

    def do(self, kind: str, **arguments: Any) -> None:
        """One act."""
        self.world.do(checked(kind, arguments))

    def listen(self, seconds: float = 0.0) -> Heard:
        """Let time pass; what is heard at its end. Captions are kept."""
        heard = Heard()
        for _ in range(max(1, round(seconds * 10))):
            self.world.run_to(self.world.now + (STEP if seconds else 0))
            look = replace(
                self.canned, now=self.world.now, leaves=leaf_views(self.world), tools=tools_view(self.world.bag)
            )
            heard = self.ear.listen(look)
            self.captions += heard.captions
        return heard

    def jog(self) -> Heard:
        """Two seconds into a jog of the active leaf."""
        self.do("jog press", leaf="active", direction="open")
        return self.listen(2.0)


def test_a_sound_drive_clicks_then_hums() -> None:
    """And falls silent again after it was let go."""
    gate = Listened()
    assert [hum.leaf for hum in gate.jog().hums] == ["active"]
    assert gate.captions[:2] == ["relay click, cabinet", "motor hum, active leaf"]
    gate.do("jog release", leaf="active")
    assert gate.listen(3.0).hums == ()
    assert gate.captions[-1] in ("relay click, cabinet", "motor silent, active leaf")


def test_a_winding_that_is_broken_is_silent_behind_a_relay_that_clicks() -> None:
    """The board did what it was asked, and gives up when nothing turns."""
    gate = Listened({"drives.active.motor.winding_open": True})
    assert gate.jog().hums == ()
    assert set(gate.captions) == {"relay click, cabinet"}


def test_a_sheared_key_whines_higher_than_a_drive_that_moves_its_leaf() -> None:
    """The motor turns for nothing: faster, and with less to do."""
    moved, free = Listened().jog().hums[0], Listened({"drives.active.key": "sheared"}).jog().hums[0]
    assert free.hz > moved.hz
    assert free.load <= moved.load


def test_a_welded_relay_hums_without_a_click() -> None:
    """Nobody asked for anything, and yet the motor runs."""
    gate = Listened()
    gate.world.cabinet.netlist.add(
        Resistor("feed, welded", "board.active output", "active leaf motor.plus", 0.01),
        Resistor("return, welded", "active leaf motor.minus", "board.common", 0.01),
    )
    gate.world.rewired()
    assert [hum.leaf for hum in gate.listen(2.0).hums] == ["active"]
    assert abs(gate.world.plant.motor_current(0)) > SILENT_A
    assert "relay click, cabinet" not in gate.captions


@pytest.mark.parametrize(
    ("against", "said"),
    [
        ("active leaf motor, minus", "continuity tone, multimeter"),
        ("inactive leaf motor, plus", "no tone, multimeter"),
    ],
)
def test_the_tone_is_that_of_the_instrument_itself(against: str, said: str) -> None:
    """Through a motor there is a tone, from motor to motor there is none; dead, as it has to be."""
    gate = Listened()
    gate.do("isolate")

    gate.do("prove tester")
    given = {"instrument": "multimeter", "function": "continuity", "at": "active leaf motor, plus"}
    gate.do("place instrument", **given, against=against)
    gate.listen(1.0)
    gate.captions.clear()
    gate.do("read instrument", instrument="multimeter")
    gate.listen(0.1)
    assert gate.captions == [said]
