"""What simple instruments share: one figure, to the fineness of a scale, with the unsteadiness of a hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from sim.draws import normal
from sim.errors import Refused
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.said import said
from sim.units import LEAVES
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

Figure: TypeAlias = "Callable[[World, Use], float]"
"""The true figure, in the unit of the function. Raises Refused where it can't be had now."""


@dataclass(frozen=True, slots=True)
class Scale:
    """What can be read off."""

    step: float
    noise: float
    """Deviation of one reading."""
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Row:
    """One function with what it looks at and what it is read off."""

    function: Function
    figure: Figure
    scale: Scale
    at_once: bool = True
    """Whether the figure must be there when it is put in place; else it comes later."""


class Scaled:
    """An instrument made of rows."""

    name: str
    group: Group
    help: str
    rows: tuple[Row, ...]
    functions: tuple[Function, ...]

    def __init_subclass__(cls) -> None:
        """What it measures follows from its rows."""
        cls.functions = tuple(row.function for row in cls.rows)

    def place(self, world: World, use: Use) -> Undo:
        """Put it there: changes nothing. Raises Refused where nothing can be read."""
        row = self._row(use)
        if row.at_once:
            row.figure(world, use)
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """To its fineness, with the unsteadiness of a hand; a pure look."""
        row = self._row(use)
        return Reading(shown(row, row.figure(world, use), self.name, use, world.seed, index))

    def _row(self, use: Use) -> Row:
        return next(row for row in self.rows if row.function.name == use.function)


def shown(row: Row, true: float, name: str, use: Use, seed: int, index: int) -> Shown:
    """What stands on the scale for a true figure."""
    scale, unit = row.scale, row.function.unit
    part, purpose = f"{name}, {use.function}", f"at {use.at}"
    value = true + scale.noise * normal(seed, part, purpose, index) if scale.noise > 0.0 else true
    if not scale.least <= value <= scale.most:
        if value < scale.least and true >= scale.least:
            value = scale.least
        else:
            is_over = value > scale.most
            text = said(
                "over {end:g} {unit}" if is_over else "under {end:g} {unit}",
                end=scale.most if is_over else scale.least,
                unit=unit,
            )
            return Shown(None, unit, text, ("over range",))
    value = round(round(value / scale.step) * scale.step, 6) + 0.0
    return Shown(value, unit, f"{value:g} {unit}")


def leaf_at(use: Use) -> int:
    """Index of the leaf (or its post) that it is put on."""
    return LEAVES.index(use.at)  # type: ignore[arg-type]


def needs(held: bool, sentence: str) -> None:
    """Raise Refused with a sentence unless something holds."""
    if not held:
        raise Refused(sentence)
