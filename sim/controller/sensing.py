"""How the sheet says that the place of a leaf is known, and what follows from that and from the kind of motor."""

from __future__ import annotations

from typing import Final

from sim.controller.installed import ENCODER, LIMIT_SWITCHES, MAINS, MOTOR_LEAD, RUNNING_TIME
from sim.controller.memory import Leaf
from sim.controller.sheet import Sheet, word

AHEAD: Final = {ENCODER: 0.02, LIMIT_SWITCHES: 0.15, RUNNING_TIME: 0.04}
"""Share of the travel before a learned stop in which a leaf may arrive. A limit switch says itself that it is
reached, so there it only has to be near; running time tells places worse than counts do. CP, no source."""

AHEAD_ON_MAINS: Final = 0.05
"""The same at the least for a mains motor, which meets its stop at full speed and winds its drive up before it
stands. CP, no source."""

BEHIND: Final = {ENCODER: 0.02, LIMIT_SWITCHES: 0.15, RUNNING_TIME: 0.15}
"""The same behind it: so far a slow day lets a leaf lag behind what time tells. CP, no source."""

LEAST_WINDOW: Final = 12
"""Neither is ever smaller than this [counts]."""


def stroke(way: int) -> str:
    """What a whole run is called among those that were timed: +1 opening, −1 closing."""
    return "opening" if way > 0 else "closing"


def is_counted(sheet: Sheet) -> bool:
    """Whether an encoder counts; else the controller reckons by time, and sees stops by switch or current."""
    return word(sheet, "position sensing") == ENCODER


def has_limits(sheet: Sheet) -> bool:
    """Whether limit switches say where the stops are."""
    return word(sheet, "position sensing") == LIMIT_SWITCHES


def limits_in_lead(sheet: Sheet) -> bool:
    """Whether a limit switch cuts the motor's own current."""
    return has_limits(sheet) and word(sheet, "limit switches") == MOTOR_LEAD


def limits_on_board(sheet: Sheet) -> bool:
    """Whether limit switches are read at inputs of the board's own."""
    return has_limits(sheet) and word(sheet, "limit switches") != MOTOR_LEAD


def on_mains(sheet: Sheet) -> bool:
    """Whether the motors have one speed, and can only be switched one way, the other way or off."""
    return word(sheet, "motor kind") == MAINS


def ahead(sheet: Sheet, travel: int) -> int:
    """How far before a learned stop a leaf may arrive [counts]."""
    share = max(AHEAD[word(sheet, "position sensing")], AHEAD_ON_MAINS * on_mains(sheet))
    return max(LEAST_WINDOW, round(travel * share))


def behind(sheet: Sheet, leaf: Leaf) -> int:
    """How far behind it [counts]; its travel again where time tells it and no run this way was timed yet."""
    travel = leaf.travel
    if not is_counted(sheet) and stroke(leaf.move.direction) not in leaf.timed:
        return travel
    return max(LEAST_WINDOW, round(travel * BEHIND[word(sheet, "position sensing")]))
