"""What the files of the catalogue share: how an entry is written, and arguments that many take."""

from __future__ import annotations

from typing import Final, Literal

from sim.controller.ports import GUARD_TERMINALS
from sim.units import SECOND, Us
from sim.world.kinds import Argument, Group, Kind

LEAF: Final = Argument("leaf", str, "which leaf", choices=("active", "inactive"))
GUARD: Final = Argument(
    "guard",
    str,
    "which guard",
    choices=GUARD_TERMINALS,
)
PLUG: Final = Argument(
    "guard",
    str,
    "which guard, or which other cable",
    choices=(
        *GUARD.choices,
        "active leaf motor",
        "inactive leaf motor",
        "accessory supply",
        "emitter supply",
        "radio receiver",
        "warning lamp",
        "yard light",
        "lock",
        "battery",
        "open button",
        "close button",
        "step button",
        "key switch",
        "timer contact",
        "pedestrian button",
        "keypad",
        "intercom",
        "emergency contact",
        "loop detector",
        "presence loop",
        "active run capacitor",
        "inactive run capacitor",
    ),
)
"""Not every one of them is fitted everywhere."""
CONTROL: Final = Argument(
    "control",
    str,
    "which control",
    choices=(
        "open button",
        "close button",
        "step button",
        "key switch",
        "pedestrian button",
        "stop button",
        "keypad",
        "intercom",
        "emergency contact",
    ),
)
PROBE_HELP: Final = "a terminal, as the cabinet drawing names it"


def kind(
    name: str,
    group: Group,
    help: str,
    seconds: float,
    *arguments: Argument,
    effect: Literal["start", "end"] = "end",
    caution: str = "",
    varies: bool = False,
) -> Kind:
    """One entry; `seconds` is the plausible time it takes [s], or its usual one where that varies."""
    return Kind(name, group, help, Us(round(seconds * SECOND)), effect, arguments, caution, varies)
