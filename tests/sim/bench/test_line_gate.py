"""The line gate: skipped time is stepped time to the bit, and a gate that was kept goes on as if nothing had been."""

from __future__ import annotations

import random

import pytest

from sim.bench.line_gate import LineGate
from sim.controller import ReferenceController
from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS, Drive, Outputs, Panel, RadioWord, Scan
from sim.errors import ActionError, ControllerError

SHEET = {"leaves fitted": "2", "drive kind": "linear ram", "opens first": "active", "slow speed": 35}


def ready_gate(**how) -> LineGate:
    """A gate whose travel is learned, shut."""
    gate = LineGate(**how)
    for leaf, position, offset in zip(gate.leaves, (500.0, 420.0), (40, -7), strict=True):
        leaf.position, leaf.offset, leaf.shown = position, offset, offset + int(position)
    gate.run(1.0)
    gate.write(SHEET)
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    return gate


def all_of(gate: LineGate) -> tuple:
    leaves = [leaf.keep() for leaf in gate.leaves]
    return gate.now, leaves, gate.outputs, gate.controller.panel()


def disturb(gate: LineGate, chance: random.Random) -> None:
    """Anything that can be done to a gate."""
    what = chance.randrange(7)
    leaf = gate.leaves[chance.randrange(2)]
    if what == 0:
        gate.press(chance.choice(COMMAND_TERMINALS))
    elif what == 1:
        gate.pressed.clear()
    elif what == 2:
        gate.trip(chance.choice(GUARD_TERMINALS))
    elif what == 3:
        gate.tripped.clear()
    elif what == 4:
        leaf.blocked_below, leaf.blocked_above = leaf.position - 7.5, leaf.position + 31.0
    elif what == 5:
        leaf.blocked_below, leaf.blocked_above = -1e9, 1e9
    else:
        gate.supply_v = chance.choice((3.0, 27.0, 27.0, 27.0))


@pytest.mark.parametrize("seed", range(8))
def test_skipped_time_is_stepped_time_to_the_bit(seed: int) -> None:
    """Whatever is done to it, a gate that skips and one that steps every 10 ms have the same outputs and places."""
    skips, steps = ready_gate(), ready_gate(on_step=[lambda gate: None])
    assert all_of(skips) == all_of(steps)
    for gate in (skips, steps):
        chance = random.Random(seed)
        for _ in range(25):
            gate.tripped.clear()
            gate.pressed.clear()
            gate.run(0.05)
            gate.press(chance.choice(COMMAND_TERMINALS[:3]))
            gate.run(chance.uniform(0.1, 9.0))
            disturb(gate, chance)
            gate.run(chance.uniform(0.02, 15.0))
        gate.supply_v = 27.0
        gate.run(30.0)
    assert skips.trace == steps.trace
    assert all_of(skips) == all_of(steps)
    assert skips.scans == steps.scans


def test_skipping_passes_no_mark() -> None:
    """With a mark at 300 counts every leaf is seen within one step behind it."""
    gate = ready_gate()
    gate.marks = (300.0,)
    gate.press("open button")
    seen = []
    while gate.state != "open":
        gate.step()
        seen.append(tuple(leaf.position for leaf in gate.leaves))
        gate.skip(gate.now + 60_000_000)
    for index in (0, 1):
        before = max(at for at in (each[index] for each in seen) if at < 300.0)
        behind = min(at for at in (each[index] for each in seen) if at >= 300.0)
        assert behind - before <= 2.0
    assert len(seen) < gate.now / 10_000 / 20


@pytest.mark.parametrize("seconds", [0.3, 2.5, 5.0, 8.0, 14.0])
def test_kept_gate_goes_on_as_if_nothing_had_been(seconds: float) -> None:
    """A gate that was taken elsewhere and put back does what it would have done."""
    gate = ready_gate()
    gate.press("step button")
    gate.run(seconds)
    kept = gate.keep()
    gate.run(20.0)
    straight = all_of(gate)
    gate.supply_v = 3.0
    gate.trip("stop circuit")
    gate.run(1.0)
    gate.restore(kept)
    gate.run(20.0)
    assert all_of(gate) == straight


class Plain:
    """A controller that drives the first leaf while the open button is pressed, and declares no watches."""

    def __init__(self) -> None:
        self.seconds_driven = 0.0
        self.told = lambda: "a function can't be pickled"

    def power_up(self, now) -> None:
        self.seconds_driven = 0.0

    def scan(self, now, inputs) -> Scan:
        pressed = inputs.command_v[0] < 12.0
        self.seconds_driven += 0.01 * pressed
        return Scan(Outputs(active=Drive(1.0 if pressed else 0.0)))

    def panel(self) -> Panel:
        return Panel("driven" if self.seconds_driven else "at rest", "")


class Slotted(Plain):
    """The same one without a dictionary of its own for one of its attributes."""

    __slots__ = ("words",)


@pytest.mark.parametrize("make", [Plain, Slotted])
def test_anybodys_controller_is_kept_whatever_it_is_made_of(make) -> None:
    """One without watches is asked every 10 ms; one that can't be pickled is copied."""
    gate = LineGate(controller=make())
    gate.controller.words = ["one"]
    gate.run(1.0)
    assert gate.scans == 100
    gate.press("open button")
    gate.run(1.0)
    kept = gate.keep()
    driven, place = gate.controller.seconds_driven, gate.leaves[0].position
    assert place > 50.0
    gate.controller.words.append("two")
    gate.run(1.0)
    assert gate.controller.seconds_driven > driven
    gate.restore(kept)
    assert (gate.controller.seconds_driven, gate.leaves[0].position) == (driven, place)
    assert gate.controller.words == ["one"]


def test_copy_of_a_reference_controller_is_whole() -> None:
    """What a subclass adds is kept as well, and the copy shares nothing with the first."""

    class Counting(ReferenceController):
        asked = 0

        def scan(self, now, inputs):
            self.asked += 1
            return super().scan(now, inputs)

    gate = ready_gate()
    gate.controller.__class__ = Counting
    gate.press("open button")
    gate.run(3.0)
    kept, asked, memory = gate.keep(), gate.controller.asked, gate.controller.state()
    gate.run(30.0)
    assert gate.controller.asked > asked
    gate.restore(kept)
    assert gate.controller.asked == asked
    assert gate.controller.state() == memory


def test_what_is_not_there_is_refused_in_words() -> None:
    """A control, a guard or a setting there is none of."""
    gate = LineGate()
    with pytest.raises(ActionError, match="no control 'opn button'; did you mean 'open button'"):
        gate.press("opn button")
    with pytest.raises(ActionError, match="no guard 'outer bean'; did you mean 'outer beam'"):
        gate.trip("outer bean")
    gate.run(1.0)
    with pytest.raises(ControllerError, match="'slow speed' can't be set to '999'"):
        gate.write({"slow speed": 999})
    with pytest.raises(ControllerError, match=r"still 'at rest' .* after 3 s"):
        gate.until_shown(lambda shown: shown.state == "closed", 3.0)


def test_radio_word_is_heard_once() -> None:
    """A word that is enrolled by pressing acts as a command at the next press, and not again by itself."""
    gate = ready_gate()
    gate.ask("enrol", "somebody", "open")
    gate.send("one", 1, 5)
    gate.hear(RadioWord("one", 1, 6, True))
    gate.run(60.0)
    assert gate.state == "open"
    assert [word.verdict for word in gate.controller.panel().heard] == ["enrolled", "accepted"]
