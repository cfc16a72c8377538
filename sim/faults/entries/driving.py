"""Acts and measurements that entries of drives share."""

from __future__ import annotations

from types import MappingProxyType
from typing import Any, Final

from sim.faults.entry import Step, step

SOURCE: Final = "common practice, no source"

OPEN: Final = (
    step("press", control="open button"),
    step("wait", seconds=0.5),
    step("release", control="open button"),
)
"""An opening command; the active leaf moves some two seconds later, the inactive one after its delay."""

CLOSE: Final = (
    step("press", control="close button"),
    step("wait", seconds=0.5),
    step("release", control="close button"),
)

OPENED: Final = (*OPEN, step("wait until", what="fully open", at_most_s=60.0), step("wait", seconds=2.0))

CLAMP: Final = "clamp meter"

IN_MOTOR_LEAD: Final = step(
    "place instrument", instrument=CLAMP, function="amps dc", at="active leaf motor, plus core"
)

MAINS_DRIVE: Final[dict[str, Any]] = {
    "kind": "hydraulic ram",
    "motor": {"kind": "mains induction", "pull_out_n_m": 1.0},
    "post_across_m": 0.18,
    "post_inside_m": 0.18,
    "bracket_along_m": 1.0,
    "bracket_offset_m": 0.06,
    "retracted_m": 0.80,
    "stroke_m": 0.46,
    "pump_cm3_per_turn": 0.6,
    "bore_cm2": 12,
    "relief_bar": 60,
}

MAINS: Final = MappingProxyType({"drives.active": MAINS_DRIVE, "drives.inactive": MAINS_DRIVE})
"""The bench with hydraulic rams whose motors run on the mains."""

HYDRAULIC_DRIVE: Final[dict[str, Any]] = {"kind": "hydraulic ram", "pump_cm3_per_turn": 0.3}

HYDRAULIC: Final = MappingProxyType(
    {"drives.active": HYDRAULIC_DRIVE, "drives.inactive": HYDRAULIC_DRIVE, "lock": "not fitted"}
)
"""The bench with hydraulic rams on direct current, which hold the leaves themselves: no lock."""

LIMITS: Final = MappingProxyType(
    {
        f"drives.{leaf}.sensing.{key}": value
        for leaf in ("active", "inactive")
        for key, value in (
            ("limits_in_motor_lead", True),
            ("limit_open_deg", 89.9),
            ("limit_closed_deg", -0.1),
        )
    }
)
"""The bench with limit switches in its motors' leads."""

TWO_LINES: Final = MappingProxyType(
    {"drives.active.sensing.channels": "two", "drives.inactive.sensing.channels": "two"}
)
"""The bench with encoders that tell which way they turn."""


def meter(one: str, other: str) -> Step:
    """The multimeter's direct volts, left in place between two terminals."""
    return step("place instrument", instrument="multimeter", function="volts dc", at=one, against=other)


def counter(function: str, leaf: str = "active") -> Step:
    """The pulse counter, left on an encoder's line at the board."""
    return step("place instrument", instrument="pulse counter", function=function, at=f"{leaf} encoder's line")


def read(instrument: str) -> Step:
    """What an instrument in place shows."""
    return step("read instrument", instrument=instrument)


def wait(seconds: float) -> Step:
    """Time passes."""
    return step("wait", seconds=seconds)
