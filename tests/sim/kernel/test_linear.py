"""Elimination in one fixed order, real and complex, against numpy's solver; the same bits in both forms."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.kernel import compiler, linear


def nodal(seed: int, size: int, imaginary: bool = False) -> np.ndarray:
    """A nodal matrix: every pair of nodes tied by a positive conductance over many decades, each node to earth."""
    random = np.random.default_rng(seed)
    branch = 10.0 ** random.uniform(-6, 3, (size, size))
    branch = (branch + branch.T) / 2
    if imaginary:
        reach = 10.0 ** random.uniform(-6, 3, (size, size))
        branch = branch + 1j * (reach + reach.T) / 2
    np.fill_diagonal(branch, 0.0)
    return np.diag(branch.sum(axis=1) + 10.0 ** random.uniform(-6, 0, size)) - branch


@given(st.integers(0, 10_000), st.integers(1, 12), st.integers(1, 4))
def test_solves_a_nodal_net(seed: int, size: int, columns: int) -> None:
    """The residual is rounding, for several right sides at once."""
    matrix = nodal(seed, size)
    right = np.random.default_rng(seed + 1).normal(size=(size, columns))
    solved = linear.solve(matrix, right)
    scale = np.abs(matrix) @ np.abs(solved) + np.abs(right)
    assert np.all(np.abs(matrix @ solved - right) <= 1e-12 * scale)


@given(st.integers(0, 10_000), st.integers(1, 10))
def test_solves_a_net_of_phasors(seed: int, size: int) -> None:
    """The same for complex admittances, one column given as a vector."""
    matrix = nodal(seed, size, imaginary=True)
    random = np.random.default_rng(seed + 1)
    right = random.normal(size=size) + 1j * random.normal(size=size)
    solved = linear.solve_complex(matrix, right)
    scale = np.abs(matrix) @ np.abs(solved) + np.abs(right)
    assert solved.shape == (size,)
    assert np.all(np.abs(matrix @ solved - right) <= 1e-12 * scale)


def test_agrees_with_numpy() -> None:
    """A well-conditioned net gives numpy's answer (an independent method: LAPACK with exchange of rows)."""
    matrix = np.array([[3.0, -1.0, -1.0], [-1.0, 4.0, -2.0], [-1.0, -2.0, 3.5]])
    right = np.array([1.0, 0.0, -2.0])
    assert linear.solve(matrix, right) == pytest.approx(np.linalg.solve(matrix, right), rel=1e-13)


def test_a_voltage_divider() -> None:
    """12 V behind 8.2 kΩ over 8.2 kΩ is 6 V (by hand): node equation (1/R + 1/R)·v = 12/R."""
    conductance = 1.0 / 8200.0
    assert linear.solve(np.array([[2 * conductance]]), np.array([12.0 * conductance])) == pytest.approx(
        6.0, rel=1e-15
    )


def test_an_untied_node_is_named() -> None:
    """Two nodes tied to each other and to nothing else have no voltage: the second one's pivot vanishes."""
    loose = np.array([[1.0, 0.0, 0.0], [0.0, 0.3, -0.3], [0.0, -0.3, 0.3]])
    with pytest.raises(linear.SingularMatrix, match="unknown 2") as caught:
        linear.solve(loose, np.ones(3))
    assert caught.value.row == 2
    with pytest.raises(linear.SingularMatrix, match="unknown 2"):
        linear.solve_complex(loose.astype(complex), np.ones(3, complex))


def test_leaves_what_it_was_given() -> None:
    """Neither matrix nor right side is changed."""
    matrix, right = nodal(1, 5), np.arange(5.0)
    kept = matrix.copy(), right.copy()
    linear.solve(matrix, right)
    assert np.array_equal(matrix, kept[0])
    assert np.array_equal(right, kept[1])


def test_both_forms_give_the_same_bits() -> None:
    """Compiled and interpreted elimination agree bit for bit."""
    if not compiler.load():
        pytest.skip("no compiler here: it isn't installed, or it is switched off")
    for name, imaginary in (("eliminate", False), ("eliminate_complex", True)):
        matrix = nodal(7, 9, imaginary)
        right = np.linspace(-3, 3, 18).reshape(9, 2).astype(matrix.dtype)
        answers = []
        for form in (compiler.INTERPRETED, compiler.forms()):
            flat, column = matrix.copy().reshape(-1), right.copy().reshape(-1)
            assert getattr(form, name)(flat.view(float), column.view(float), 9, 2) == -1
            answers.append(column.tobytes())
        assert answers[0] == answers[1]
