"""Nodal solution: by hand, and by the laws any net of conductances obeys."""

from __future__ import annotations

import pickle
import random

import pytest

from sim.wiring.elements import Contact, CurrentSource, Element, Resistor, VoltageSource
from sim.wiring.solve import Network, NoPath, solve


def random_net(seed: int, *, phasors: bool = False) -> tuple[Element, ...]:
    """A connected net with sources of both kinds; complex when `phasors`."""
    rng = random.Random(seed)
    nodes = [f"node.{i:02d}" for i in range(rng.randint(3, 14))]

    def value(low: float, high: float) -> complex:
        size = low * (high / low) ** rng.random()
        return complex(size, rng.uniform(-0.5, 0.5) * size) if phasors else size

    found: list[Element] = [
        Resistor(f"tree {i}", nodes[i], nodes[rng.randrange(i)], value(0.01, 1e5)) for i in range(1, len(nodes))
    ]
    for i in range(rng.randint(1, 12)):
        a, b = rng.sample(nodes, 2)
        kind = rng.randrange(4)
        if kind == 0:
            found.append(VoltageSource(f"more {i}", a, b, value(1.0, 30.0), value(0.01, 100.0)))
        elif kind == 1:
            found.append(CurrentSource(f"more {i}", a, b, value(0.001, 5.0), value(1e3, 1e6)))
        elif kind == 2:
            found.append(Contact(f"more {i}", a, b, rng.random() < 0.5, value(0.005, 1.0)))
        else:
            found.append(Resistor(f"more {i}", a, b, value(0.01, 1e5)))
    return tuple(sorted(found, key=lambda e: e.name))


def test_a_loaded_divider() -> None:
    """24 V behind 100 Ω into 200 Ω and 300 Ω in series: 24·300/600 = 12 V, 40 mA. By hand."""
    solved = solve(
        (
            Resistor("lower", "middle.pin", "minus.pin", 300.0),
            VoltageSource("source", "plus.pin", "minus.pin", 24.0, 100.0),
            Resistor("upper", "plus.pin", "middle.pin", 200.0),
        )
    )
    assert solved.volts("middle.pin", "minus.pin") == pytest.approx(12.0, rel=1e-14)
    assert solved.current("upper").real == pytest.approx(0.040, rel=1e-14)
    assert solved.current("source").real == pytest.approx(-0.040, rel=1e-14)


def test_a_balanced_bridge() -> None:
    """A balanced Wheatstone bridge has nothing across its middle, and 15 Ω across its ends. By hand."""
    network = Network(
        (
            Resistor("one", "a.a", "b.b", 10.0),
            Resistor("two", "b.b", "d.d", 20.0),
            Resistor("three", "a.a", "c.c", 10.0),
            Resistor("four", "c.c", "d.d", 20.0),
            Resistor("middle", "b.b", "c.c", 7.0),
        )
    )
    level = network.potentials([("a.a", "d.d", 1.0)])
    assert level[network.index["b.b"]] - level[network.index["c.c"]] == pytest.approx(0.0, abs=1e-15)
    assert network.resistance("a.a", "d.d") == pytest.approx(15.0, rel=1e-14)


def test_a_phasor_divider() -> None:
    """230 V over 30 Ω and j40 Ω in series: 138 V across the resistor, 184 V across the coil (3-4-5). By hand."""
    solved = solve(
        (
            Resistor("coil", "middle.pin", "neutral.pin", 40j),
            VoltageSource("mains", "live.pin", "neutral.pin", complex(230.0), complex(1e-9)),
            Resistor("resistor", "live.pin", "middle.pin", complex(30.0)),
        )
    )
    assert abs(solved.between("live.pin", "middle.pin") or 0.0) == pytest.approx(138.0, rel=1e-9)
    assert abs(solved.between("middle.pin", "neutral.pin") or 0.0) == pytest.approx(184.0, rel=1e-9)


def test_what_nothing_joins_floats() -> None:
    """Between islands there is no voltage, and an unknown node is joined to nothing."""
    solved = solve(
        (
            VoltageSource("one", "a.plus", "a.minus", 12.0, 1.0),
            VoltageSource("two", "b.plus", "b.minus", 5.0, 1.0),
        )
    )
    assert solved.volts("a.plus", "a.minus") == 12.0
    assert solved.volts("b.plus", "b.minus") == 5.0
    assert solved.volts("a.plus", "b.plus") is None
    assert solved.volts("a.minus", "b.minus") is None
    assert solved.volts("a.plus", "nowhere.pin") is None


def test_two_opens_in_series_leave_no_reading() -> None:
    """One open contact shows the whole source; with a second one in series the piece between them shows nothing."""

    def loop(first: bool, second: bool) -> tuple[Element, ...]:
        return (
            Contact("first", "source.plus", "middle.pin", first),
            Contact("second", "middle.pin", "end.pin", second),
            Resistor("load", "end.pin", "source.minus", 100.0),
            VoltageSource("source", "source.plus", "source.minus", 24.0, 0.5),
        )

    assert solve(loop(False, True)).volts("source.plus", "middle.pin") == pytest.approx(24.0)
    both = solve(loop(False, False))
    assert both.volts("source.plus", "middle.pin") is None
    assert both.volts("middle.pin", "end.pin") is None


def test_a_current_needs_a_path() -> None:
    """A current between islands is refused, not led through a hidden tie."""
    network = Network((Resistor("one", "a.a", "b.b", 1.0), Resistor("two", "c.c", "d.d", 1.0)))
    with pytest.raises(NoPath, match=r"from 'c\.c' to 'a\.a'"):
        network.potentials([("a.a", "c.c", 1.0)])


@pytest.mark.parametrize("phasors", [False, True])
def test_power_balances(phasors: bool) -> None:
    """Tellegen: what all elements take adds up to nothing, in every net (real power and phasors alike)."""
    for seed in range(100):
        net = random_net(seed, phasors=phasors)
        solved = solve(net)
        taken = [solved.power(element.name) for element in net]
        scale = sum(abs(p) for p in taken)
        assert abs(sum(taken)) <= 1e-9 * scale + 1e-15


@pytest.mark.parametrize("phasors", [False, True])
def test_currents_meet_at_every_node(phasors: bool) -> None:
    """Kirchhoff: what flows into a node flows out of it."""
    for seed in range(100):
        net = random_net(seed, phasors=phasors)
        solved = solve(net)
        highest = max(abs(solved.between(n, solved.network.nodes[0]) or 0.0) for n in solved.network.nodes)
        for node in solved.network.nodes:
            here = [e for e in net if node in (e.a, e.b)]
            flows = [solved.current(e.name) * (1 if e.a == node else -1) for e in here]
            # what rounding of the potentials alone can make of the currents
            rounding = 1e-13 * highest * sum(abs(e.siemens) for e in here)
            assert abs(sum(flows)) <= 1e-9 * sum(abs(f) for f in flows) + rounding


def test_reciprocity() -> None:
    """One ampere at one pair of nodes shows at another pair what it would show the other way round."""
    for seed in range(100):
        network = Network(random_net(seed))
        rng = random.Random(seed)
        (a, b), (c, d) = rng.sample(network.nodes, 2), rng.sample(network.nodes, 2)
        one, other = network.potentials([(a, b, 1.0)]), network.potentials([(c, d, 1.0)])
        at = network.index
        forward, backward = one[at[c]] - one[at[d]], other[at[a]] - other[at[b]]
        size = max(abs(x) for x in (*one, *other))
        assert abs(forward - backward) <= 1e-9 * size


def test_superposition() -> None:
    """The effect of all sources is the sum of their effects one at a time."""
    for seed in range(100):
        net = random_net(seed)
        network = Network(net)
        drives = [(e.a, e.b, e.injection) for e in net if e.injection]
        together = network.potentials(drives)
        apart = [network.potentials([drive]) for drive in drives]
        size = max((abs(x) for one in apart for x in one), default=0.0)
        for node in range(len(network.nodes)):
            assert abs(together[node] - sum(one[node] for one in apart)) <= 1e-9 * size + 1e-15


def test_same_bits_every_time() -> None:
    """Elimination has one order: a net solved again, apart from any cache, has the same bits."""
    for seed in range(30):
        net = random_net(seed)
        drives = [(e.a, e.b, e.injection) for e in net if e.injection]
        assert Network(net).potentials(drives) == Network(pickle.loads(pickle.dumps(net))).potentials(drives)
