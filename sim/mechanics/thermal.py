"""Two nodes of a motor, winding and case, over one second: what the kernel applies at every whole second.

C_w·dW/dt = q − g·(W − C) and C_c·dC/dt = g·(W − C) − h·C, temperatures over the air. Exact for heat that comes evenly
over the second.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.site.models import Warmth

COPPER_PER_K: Final = 0.00393
"""By what share copper's resistance rises for each kelvin from 20 °C (facts 5.1)."""

_DOUBLINGS: Final = 12
_TERMS: Final = 14

Matrix = tuple[float, float, float, float]
"""Two by two, by rows."""


@dataclass(frozen=True, slots=True)
class Second:
    """What a second does."""

    keeps: Matrix
    """(winding, case) over the air after a second without heat, for before it."""
    winding_k_j: float
    """Warming of the winding for a joule in it, spread over the second [K/J]."""
    case_k_j: float
    """Warming of the case for the same joule [K/J]."""


def second(warmth: Warmth) -> Second:
    """The second of one motor. Only + − × ÷ in a fixed order: the same bits everywhere."""
    g, h = warmth.winding_to_case_w_k, warmth.case_to_air_w_k
    rates = (-g / warmth.winding_j_k, g / warmth.winding_j_k, g / warmth.case_j_k, -(g + h) / warmth.case_j_k)
    keeps, spread = _short(rates, 1.0 / 2**_DOUBLINGS)
    for _ in range(_DOUBLINGS):
        spread = _sum(spread, _product(keeps, spread))
        keeps = _product(keeps, keeps)
    return Second(keeps, spread[0] / warmth.winding_j_k, spread[2] / warmth.winding_j_k)


def steady(warmth: Warmth, watts: float, air_c: float) -> tuple[float, float]:
    """(winding, case) in the end, for heat that stays [°C]."""
    case = air_c + watts / warmth.case_to_air_w_k
    return case + watts / warmth.winding_to_case_w_k, case


def _short(rates: Matrix, time: float) -> tuple[Matrix, Matrix]:
    """exp(rates·time) and its integral over a time so short that their series end at once."""
    term: Matrix = (1.0, 0.0, 0.0, 1.0)
    keeps: Matrix = term
    spread: Matrix = (time, 0.0, 0.0, time)
    for order in range(1, _TERMS):
        term = _scaled(_product(term, rates), time / order)
        keeps = _sum(keeps, term)
        spread = _sum(spread, _scaled(term, time / (order + 1)))
    return keeps, spread


def _product(first: Matrix, second: Matrix) -> Matrix:
    a, b, c, d = first
    e, f, g, h = second
    return (a * e + b * g, a * f + b * h, c * e + d * g, c * f + d * h)


def _sum(first: Matrix, second: Matrix) -> Matrix:
    return (first[0] + second[0], first[1] + second[1], first[2] + second[2], first[3] + second[3])


def _scaled(matrix: Matrix, factor: float) -> Matrix:
    return (matrix[0] * factor, matrix[1] * factor, matrix[2] * factor, matrix[3] * factor)
