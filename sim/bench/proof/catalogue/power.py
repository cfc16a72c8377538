"""What the loss and the return of power may lead to."""

from __future__ import annotations

from typing import Final

from sim.bench.proof.asked import givens, runs
from sim.bench.proof.entry import Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record, Row
from sim.controller.ports import BOARD_MINIMUM_V


def _returns(record: Record) -> list[int]:
    """When the board had power again [µs]."""
    return [at for at, on in record.power[1:] if on]


def _never_moves_on_power_return(record: Record, bounds: Bounds) -> Breach | None:
    given = [each.at for each in givens(record)]
    for back in _returns(record):
        later = [at for at in given if at > back]
        for run in runs(record):
            if run.at >= back and not any(at <= run.at for at in later):
                after = (run.at - back) / 1e6
                return Breach(run.at, f"moves {after:.1f} s after power came back, and nothing was given since")
    return None


def _a_brown_out_ends_with_everything_off(record: Record, bounds: Bounds) -> Breach | None:
    back = set(_returns(record))
    for row in record.rows:
        if (row.at in back or row.inputs.supply_v <= BOARD_MINIMUM_V) and _energised(row):
            return Breach(
                row.at, f"with the supply at {row.inputs.supply_v:.1f} V after a brown-out: {_energised(row)}"
            )
    return None


def _energised(row: Row) -> str:
    """What moves or frees anything at this scan, in words; empty if nothing."""
    driven = [name for name, way in zip(("active", "inactive"), row.ways, strict=True) if way]
    said = [f"the {name} leaf is driven" for name in driven]
    return ", ".join([*said, *(["the lock is driven"] if row.outputs.lock else [])])


ENTRIES: Final = (
    Property(
        "never moves on power return",
        "After the board had no power nothing is driven until a command is newly given; what reads closed when power "
        "comes is no command.",
        "The gate sets off under the hands of whoever works on it, or hours later with nobody near.",
        "EN 60335-2-103 and EN 12453, restart after loss of power, as Facts 2.3 restates them",
        "terminals",
        _never_moves_on_power_return,
        focus=Focus(phrases=("dip", "power"), first=("begun opening", "whole opening", "open then close")),
    ),
    Property(
        "a brown-out ends with everything off",
        "In whatever state the board loses its power, at its first scan after that no leaf and no lock is driven.",
        "A dip of the mains too short to see carries a movement on that nobody watches any more.",
        "EN 60335-2-103 and EN 12453, restart after loss of power, as Facts 2.3 restates them",
        "terminals",
        _a_brown_out_ends_with_everything_off,
        focus=Focus(phrases=("dip",), first=("begun opening", "open then close", "learns for a while", "jog")),
    ),
)
