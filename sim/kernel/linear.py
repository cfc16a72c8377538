"""Linear equations for the wiring room, solved in one fixed order so that the same net gives the same bits.

Gauss's elimination down the diagonal without exchange of rows: nodal matrices are diagonally dominant, which
makes that order a sound one. Complex numbers are pairs of reals with the arithmetic written out.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sim.kernel.layout import Floats

Reals = npt.NDArray[np.float64]
Complexes = npt.NDArray[np.complex128]


class SingularMatrix(ArithmeticError):
    """Raised when a pivot vanishes; `row` says whose: an unknown that nothing ties down."""

    def __init__(self, row: int) -> None:
        super().__init__(f"unknown {row} is tied to nothing: its pivot vanished")
        self.row = row


VANISHED = 1e-13
"""A pivot below this share of what stood on the diagonal is rounding, not a value. Our choice."""


def eliminate(matrix: Floats, right: Floats, size: int, columns: int) -> int:
    """Solve matrix · x = right in place: x comes to stand in `right`.

    `matrix` is flat by rows, size × size, and is destroyed; `right` is flat by rows, size × columns. Returns -1, or
    the row whose pivot vanished.
    """
    for k in range(size):
        pivot = matrix[k * size + k]
        if abs(pivot) == 0.0:
            return k
        for i in range(k + 1, size):
            factor = matrix[i * size + k] / pivot
            if factor == 0.0:
                continue
            before = abs(matrix[i * size + i])
            for j in range(k + 1, size):
                matrix[i * size + j] = matrix[i * size + j] - factor * matrix[k * size + j]
            if abs(matrix[i * size + i]) < VANISHED * before:
                matrix[i * size + i] = 0.0
            for j in range(columns):
                right[i * columns + j] = right[i * columns + j] - factor * right[k * columns + j]
    for back in range(size):
        i = size - 1 - back
        for j in range(columns):
            total = right[i * columns + j]
            for k in range(i + 1, size):
                total = total - matrix[i * size + k] * right[k * columns + j]
            right[i * columns + j] = total / matrix[i * size + i]
    return -1


def eliminate_complex(matrix: Floats, right: Floats, size: int, columns: int) -> int:
    """As `eliminate`, for complex numbers: every entry is two floats, real part first."""
    for k in range(size):
        p = 2 * (k * size + k)
        a, b = matrix[p], matrix[p + 1]
        square = a * a + b * b
        if square == 0.0:
            return k
        for i in range(k + 1, size):
            q = 2 * (i * size + k)
            c, d = matrix[q], matrix[q + 1]
            if c == 0.0 and d == 0.0:
                continue
            real = (c * a + d * b) / square
            imag = (d * a - c * b) / square
            own = 2 * (i * size + i)
            before = abs(matrix[own]) + abs(matrix[own + 1])
            for j in range(k + 1, size):
                to, by = 2 * (i * size + j), 2 * (k * size + j)
                matrix[to] = matrix[to] - (real * matrix[by] - imag * matrix[by + 1])
                matrix[to + 1] = matrix[to + 1] - (real * matrix[by + 1] + imag * matrix[by])
            if abs(matrix[own]) + abs(matrix[own + 1]) < VANISHED * before:
                matrix[own] = 0.0
                matrix[own + 1] = 0.0
            for j in range(columns):
                to, by = 2 * (i * columns + j), 2 * (k * columns + j)
                right[to] = right[to] - (real * right[by] - imag * right[by + 1])
                right[to + 1] = right[to + 1] - (real * right[by + 1] + imag * right[by])
    for back in range(size):
        i = size - 1 - back
        p = 2 * (i * size + i)
        a, b = matrix[p], matrix[p + 1]
        square = a * a + b * b
        for j in range(columns):
            at = 2 * (i * columns + j)
            c, d = right[at], right[at + 1]
            for k in range(i + 1, size):
                m, x = 2 * (i * size + k), 2 * (k * columns + j)
                c = c - (matrix[m] * right[x] - matrix[m + 1] * right[x + 1])
                d = d - (matrix[m] * right[x + 1] + matrix[m + 1] * right[x])
            right[at] = (c * a + d * b) / square
            right[at + 1] = (d * a - c * b) / square
    return -1


COMPILED = (eliminate, eliminate_complex)


def solve(matrix: Reals, right: Reals) -> Reals:
    """x of matrix · x = right; `right` is one column or several. Neither is changed. Raises SingularMatrix."""
    from sim.kernel import compiler

    size = matrix.shape[0]
    columns = 1 if right.ndim == 1 else right.shape[1]
    solved = np.array(right, dtype=np.float64).reshape(-1)
    _raise_if_singular(compiler.forms().eliminate(np.array(matrix, np.float64).reshape(-1), solved, size, columns))
    return solved.reshape(right.shape)


def solve_complex(matrix: Complexes, right: Complexes) -> Complexes:
    """As `solve`, for complex numbers (mains phasors)."""
    from sim.kernel import compiler

    size = matrix.shape[0]
    columns = 1 if right.ndim == 1 else right.shape[1]
    solved = np.array(right, dtype=np.complex128).reshape(-1)
    flat = np.array(matrix, np.complex128).reshape(-1)
    row = compiler.forms().eliminate_complex(flat.view(np.float64), solved.view(np.float64), size, columns)
    _raise_if_singular(row)
    return solved.reshape(right.shape)


def _raise_if_singular(row: int) -> None:
    if row >= 0:
        raise SingularMatrix(row)
