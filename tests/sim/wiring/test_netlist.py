"""Edits of a net: each hands back its undo, and an undo leaves no trace, not even in the last bit."""

from __future__ import annotations

import pickle
import random

import pytest

from sim.wiring import netlist
from sim.wiring.elements import Contact, CurrentSource, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, WiringError, in_turn


def divider() -> Netlist:
    return Netlist(
        [
            VoltageSource("source", "supply.plus", "supply.minus", 24.0, 0.1),
            Resistor("upper", "supply.plus", "middle.pin", 1000.0),
            Contact("lower", "middle.pin", "supply.minus", True, 0.3),
            CurrentSource("leak", "middle.pin", "supply.minus", 0.001),
        ]
    )


EDITS = {
    "add": lambda net: net.add(Resistor("more", "supply.plus", "middle.pin", 470.0)),
    "add two": lambda net: net.add(Resistor("more", "a.a", "b.b", 47.0), Resistor("most", "b.b", "middle.pin", 4.7)),
    "remove": lambda net: net.remove("upper"),
    "remove two": lambda net: net.remove("upper", "leak"),
    "change a value": lambda net: net.change("upper", ohm=333.0),
    "open a contact": lambda net: net.change("lower", closed=False),
    "move an end": lambda net: net.change("upper", b="elsewhere.pin"),
    "several": lambda net: in_turn(net.remove("upper"), net.change("leak", amps=0.0), net.remove("source")),
}


@pytest.mark.parametrize("edit", EDITS.values(), ids=EDITS)
def test_an_undo_restores_bit_for_bit(edit) -> None:
    """After the undo the net and every potential in it are what they were, to the last bit."""
    net = divider()
    state, before = net.state(), net.solution().between("middle.pin", "supply.minus")
    undo = edit(net)
    assert net.state() != state
    undo()
    assert net.state() == state
    assert net.solution().between("middle.pin", "supply.minus") == before


def test_nested_edits_come_back_in_any_order_that_does_not_cross() -> None:
    """Edits of different elements may be taken back in any order."""
    net = divider()
    state = net.state()
    undos = [net.change("upper", ohm=5.0), net.change("lower", closed=False), net.remove("leak")]
    random.Random(5).shuffle(undos)
    for undo in undos:
        undo()
    assert net.state() == state


def test_an_undo_out_of_its_order_is_refused() -> None:
    """An element that was changed again since can't be put back under the later edit's feet."""
    net = divider()
    first = net.change("upper", ohm=5.0)
    net.change("upper", ohm=6.0)
    with pytest.raises(WiringError, match="'upper' was changed since"):
        first()


def test_an_undo_works_once() -> None:
    """Taking the same edit back twice is an error, not a second edit."""
    net = divider()
    undo = net.change("upper", ohm=5.0)
    undo()
    with pytest.raises(WiringError, match="already taken back"):
        undo()


def test_wrong_names_are_told() -> None:
    """Unknown and doubled names are refused with the nearest right one."""
    net = divider()
    with pytest.raises(WiringError, match="did you mean 'upper'"):
        net.change("uper", ohm=1.0)
    with pytest.raises(WiringError, match="already has upper"):
        net.add(Resistor("upper", "a.a", "b.b", 1.0))
    with pytest.raises(WiringError, match="has no volts"):
        net.change("upper", volts=1.0)
    with pytest.raises(WiringError, match="no contact"):
        net.switch("upper", True)


def test_order_of_building_never_shows() -> None:
    """The same elements give the same key and the same bits, in whatever order they came."""
    elements = list(divider().elements.values())
    straight = Netlist(elements).solution().between("middle.pin", "supply.minus")
    for seed in range(20):
        random.Random(seed).shuffle(elements)
        net = Netlist(elements)
        assert net.key == divider().key
        assert net.solution().between("middle.pin", "supply.minus") == straight


def test_equal_marks_are_equal_nets(monkeypatch: pytest.MonkeyPatch) -> None:
    """Through random edits, undos and keyframes a net has the mark it had before exactly when it is that net again.

    Numbers are forgotten on the way: then an old net may get a new mark, but never another net an old one.
    """
    monkeypatch.setattr(netlist, "MOST_NUMBERED", 9)
    chance = random.Random(11)
    net = divider()
    frames = [net.state()]
    seen: dict[netlist.Mark, object] = {}
    again = 0
    for _ in range(400):
        name = chance.choice(("upper", "source", "lower", "more"))
        if name == "lower":
            net.switch(name, chance.random() < 0.5)
        elif name == "upper":
            net.change(name, ohm=float(chance.randint(1, 4)))
        elif name == "source":
            net.restore(chance.choice(frames))
        elif name in net:
            net.remove(name)
        else:
            net.add(Resistor(name, "a.a", "middle.pin", 1.0))
        frames.append(net.state())
        again += net.mark in seen
        assert seen.setdefault(net.mark, net.key) == net.key
        assert net.mark == net.mark
    assert again > 100


def test_elements_put_in_the_place_of_others() -> None:
    """What parts did once is done again at once: same net, same mark, same bits."""
    net = divider()
    mark = net.mark
    assert net.switch("lower", False)
    opened, opened_mark = net["lower"], net.mark
    assert net.switch("lower", True)
    assert net.mark == mark != opened_mark
    net.put([opened])
    assert net.mark == opened_mark
    assert net.solution().between("middle.pin", "source.none") is None
    assert net.key == tuple(sorted(net.elements.values(), key=lambda element: element.name))


def test_a_keyframe_is_plain_and_whole() -> None:
    """State survives pickling and rebuilds the same net."""
    net = divider()
    state = pickle.loads(pickle.dumps(net.state()))
    other = Netlist()
    other.restore(state)
    assert other.key == net.key
    assert all(isinstance(value, (str, int, float, bool)) for row in state for value in row)
