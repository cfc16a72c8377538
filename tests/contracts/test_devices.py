"""Every part of every shipped site: made from what the site says, named in words, changed and put back to the bit,
kept as base types and found again, and the same each time it is made.

Nothing here knows the parts: one that is added is tested the day a site has it.
"""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Final

import pytest

from sim.devices.cabinet import Cabinet, build_cabinet
from sim.devices.fitting import Fittings
from sim.site import load_site
from sim.units import SECOND
from sim.wiring.elements import Contact
from sim.wiring.netlist import Netlist
from sim.world.world import World

FILES: Final = sorted((Path(__file__).parents[2] / "scenarios" / "sites").glob("*.yaml"))
every_site = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)

PLAIN_WORDS: Final = re.compile(r"[a-z][a-z0-9 ,'()-]*", re.IGNORECASE)
"""Names are words; no codes."""


@cache
def cabinet_of(path: Path) -> Cabinet:
    """The cabinet of a site, at rest; tests leave it as they found it."""
    return build_cabinet(load_site(path))


@every_site
def test_every_part_says_what_it_is(path: Path) -> None:
    """Its terminals are named once, in words, each with a node of the net it says it is on."""
    fitted = Fittings(load_site(path))
    net, mains = Netlist(), Netlist()
    fitted.stamp(net, mains)
    nodes = {
        "low voltage": {end for e in net.elements.values() for end in (e.a, e.b)},
        "mains": {end for e in mains.elements.values() for end in (e.a, e.b)},
    }
    names = [terminal.name for terminal in fitted.terminals()]
    assert len(names) == len(set(names)) > 40
    for terminal in fitted.terminals():
        assert PLAIN_WORDS.fullmatch(terminal.name), terminal.name
        assert terminal.node in nodes[terminal.net], terminal.name


@every_site
def test_made_again_it_is_the_same(path: Path) -> None:
    """The same site gives the same nets, element by element, and the same potentials to the bit."""
    one, other = cabinet_of(path), build_cabinet(load_site(path))
    assert one.netlist.key == other.netlist.key
    assert one.mains.key == other.mains.key
    for terminal in one.terminals.values():
        if terminal.net == "low voltage":
            here, there = (each.netlist.solution().volts(terminal.node, "board.common") for each in (one, other))
            assert here == there


@every_site
def test_every_element_can_be_changed_and_is_put_back_to_the_bit(path: Path) -> None:
    """Of every part: a contact thrown, an end laid elsewhere, anything taken out; the undo leaves no trace."""
    cabinet = cabinet_of(path)
    before = (cabinet.netlist.key, cabinet.mains.key, cabinet.wiring())
    for net in (cabinet.netlist, cabinet.mains):
        for element in list(net.elements.values()):
            change = {"closed": not element.closed} if isinstance(element, Contact) else {"b": "somewhere else"}
            back = net.change(element.name, **change)
            assert net[element.name] != element
            back()
            out = net.remove(element.name)
            assert element.name not in net
            out()
            assert net[element.name] == element
    assert (cabinet.netlist.key, cabinet.mains.key, cabinet.wiring()) == before


@every_site
def test_it_is_kept_as_base_types_and_comes_back(path: Path) -> None:
    """A cabinet's state goes through text and into another cabinet of the site, which then reads the same."""
    site = load_site(path)
    first = World(site, seed=5)
    first.run_to(2 * SECOND)
    first.cabinet.press("open button")
    state = first.cabinet.state()
    assert _plain(state)
    other = build_cabinet(site)
    other.restore_state(state)
    assert other.state() == state
    assert other.command_volts() == first.cabinet.command_volts()
    assert other.guard_volts() == first.cabinet.guard_volts()
    json.dumps(_listed(state))


def _plain(value: object) -> bool:
    if isinstance(value, (tuple, list)):
        return all(_plain(each) for each in value)
    return value is None or isinstance(value, (str, int, float, complex, bool))


def _listed(value: object) -> object:
    """For JSON, which has no complex numbers."""
    if isinstance(value, (tuple, list)):
        return [_listed(each) for each in value]
    return [value.real, value.imag] if isinstance(value, complex) else value
