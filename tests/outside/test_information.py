"""Information about a cause against scipy, and a classic worked example of diagnosis from a model."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import entropy as scipy_entropy

from trainer.diagnosis.table import Table, after, entropy, gains, uncertainty


def drawn_table(seed: int, causes: int, measurements: int, classes: int) -> tuple[Table, np.ndarray]:
    """Any table, and any belief over its causes."""
    draw = np.random.default_rng(seed)
    shares = draw.dirichlet(np.full(classes, 0.3), size=(causes, measurements))
    names = [f"cause {n}" for n in range(causes)]
    minutes = {f"measurement {n}": 1.0 for n in range(measurements)}
    return Table.of(names, minutes, shares, doubt=0.0), draw.dirichlet(np.ones(causes))


tables = st.builds(drawn_table, st.integers(0, 2**32 - 1), st.integers(2, 9), st.integers(1, 7), st.integers(2, 6))


@given(tables)
def test_entropy_is_scipys(drawn) -> None:
    """`scipy.stats.entropy`, base 2, of belief and of each row."""
    table, belief = drawn
    assert uncertainty(belief) == pytest.approx(float(scipy_entropy(belief, base=2)), abs=1e-12)
    assert entropy(table.given) == pytest.approx(scipy_entropy(table.given, base=2, axis=2), abs=1e-12)


@given(tables)
def test_gain_is_the_expected_fall_of_entropy(drawn) -> None:
    """H(cause) - sum over readings of P(reading) H(cause | reading), each H by scipy; and it is the relative entropy
    (Kullback and Leibler) of the joint distribution to the product of its margins."""
    table, belief = drawn
    for measurement, gain in enumerate(gains(table, belief)):
        joint = belief[:, None] * table.given[:, measurement, :]
        reading = joint.sum(axis=0)
        left = sum(
            p * scipy_entropy(after(table, belief, measurement, n), base=2)
            for n, p in enumerate(reading)
            if p > 1e-300 and n < table.classes[measurement]
        )
        assert gain == pytest.approx(scipy_entropy(belief, base=2) - left, abs=1e-9)
        product = np.outer(belief, reading)
        assert gain == pytest.approx(scipy_entropy(joint.ravel(), product.ravel(), base=2), abs=1e-9)


@given(tables)
def test_belief_stays_a_distribution_and_never_surprises_on_average(drawn) -> None:
    """Bayes: it adds up to 1, and what is expected of it is what it was."""
    table, belief = drawn
    for measurement in range(len(table.measurements)):
        reading = belief @ table.given[:, measurement, :]
        expected = np.zeros_like(belief)
        for n in range(table.classes[measurement]):
            if reading[n] > 0.0:
                then = after(table, belief, measurement, n)
                assert then.sum() == pytest.approx(1.0)
                expected += reading[n] * then
        assert expected == pytest.approx(belief, abs=1e-12)


# three multipliers and two adders: de Kleer and Williams, "Diagnosing multiple faults", Artificial Intelligence 32
# (1987) 97-130. From memory, the text was not at hand: inputs A=3, B=2, C=2, D=3, E=3; M1=A*C, M2=B*D, M3=C*E,
# A1=M1+M2, A2=M2+M3; F=10 is read at A1 where 12 is right, G=12 at A2.

PARTS = ("M1", "M2", "M3", "A1", "A2")
FAILS = 0.01
"""Probability that a part has failed, each by itself; any small one gives the same order."""


def values(broken: frozenset[str], f: int, g: int) -> Mapping[str, int | None]:
    """What X, Y and Z must be when the parts that aren't broken work; None where nothing follows. Raises ValueError
    on a contradiction with what was read."""
    known: dict[str, int | None] = {"X": None, "Y": None, "Z": None}
    works = {part: part not in broken for part in PARTS}

    def learn(name: str, value: int) -> bool:
        if known[name] not in (None, value):
            raise ValueError(name)
        fresh = known[name] is None
        known[name] = value
        return fresh

    for part, name in (("M1", "X"), ("M2", "Y"), ("M3", "Z")):
        if works[part]:
            learn(name, 6)
    changed = True
    while changed:
        changed = False
        for adder, one, other, total in (("A1", "X", "Y", f), ("A2", "Y", "Z", g)):
            for left, right in ((one, other), (other, one)):
                if works[adder] and known[left] is not None:
                    changed |= learn(right, total - known[left])
    return known


def candidates() -> Iterator[tuple[frozenset[str], Mapping[str, int | None]]]:
    """Every set of broken parts that fits F=10 and G=12, and what it says of X, Y and Z."""
    for count in range(len(PARTS) + 1):
        for each in itertools.combinations(PARTS, count):
            try:
                yield frozenset(each), values(frozenset(each), 10, 12)
            except ValueError:
                continue


def test_the_minimal_candidates_of_the_circuit() -> None:
    """{A1}, {M1}, {A2, M2}, {M2, M3}."""
    fitting = [broken for broken, _ in candidates()]
    minimal = {each for each in fitting if not any(other < each for other in fitting)}
    assert minimal == {frozenset(each) for each in (("A1",), ("M1",), ("A2", "M2"), ("M2", "M3"))}


def test_the_best_probe_of_the_circuit_is_the_first_multiplier() -> None:
    """A1 and M1 are the likely causes, and X tells them apart; Y and Z tell nearly nothing."""
    fitting = list(candidates())
    numbers = sorted({v for _, known in fitting for v in known.values() if v is not None} | {0})
    prior = np.array([FAILS ** len(b) * (1 - FAILS) ** (len(PARTS) - len(b)) for b, _ in fitting])
    belief = prior / prior.sum()
    shares = np.zeros((len(fitting), 3, len(numbers)))
    for row, (_, known) in enumerate(fitting):
        for column, name in enumerate(("X", "Y", "Z")):
            if known[name] is None:
                shares[row, column] = 1.0 / len(numbers)
            else:
                shares[row, column, numbers.index(known[name])] = 1.0
    names = ["+".join(sorted(broken)) for broken, _ in fitting]
    table = Table.of(names, {"X": 1.0, "Y": 1.0, "Z": 1.0}, shares, doubt=0.0)
    worth = dict(zip(table.measurements, gains(table, belief), strict=True))
    assert worth["X"] > 0.9
    assert worth["X"] > 5 * max(worth["Y"], worth["Z"])
    right = dict(zip(names, after(table, belief, 0, numbers.index(6)), strict=True))
    wrong = dict(zip(names, after(table, belief, 0, numbers.index(4)), strict=True))
    assert right["A1"] > 0.9
    assert wrong["M1"] > 0.9
