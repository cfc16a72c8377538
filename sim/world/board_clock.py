"""The time of day and year as everybody's watch has it, and the clock on the board, that somebody set by one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.controller.calendar import DAY_S, YEAR_S, second_of_year
from sim.units import SECOND

if TYPE_CHECKING:
    from sim.world.world import World


def right_second(world: World) -> int:
    """What a clock that is right reads now [s since the year began]."""
    began = second_of_year(world.site.surroundings.day, world.site.starts_at_h)
    return (began + int(world.now - world.arrived) // SECOND) % YEAR_S


def find_set(world: World, days_ago: int = 0) -> None:
    """The board's clock is found set and right, or as it was so many days ago; a board without a clock stays so."""
    know_time = getattr(world.controller, "know_time", None)
    if know_time is not None:
        know_time(world.now, (right_second(world) - days_ago * DAY_S) % YEAR_S)
