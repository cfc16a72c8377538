"""The nodal solver against two strangers: networkx on resistances, a dense solve by numpy on phasors."""

from __future__ import annotations

import random

import networkx
import numpy as np
import pytest

from sim.wiring.elements import Resistor
from sim.wiring.solve import Network


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
