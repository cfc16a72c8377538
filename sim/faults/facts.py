"""What a fact is now: whoever put a fault in asks whether somebody has changed the same thing since."""

from __future__ import annotations

from typing import Any

from sim.faults.access_edit import remembered
from sim.faults.edit import FactKey, Ground, fact


def read(ground: Ground, key: FactKey) -> Any:
    """The fact as it stands; None for a part, a key or a setting that isn't there. Other kinds of fact read as the
    key itself: nobody but their own edit can tell them."""
    where, what, field = key
    if where == "net":
        net = next((net for net in (ground.cabinet.netlist, ground.cabinet.mains) if what in net), None)
        if net is None:
            return None
        return net[what] if field == "is there" else getattr(net[what], field)
    if where == "site":
        return fact(ground.site, what)
    if where == "sheet":
        return ground.settings().get(what)
    if where == "memory":
        return remembered(ground, key)
    if where == "drive":
        return _of_drive(ground, what)
    return key


def _of_drive(ground: Ground, what: str) -> bool:
    """Whether a release is locked; whether a motor is too hot for its cut-out to close."""
    leaf = 0 if what.startswith("active") else 1
    if what.endswith("release"):
        return ground.plant.engaged(leaf)
    return ground.plant.winding_c(leaf) > ground.site.drives.pair[leaf].motor.warmth.cut_out_closes_c
