"""How a world stands, truth beside the sheet: for grading, never for the screen."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sim.world.history import Standing

if TYPE_CHECKING:
    from sim.world.world import World


def standing(world: World) -> Standing:
    """The present standing of a world."""
    site, panel = world.site, world.controller.panel()
    leaves = site.leaves.fitted
    return Standing(
        sheet=dict(panel.settings),
        fitted=dict(site.guards.fitted),
        bridged=tuple(world.cabinet.bridged),
        unplugged=tuple(world.cabinet.unplugged),
        swapped_wrong=tuple(name for leaf, name in enumerate(leaves) if world.cabinet.leads_swapped(leaf)),
        opens_first_truth=site.opens_first,
        learned=None not in panel.travel[: len(leaves)],
        user_group_truth=site.user_group,
        user_group_stated=world.user_group,
        survey=dict(world.survey),
        survey_right=site.right_answers(),
        mains_on=world.cabinet.mains_on,
        battery_linked=world.cabinet.battery_linked,
        released=tuple(name for leaf, name in enumerate(leaves) if not world.plant.engaged(leaf)),
        sealed=panel.sealed,
        transmitters=panel.transmitters,
        angle_deg=(math.degrees(world.plant.angle(0)), math.degrees(world.plant.angle(1))),
        slow_start_gap_m=world.notices.slow_start_gap_m,
        ended=world.ended if world.ended in ("handed over", "made safe") else "",  # type: ignore[arg-type]
        cordoned=world.cordoned,
        wired=(*world.cabinet.controls, *(("loop detector",) if world.cabinet.loop is not None else ())),
        leaves=leaves,
        notes=world.notebook.lines,
        open_stop_deg=tuple(leaf.open_stop_deg for leaf in site.leaves.hung),
        trapped=world.people.hinges.persons(),
        conclusions=world.notebook.conclusions,
        had=world.faults.had,
        has=tuple(name for name, _ in world.faults.present),
        mended=world.faults.repairs,
        handled=tuple(world.handled),
    )
