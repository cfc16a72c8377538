"""Settings that say what is installed: the facts that the controller has to be told, for it can't see them."""

from __future__ import annotations

from typing import Final

from sim.controller.setting import NOT_STATED, Setting, choice

ENCODER: Final = "encoder"
LIMIT_SWITCHES: Final = "limit switches"
RUNNING_TIME: Final = "running time"
"""What the place of a leaf is sensed by."""

MOTOR_LEAD: Final = "in the motor lead"
OPENS_WHEN_REACHED: Final = "to the board, open when reached"
CLOSES_WHEN_REACHED: Final = "to the board, closed when reached"
"""How limit switches are wired."""

MAINS: Final = "mains, one speed"
"""A motor that can only be switched."""

_GATE = "the gate"

ENTRIES: Final[tuple[Setting, ...]] = (
    choice(
        "leaves fitted",
        _GATE,
        NOT_STATED,
        "not stated|1|2",
        "How many leaves hang here; wrong, a leaf is left behind or a drive that is not there is waited for.",
        "travel",
    ),
    choice(
        "drive kind",
        _GATE,
        NOT_STATED,
        "not stated|linear ram|hydraulic ram|articulated arm|underground",
        "What drives the leaves; wrong, whoever comes next looks for stops, release and faults of another machine.",
        "travel",
    ),
    choice(
        "motor kind",
        _GATE,
        "direct current",
        f"direct current|{MAINS}",
        "What turns the drives; a mains motor has no soft start, no slow zone and no limit of effort, and the sheet "
        "can give it none.",
        "travel",
    ),
    choice(
        "position sensing",
        _GATE,
        ENCODER,
        f"{ENCODER}|{LIMIT_SWITCHES}|{RUNNING_TIME}",
        "What tells where a leaf is; by running time the controller only reckons, and sees a stop by the motor's "
        "current; wrong, learning finds no stop.",
        "travel",
    ),
    choice(
        "limit switches",
        _GATE,
        MOTOR_LEAD,
        f"{MOTOR_LEAD}|{OPENS_WHEN_REACHED}|{CLOSES_WHEN_REACHED}",
        "How limit switches are wired, where they tell the position; in the motor lead they cut its current, and no "
        "push gets beyond them; wrong, learning ends early.",
        "travel",
    ),
)
"""In the order of the sheet."""
