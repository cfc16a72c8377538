"""The nodal solver against strangers: networkx on resistances, a dense solve by numpy on phasors, examples of a
textbook, and the theorems that hold for every linear network."""

from __future__ import annotations

import random
from itertools import pairwise

import networkx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.wiring.elements import CurrentSource, Element, Resistor, VoltageSource
from sim.wiring.solve import Network, solve


def random_resistors(seed: int) -> tuple[Resistor, ...]:
    """A net of resistors over five decades, often in several islands, often with parallel ones."""
    rng = random.Random(seed)
    nodes = [f"node.{i:02d}" for i in range(rng.randint(2, 16))]
    count = rng.randint(1, 3 * len(nodes))
    found = []
    for i in range(count):
        a, b = rng.sample(nodes, 2)
        found.append(Resistor(f"resistor {i:03d}", a, b, 10.0 ** rng.uniform(-2, 3)))
    return tuple(found)


def test_resistance_between_any_two_nodes() -> None:
    """`networkx.resistance_distance` on 200 random nets agrees where nodes are joined; elsewhere there is none."""
    compared = apart = 0
    for seed in range(200):
        net = random_resistors(seed)
        network = Network(net)
        graph = networkx.MultiGraph()
        for resistor in net:
            graph.add_edge(resistor.a, resistor.b, ohm=resistor.ohm)
        rng = random.Random(seed)
        for _ in range(5):
            a, b = rng.sample(sorted(graph), 2)
            if not networkx.has_path(graph, a, b):
                assert network.resistance(a, b) is None
                apart += 1
                continue
            piece = graph.subgraph(networkx.node_connected_component(graph, a))
            expected = networkx.resistance_distance(piece, a, b, weight="ohm", invert_weight=True)
            assert network.resistance(a, b) == pytest.approx(expected, rel=1e-6)
            compared += 1
    assert compared > 500
    assert apart > 20


def test_phasors_against_a_dense_solve() -> None:
    """A nodal matrix filled in here and solved by numpy gives the same potentials."""
    for seed in range(100):
        rng = random.Random(seed)
        count = rng.randint(2, 20)
        nodes = [f"node.{i:02d}" for i in range(count)]
        matrix = np.zeros((count, count), dtype=complex)
        net = []
        for i in range(3 * count):
            a, b = (i % count, (i + 1) % count) if i < count - 1 else rng.sample(range(count), 2)
            size = 10.0 ** rng.uniform(-1, 3)
            ohm = complex(size, rng.uniform(-1, 1) * size)
            net.append(Resistor(f"impedance {i:03d}", nodes[a], nodes[b], ohm))
            for row, column, sign in ((a, a, 1), (b, b, 1), (a, b, -1), (b, a, -1)):
                matrix[row, column] += sign / ohm
        into, out = rng.sample(range(count), 2)
        right = np.zeros(count, dtype=complex)
        right[into], right[out] = 1.0, -1.0
        network = Network(tuple(net))
        level = np.array(network.potentials([(nodes[into], nodes[out], 1.0)]))
        level -= level[0]
        expected = np.zeros(count, dtype=complex)
        expected[1:] = np.linalg.solve(matrix[1:, 1:], right[1:])
        assert level == pytest.approx(expected, rel=1e-8, abs=1e-8 * np.abs(expected).max())


# -- theorems of linear networks (Kirchhoff, Maxwell; any book of circuit theory) ----------------------------


@settings(deadline=None, max_examples=150)
@given(st.integers(0, 10_000))
def test_reciprocity(seed: int) -> None:
    """A current between two nodes makes the voltage between two others that it would make the other way round."""
    net = random_resistors(seed)
    network, rng = Network(net), random.Random(seed)
    into, out_of, red, black = (rng.choice(network.nodes) for _ in range(4))
    if into == out_of or not (
        network.joined(into, out_of) and network.joined(red, into) and network.joined(red, black)
    ):
        return

    def made(fed: tuple[str, str], seen: tuple[str, str]) -> float:
        level, index = network.potentials([(*fed, 1.0)]), network.index
        return float((level[index[seen[0]]] - level[index[seen[1]]]).real)

    there, back = made((into, out_of), (red, black)), made((red, black), (into, out_of))
    scale = abs(made((into, out_of), (into, out_of))) + abs(made((red, black), (red, black)))
    assert there == pytest.approx(back, rel=1e-9, abs=1e-9 * scale)


def random_sources(seed: int) -> tuple[Element, ...]:
    """Sources of both kinds between nodes of a random net."""
    rng, nodes = random.Random(-1 - seed), Network(random_resistors(seed)).nodes
    found: list[Element] = []
    for i in range(rng.randint(1, 4)):
        a, b = rng.sample(nodes, 2)
        size = rng.uniform(-30.0, 30.0)
        if rng.random() < 0.5:
            found.append(VoltageSource(f"source {i}", a, b, size, 10.0 ** rng.uniform(-2, 2)))
        else:
            found.append(CurrentSource(f"source {i}", a, b, size, 10.0 ** rng.uniform(1, 6)))
    return tuple(found)


def quiet(source: Element) -> Element:
    """A source that drives nothing; its resistance stays."""
    return Resistor(source.name, source.a, source.b, source.ohm)


@settings(deadline=None, max_examples=100)
@given(st.integers(0, 10_000))
def test_superposition(seed: int) -> None:
    """All sources together make what each makes alone, added up, at every node."""
    net, sources = random_resistors(seed), random_sources(seed)
    whole = solve((*net, *sources))
    alone = [solve((*net, *(source if source is one else quiet(source) for source in sources))) for one in sources]
    nodes = whole.network.nodes
    for red, black in pairwise(nodes):
        together = whole.across(red, black)
        parts = [each.across(red, black) for each in alone]
        if together is None:
            assert parts == [None] * len(parts)
            continue
        size = sum(abs(part) for part in parts if part is not None)
        assert together == pytest.approx(sum(part for part in parts if part is not None), abs=1e-8 * (1.0 + size))


@settings(deadline=None, max_examples=100)
@given(st.integers(0, 10_000))
def test_no_power_is_made_from_nothing(seed: int) -> None:
    """Tellegen's theorem: what the sources give is what the rest takes, and Kirchhoff's current law at every node."""
    elements = (*random_resistors(seed), *random_sources(seed))
    solved = solve(elements)
    taken = [solved.power(element.name) for element in elements]
    # a lone source drives its whole current through its own resistance: what is left over is their last bits, so the
    # measure of both sums is what goes round inside sources as well
    inside = {e.name: abs(e.injection) for e in elements}
    across = {e.name: abs(solved.between(e.a, e.b) or 0.0) for e in elements}
    turned_over = sum(abs(power) for power in taken) + sum(inside[name] * across[name] for name in inside)
    assert sum(taken) == pytest.approx(0.0, abs=1e-9 * turned_over)
    for node in solved.network.nodes:
        flows = [solved.current(e.name) * ((e.a == node) - (e.b == node)) for e in elements if node in (e.a, e.b)]
        assert abs(sum(flows)) <= 1e-9 * sum(inside.values())


# -- worked examples -------------------------------------------------------------------------------------------


STIFF = 1e-9
"""The inner resistance of a textbook's battery that has none [Ω]."""


def test_a_divider_of_a_textbook() -> None:
    """1.00, 6.00 and 13.0 Ω in series on 12.0 V: 0.600 A and 0.600, 3.60, 7.80 V (OpenStax, College Physics, the
    first example on resistors in series and parallel, from memory); in parallel 14.92 A."""
    series = (
        VoltageSource("battery", "top", "bottom", 12.0, STIFF),
        Resistor("one", "top", "x", 1.0),
        Resistor("two", "x", "y", 6.0),
        Resistor("three", "y", "bottom", 13.0),
    )
    solved = solve(series)
    assert solved.current("one").real == pytest.approx(0.600, abs=5e-4)
    drops = [solved.between(e.a, e.b) for e in series[1:]]
    assert drops == pytest.approx([0.600, 3.60, 7.80], abs=5e-3)
    side_by_side = (series[0], *(Resistor(e.name, "top", "bottom", e.ohm) for e in series[1:]))
    assert -solve(side_by_side).current("battery").real == pytest.approx(14.92, abs=5e-3)


def test_an_unbalanced_bridge_of_a_textbook() -> None:
    """1000, 100, 400 and 41 Ω on 1.5 V with a galvanometer of 50 Ω (Scilab Textbook Companion, book 3830, example
    6.2): seen from the galvanometer 7.6 mV behind 314.8 Ω, by Thevenin's theorem as that page works it out, so that
    20.8 µA flow; balanced, with 40 Ω, none."""

    def bridge(unknown: float, *more: Element) -> tuple[Element, ...]:
        return (
            VoltageSource("battery", "top", "bottom", 1.5, STIFF),
            Resistor("arm one", "top", "left", 1000.0),
            Resistor("arm three", "left", "bottom", 400.0),
            Resistor("arm two", "top", "right", 100.0),
            Resistor("unknown", "right", "bottom", unknown),
            *more,
        )

    meter = Resistor("galvanometer", "right", "left", 50.0)
    open_volts = solve(bridge(41.0)).between("right", "left")
    seen = Network(bridge(41.0)).resistance("right", "left")
    assert open_volts is not None
    assert seen is not None
    assert open_volts.real == pytest.approx(1.5 * (41.0 / 141.0 - 400.0 / 1400.0), rel=1e-6)
    assert open_volts.real * 1e3 == pytest.approx(7.6, abs=0.05)
    assert seen.real == pytest.approx(314.8, abs=0.05)
    assert solve(bridge(41.0, meter)).current("galvanometer").real * 1e6 == pytest.approx(20.8, abs=0.05)
    assert abs(solve(bridge(40.0, meter)).current("galvanometer")) < 1e-9
