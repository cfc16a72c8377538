"""Plays on the line gate, told whole: what is driven and said, to the hundredth of a second, beside what was before.

The other files here say what must be so; this one says that nothing else changed with it: a number, an order of
words, a line of the panel. What a play tells is kept in `tests/golden/plays` and may only change on purpose.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from sim.controller.ports import Drive, Outputs

GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "plays"


class Teller:
    """Writes down what a gate drives and says."""

    def __init__(self, gate: Any) -> None:
        self.gate, self.lines = gate, []
        gate.mark()
        self._traced = len(gate.trace)

    def act(self, words: str) -> None:
        """A heading; before it, what happened since the last one, and how the gate stands now."""
        gate = self.gate
        said = [(at, text) for at, text in gate.controller.panel().log[gate._told :]]
        drives = [(at, _driven(outputs)) for at, outputs in gate.trace[self._traced :]]
        told = sorted([*said, *drives], key=lambda each: each[0])
        self.lines += [f"{(at - gate._began) / 1e6:9.2f}  {text}" for at, text in told]
        gate._told, self._traced = len(gate.controller.panel().log), len(gate.trace)
        self.lines += [*_stands(gate), "", f"{(gate.now - gate._began) / 1e6:9.2f}  * {words}"]


def _driven(outputs: Outputs) -> str:
    lit = [name for name in ("lamp", "emitter_supply", "yard_light", "lock") if getattr(outputs, name)]
    return f"[{_bridge(outputs.active)} | {_bridge(outputs.inactive)} | {', '.join(lit)}]"


def _bridge(drive: Drive) -> str:
    if not drive.duty:
        return "brake" if drive.brake else f"off {drive.slew_per_s:g}/s"
    return f"{drive.duty:+.3g} {drive.slew_per_s:.3g}/s {drive.limit_a:.3g} A"


def _stands(gate: Any) -> Iterator[str]:
    panel = gate.controller.panel()
    yield f"           {panel.state}: {panel.message}; at {gate.positions}; answer: {panel.answer}"
    yield f"           waits for {'; '.join(panel.waits_for)}"
    for line in panel.inputs:
        if line.blocks or not (line.meaning.startswith("clear") or line.meaning in ("not given", "not reached")):
            yield f"           {line.name} {line.reads}: {line.meaning}{', blocks' * line.blocks}"
    yield f"           counted: {panel.counted}"


def commands(tell: Teller) -> None:
    """Every control, one after the other, and against each other."""
    gate = tell.gate
    gate.write({"yard light": "on", "electric lock": "fitted", "auto-close": "on", "auto-close after": 20})
    for control in ("open button", "pedestrian button", "step button", "key switch", "close button", "step button"):
        for seconds in (1.0, 6.0, 14.0):
            tell.act(f"{control}, then {seconds} s")
            gate.tap(control)
            gate.run(seconds)
    tell.act("timer contact")
    gate.press("timer contact")
    gate.run(40.0)
    gate.release("timer contact")
    tell.act("emergency contact")
    gate.press("emergency contact")
    gate.run(20.0)
    gate.release("emergency contact")
    tell.act("open and close together")
    gate.press("open button")
    gate.press("close button")
    gate.run(4.0)
    gate.release("open button")
    gate.release("close button")
    tell.act("closed in the end")
    gate.tap("close button")
    gate.run(30.0)


def guards(tell: Teller) -> None:
    """Every guard in both movements and at rest, and a test that fails."""
    gate = tell.gate
    gate.write({"auto-close": "on", "auto-close after": 5, "auto-close after a passage": 2})
    for guard in ("outer beam", "inner beam", "active edge", "inactive edge", "stop circuit"):
        for control in ("open button", "close button"):
            tell.act(f"{control}, {guard} on the way")
            gate.tap(control)
            gate.run(4.5)
            gate.trip(guard)
            gate.run(4.0)
            gate.clear(guard)
            gate.run(12.0)
    tell.act("a beam that doesn't follow its supply")
    gate.deaf.add("inner beam")
    gate.tap("open button")
    gate.run(5.0)
    gate.deaf.clear()
    gate.tap("open button")
    gate.run(30.0)


def obstacles(tell: Teller) -> None:
    """Met on closing and on opening, near and far from the stops, in the lap and after it."""
    gate = tell.gate
    gate.write({"seating push": 1.0, "obstacle retries": 1, "auto-close": "on", "auto-close after": 5})
    for leaf, place in ((0, 40.0), (1, 120.0), (0, 400.0), (1, 900.0)):
        tell.act(f"leaf {leaf} met something at {place} on opening")
        gate.leaves[leaf].blocked_above = place
        gate.tap("open button")
        gate.run(15.0)
        gate.leaves[leaf].blocked_above = 1e9
        gate.tap("open button")
        gate.run(12.0)
        tell.act(f"and on closing at {place - 20.0}")
        gate.leaves[leaf].blocked_below = place - 20.0
        gate.tap("close button")
        gate.run(40.0)
        gate.leaves[leaf].blocked_below = -1e9
        gate.tap("close button")
        gate.run(15.0)


def power(tell: Teller) -> None:
    """Cut off on its way, on battery, low; found again, jogged, held to run."""
    gate = tell.gate
    gate.write({"key switch": "hold-to-run open"})
    for seconds in (3.0, 5.0):
        tell.act(f"cut off {seconds} s after an opening")
        gate.tap("open button")
        gate.run(seconds)
        gate.supply_v = 5.0
        gate.run(2.0)
        gate.supply_v = 27.3
        gate.run(2.0)
        tell.act("found")
        gate.tap("close button")
        gate.run(45.0)
    for control in ("key switch", "close button"):
        tell.act(f"{control} held, and let go")
        for seconds in (3.5, 12.0):
            gate.press(control)
            gate.run(seconds)
            gate.release(control)
            gate.run(2.0)
    tell.act("on battery")
    gate.on_battery, gate.supply_v = True, 25.0
    gate.tap("open button")
    gate.run(15.0)
    tell.act("low")
    gate.supply_v = 21.5
    gate.tap("close button")
    gate.run(15.0)
    gate.on_battery, gate.supply_v = False, 27.3
    gate.run(2.0)
    for leaf in ("active", "inactive"):
        for way in ("close", "open"):
            tell.act(f"jog {leaf} {way}")
            gate.ask("jog", leaf, way)
            gate.run(2.0)
            gate.ask("jog", leaf, "release")
            gate.run(1.0)
    tell.act("closed in the end")
    gate.tap("close button")
    gate.run(60.0)


def learns(tell: Teller) -> None:
    """Travel learning from half open, ended early and whole; a stroke each way after it."""
    gate = tell.gate
    tell.act("learn, and a beam")
    gate.ask("learn")
    gate.run(12.0)
    gate.trip("outer beam")
    gate.run(2.0)
    gate.clear("outer beam")
    tell.act("learn")
    gate.ask("learn")
    gate.run(170.0)
    for control in ("open button", "close button"):
        tell.act(control)
        gate.tap(control)
        gate.run(14.0)


PLAYS: dict[str, Callable[[Teller], None]] = {
    play.__name__: play for play in (commands, guards, obstacles, power, learns)
}

KINDS = ("encoder", "mains, encoder", "running time", "in the motor lead", "to the board, open when reached")


@pytest.fixture
def make(make_gate, make_fresh, make_switched) -> Callable[[str, bool], Any]:
    """Makes gates by how the place of their leaves is known: (kind, whether it has learned)."""

    def make(kind: str, learned: bool) -> Any:
        if kind.startswith(("in the", "to the")):
            return make_switched(kind, learned)
        if kind == "encoder" and learned:
            return make_gate()
        gate = make_fresh()
        gate.write({"leaves fitted": "2", "drive kind": "linear ram", "opens first": "active"})
        gate.write({"motor kind": "mains, one speed"} if kind.startswith("mains") else {"position sensing": kind})
        if learned:
            gate.ask("learn")
            gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
            gate.run(1.0)
        return gate

    return make


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", list(PLAYS))
def test_it_is_told_as_before(make, name: str, kind: str) -> None:
    """Blessed anew by running with GUDGEON_BLESS=1, when it was meant."""
    tell = Teller(make(kind, name != "learns"))
    PLAYS[name](tell)
    tell.act("the end")
    told, kept = "\n".join(tell.lines) + "\n", GOLDEN / f"{name}, {kind.split(',')[0]}.txt"
    if os.environ.get("GUDGEON_BLESS") == "1":
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(told, encoding="utf-8")
    assert told.splitlines() == kept.read_text(encoding="utf-8").splitlines()
