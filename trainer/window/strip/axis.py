"""The axis of time under what was recorded: where its ticks are, and the instants that stand under them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final

from sim.units import SECOND
from trainer.window.kit.style import FIELD, RULE, SOFT
from trainer.window.words import moment

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen
    from trainer.window.kit.style import Style

STEPS_S: Final = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1800, 3600)

Tick = tuple[float, int]
"""(pixels from the left end of the axis, instant [s])."""


def axis_step(per_px: float, apart: int) -> int:
    """How much time between two ticks of an axis [s] of `per_px` [s/px], so that they stand at least so far apart."""
    return next((step for step in STEPS_S if step / per_px >= apart), STEPS_S[-1])


def ticks(style: Style, start_s: float, span_s: float, per_px: float) -> list[Tick]:
    """The ticks of a stretch of time [s], `per_px` [s/px]."""
    step = axis_step(per_px, style.px(84))
    first, last = int(-(-start_s // step)), int((start_s + span_s) // step)
    return [((n * step - start_s) / per_px, n * step) for n in range(first, last + 1)]


def paint_ticks(pen: Pen, found: Iterable[Tick], left: int, width: int, y: int) -> None:
    """The line, and a stroke at each tick."""
    pen.line((left, y), (left + width, y), RULE, 1.4)
    for x, _when in found:
        pen.line((left + x, y - pen.style.px(3)), (left + x, y + pen.style.px(3)), FIELD)


def draw_instants(pen: Pen, found: Iterable[Tick], needles: Sequence[float], left: int, width: int, y: int) -> None:
    """Instants under their ticks, but for where a needle's word stands; needles as ticks: from the left end [px]."""
    px = pen.style.px
    for x, when in found:
        near = any(abs(x - needle) < px(38) for needle in needles)
        if not near and x < width - px(12):
            pen.text(moment(when * SECOND), (left + x, y + px(12)), 11, SOFT, anchor="centre")
