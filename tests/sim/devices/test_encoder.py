"""What the board counts follows from the net: supply, lines, and under which terminal each ends."""

from __future__ import annotations

import pytest

from sim.devices.cabinet import Cabinet, build_cabinet
from sim.devices.encoder import Counting
from sim.site import Site, with_changes
from sim.wiring.elements import Resistor

BOTH = (Counting(0), Counting(1))


def exchange(cabinet: Cabinet, one: str, other: str) -> None:
    """Two cores under each other's terminal at the board."""
    net = cabinet.netlist
    here, there = net[one].a, net[other].a
    net.change(one, a=there)
    net.change(other, a=here)


def test_each_counter_counts_its_own_encoder(cabinet: Cabinet) -> None:
    """As it is built; and without the board's power nothing counts."""
    assert cabinet.counting() == BOTH
    cabinet.isolate()
    cabinet.remove_battery_link()
    assert cabinet.counting() == (Counting(None), Counting(None))


@pytest.mark.parametrize(
    ("element", "ohm"),
    [
        ("active encoder, plus core", 1e6),
        ("active encoder, minus core", 1e6),
        ("active encoder, signal core", 1e6),
        ("active encoder, signal transistor", 1e6),
        ("active encoder, signal pull-up", 1e7),
    ],
)
def test_a_broken_conductor_anywhere_stops_the_count(cabinet: Cabinet, element: str, ohm: float) -> None:
    """Supply, return, line, output, pull-up: each is needed, and the other leaf's counter goes on."""
    cabinet.netlist.change(element, ohm=ohm)
    assert cabinet.counting() == (Counting(None), Counting(1))


def test_a_line_shorted_to_common_stops_the_count(cabinet: Cabinet) -> None:
    """Stuck low is as dead as stuck high."""
    cabinet.netlist.add(
        Resistor("short", "active encoder at the leaf.signal", "active encoder at the leaf.minus", 5.0)
    )
    assert cabinet.counting() == (Counting(None), Counting(1))


def test_crossed_cables_count_each_other(cabinet: Cabinet) -> None:
    """Signal cores under each other's terminal."""
    exchange(cabinet, "active encoder, signal core", "inactive encoder, signal core")
    assert cabinet.counting() == (Counting(1), Counting(0))


def test_exchanged_lines_count_backwards(site: Site) -> None:
    """With two lines the order of them tells the way."""
    two = build_cabinet(with_changes(site, {"drives.active.sensing.channels": "two"}))
    assert two.counting() == BOTH
    assert two.tells_way(0)
    assert not two.tells_way(1)
    exchange(two, "active encoder, signal core", "active encoder, second signal core")
    assert two.counting() == (Counting(0, -1), Counting(1))


def test_a_screen_that_is_off_lets_noise_in(cabinet: Cabinet) -> None:
    """None while it is on its joint; the more ohms there, the more."""
    assert cabinet.wander() == (0.0, 0.0)
    found = []
    for ohm in (100.0, 1e3, 1e6):
        cabinet.netlist.change("active encoder, screen joint", ohm=ohm)
        found.append(cabinet.wander()[0])
    assert 0.0 < found[0] < found[1] < found[2] <= 0.1
    assert cabinet.wander()[1] == 0.0


def test_a_line_stands_high_or_low_by_the_rotor_s_place(cabinet: Cabinet) -> None:
    """A quarter of a pulse on it is let go, three quarters on pulled down; while it turns a meter sees the mean."""

    def level() -> float:
        found = cabinet.volts("active encoder, signal", "active encoder, minus")
        assert found is not None
        return found

    cabinet.set_encoder(0, 7.25)
    high = level()
    cabinet.set_encoder(0, 7.75)
    low = level()
    cabinet.set_encoder(0, None)
    mean = level()
    assert high > 4.5
    assert low < 0.5
    assert mean == pytest.approx((high + low) / 2.0, abs=0.15)


def test_no_encoder_no_terminals(site: Site) -> None:
    """A drive without an encoder has none of its terminals, and its counter counts nothing."""
    bare = build_cabinet(with_changes(site, {"drives.active.sensing.kind": "none"}))
    assert "active encoder, signal" not in bare.terminals
    assert bare.counting() == (Counting(None), Counting(1))
