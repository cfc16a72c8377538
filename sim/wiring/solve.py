"""Nodal solution by elimination in a fixed order, on real or complex values, with nothing but + − × ÷.

A node is eliminated by turning the star of conductances around it into a mesh between its neighbours. On real
values this only ever adds positive numbers, so there is no cancellation and no pivot to choose; with a fixed order
the bits are the same on every run. Nodes that no conductor joins are separate islands: between islands there
is no voltage to give, and none is made up.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from sim.errors import GudgeonError
from sim.said import said
from sim.wiring.elements import Element, Resistor

FLOATS_OHM: Final = 100e6
"""Conductors above this only insulate: two nodes that nothing better joins float against each other for every meter,
though an insulation tester still finds what joins them [Ω]. Ours."""


class NoPath(GudgeonError):
    """Raised when a current is asked to flow between two nodes that nothing joins."""


class Network:
    """A net of conductances, eliminated once; currents are then worked through it as often as wanted."""

    def __init__(self, elements: Sequence[Element]) -> None:
        joined = [e for e in elements if e.a != e.b]
        self.nodes: tuple[str, ...] = tuple(sorted({node for e in elements for node in (e.a, e.b)}))
        self.index = {node: i for i, node in enumerate(self.nodes)}
        mesh: list[dict[int, complex]] = [{} for _ in self.nodes]
        for element in joined:
            siemens = element.siemens
            if siemens:
                a, b = self.index[element.a], self.index[element.b]
                mesh[a][b] = mesh[b][a] = mesh[a].get(b, 0.0) + siemens
        self.island, references = _islands(mesh)
        self._firm: list[int] = _firm_islands(mesh)
        self._eliminated = _eliminate(mesh, references)

    def joined(self, a: str, b: str) -> bool:
        """Whether any conductor joins two nodes; a node that the net doesn't know is joined to nothing."""
        if a not in self.index or b not in self.index:
            return False
        return self.island[self.index[a]] == self.island[self.index[b]]

    def holds(self, a: str, b: str) -> bool:
        """Whether conductors join two nodes, and not only their insulation."""
        if a not in self.index or b not in self.index:
            return False
        return self._firm[self.index[a]] == self._firm[self.index[b]]

    def potentials(self, currents: Iterable[tuple[str, str, complex]]) -> list[complex]:
        """Potential of every node [V], each against its own island's reference.

        `currents` are (into, out of, amps): a current that enters the net at one node and leaves it at another.
        Raises NoPath if the net doesn't join the two.
        """
        flow: list[complex] = [0.0] * len(self.nodes)
        for into, out_of, amps in currents:
            if amps == 0:
                continue
            if not self.joined(into, out_of):
                raise NoPath(
                    said(
                        "{amps} A can't flow from '{out_of}' to '{into}': nothing joins them",
                        amps=amps,
                        out_of=out_of,
                        into=into,
                    )
                )
            flow[self.index[into]] += amps
            flow[self.index[out_of]] -= amps
        for node, total, arms in self._eliminated:
            share = flow[node] / total
            for neighbour, siemens in arms:
                flow[neighbour] += share * siemens
        level: list[complex] = [0.0] * len(self.nodes)
        for node, total, arms in reversed(self._eliminated):
            amps = flow[node]
            for neighbour, siemens in arms:
                amps += siemens * level[neighbour]
            level[node] = amps / total
        return level

    def resistance(self, a: str, b: str) -> complex | None:
        """Resistance seen between two nodes with every source quiet [Ω]; None if nothing joins them."""
        if not self.joined(a, b):
            return None
        level = self.potentials([(a, b, 1.0)])
        return level[self.index[a]] - level[self.index[b]]


class Potentials:
    """A solved net: what stands between any two of its nodes."""

    def __init__(self, network: Network, elements: Sequence[Element], level: Sequence[complex]) -> None:
        self.network = network
        self._elements = {element.name: element for element in elements}
        self._level = level

    def between(self, red: str, black: str) -> complex | None:
        """Potential of `red` above `black` [V]; None when one floats against the other."""
        return self.across(red, black) if self.network.holds(red, black) else None

    def across(self, red: str, black: str) -> complex | None:
        """The same through insulation too; None when there is not even that."""
        if not self.network.joined(red, black):
            return None
        index = self.network.index
        return self._level[index[red]] - self._level[index[black]]

    def volts(self, red: str, black: str) -> float | None:
        """The real part of `between` [V]: the voltage itself on a direct-current net."""
        found = self.between(red, black)
        return None if found is None else float(found.real)

    def current(self, name: str) -> complex:
        """Current through an element from its `a` to its `b`, outside any source [A]."""
        element = self._elements[name]
        if not element.siemens:
            return 0.0
        across = self.across(element.a, element.b)
        return 0.0 if across is None else across * element.siemens - element.injection

    def power(self, name: str) -> complex:
        """What an element takes from the rest of the net [W]: voltage across it times current through it."""
        element = self._elements[name]
        across = self.across(element.a, element.b)
        return 0.0 if across is None else across * self.current(name).conjugate()


@lru_cache(maxsize=128)
def network_of(key: tuple[Element, ...]) -> Network:
    """The eliminated net of these elements; kept until many others have been asked for."""
    return Network(key)


@lru_cache(maxsize=128)
def solve(key: tuple[Element, ...]) -> Potentials:
    """Solve a net with its sources as they are. Same key, same bits; solved once."""
    network = network_of(key)
    return Potentials(network, key, network.potentials(injections(key)))


def injections(elements: Iterable[Element]) -> list[tuple[str, str, complex]]:
    """What the sources among these elements drive into the net."""
    return [(e.a, e.b, e.injection) for e in elements if e.injection and e.a != e.b]


def direct(elements: Iterable[Element]) -> tuple[Element, ...]:
    """The same net for a direct current: no capacitor in it passes any, and a coil is its wire."""
    kept: list[Element] = []
    for element in elements:
        ohm = complex(getattr(element, "ohm", 0.0))
        if isinstance(element, Resistor) and ohm.imag < 0.0 and ohm.real == 0.0:
            continue
        kept.append(replace(element, ohm=complex(ohm.real)) if ohm.imag else element)  # type: ignore[type-var]
    return tuple(kept)


def _islands(mesh: list[dict[int, complex]]) -> tuple[list[int], set[int]]:
    """Island number of each node, and one reference node of each: the one with most neighbours, first by name."""
    island = [-1] * len(mesh)
    references: set[int] = set()
    for start in range(len(mesh)):
        if island[start] >= 0:
            continue
        island[start] = start
        members, waiting = [start], [start]
        while waiting:
            for neighbour in mesh[waiting.pop()]:
                if island[neighbour] < 0:
                    island[neighbour] = start
                    members.append(neighbour)
                    waiting.append(neighbour)
        references.add(min(members, key=lambda node: (-len(mesh[node]), node)))
    return island, references


def _firm_islands(mesh: list[dict[int, complex]]) -> list[int]:
    """Island number of each node where what only insulates is left out."""
    least = 1.0 / FLOATS_OHM
    return _islands([{other: s for other, s in arms.items() if abs(s) >= least} for arms in mesh])[0]


def _eliminate(
    mesh: list[dict[int, complex]], references: set[int]
) -> list[tuple[int, complex, list[tuple[int, complex]]]]:
    """Eliminate every node but the references, fewest neighbours first, ties by name. Consumes the mesh.

    Each entry: node, sum of its conductances, its arms as they stood when it was eliminated.
    """
    queue = [(len(arms), node) for node, arms in enumerate(mesh) if node not in references]
    heapq.heapify(queue)
    gone = [False] * len(mesh)
    eliminated = []
    while queue:
        degree, node = heapq.heappop(queue)
        if gone[node]:
            continue
        if degree != len(mesh[node]):
            heapq.heappush(queue, (len(mesh[node]), node))
            continue
        gone[node] = True
        arms = sorted(mesh[node].items())
        total: complex = 0.0
        for _, siemens in arms:
            total += siemens
        for place, (one, siemens) in enumerate(arms):
            del mesh[one][node]
            for other, more in arms[place + 1 :]:
                made = mesh[one].get(other, 0.0) + siemens * more / total
                mesh[one][other] = mesh[other][one] = made
        for one, _ in arms:
            if one not in references:
                heapq.heappush(queue, (len(mesh[one]), one))
        eliminated.append((node, total, arms))
    return eliminated
