"""Repairs of drives that are facts of the site: motors, gears, rams, switches and brackets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.units import LEAVES, LeafName
from sim.world.mending.mechanics import carried
from sim.world.mending.row import Mend


def _of(leaf: LeafName) -> Iterator[Mend]:
    drive, held = f"drives.{leaf}", carried(LEAVES.index(leaf))
    yield Mend(
        "replace", f"{leaf} leaf motor", site=(f"{drive}.motor",), seconds=2400.0, parts=("motor",), ready=held
    )
    yield Mend(
        "replace",
        f"{leaf} run capacitor",
        site=(f"{drive}.motor.fitted_uf",),
        seconds=900.0,
        parts=("run capacitor",),
    )
    yield Mend("replace", f"{leaf} gear", site=(f"{drive}.key",), seconds=3600.0, parts=("gear",), ready=held)
    yield Mend("replace", f"{leaf} ram", site=(f"{drive}.play_m",), seconds=3600.0, parts=("ram",), ready=held)
    yield Mend("replace", f"{leaf} ram's oil", site=(f"{drive}.air_share",), seconds=1800.0, parts=("oil", "seals"))
    yield Mend("adjust", f"{leaf} rear bracket", site=(f"{drive}.post_inside_m",), seconds=3600.0, ready=held)
    yield Mend(
        "adjust",
        f"{leaf} limit switches",
        site=(f"{drive}.sensing.limit_open_deg", f"{drive}.sensing.limit_closed_deg"),
        seconds=900.0,
    )


ROWS: Final[tuple[Mend, ...]] = (
    *(mend for leaf in LEAVES for mend in _of(leaf)),
    Mend("clean", "vents of the control box", site=("enclosure.vent_w_k",), seconds=600.0, dead=False),
    Mend(
        "re-lay cable",
        "encoder cables",
        site=("cables.encoders_beside_mains",),
        seconds=7200.0,
        parts=("screened cable",),
    ),
)
