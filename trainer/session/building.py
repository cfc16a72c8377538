"""The world a job starts in, and that world without one of its faults."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial

from sim.controller import ReferenceController
from sim.controller.ports import Controller
from sim.instruments.toolbag import Toolbag
from sim.mechanics.yard import Body
from sim.units import from_seconds
from sim.world.arrival import Arrival
from sim.world.lived import Lived, LivedAct
from sim.world.played_back import PlayedBack
from sim.world.world import World
from trainer.job import Resolved, models
from trainer.job.put_out import as_recorded


def build_world(resolved: Resolved) -> World:
    """The world a job starts in."""
    found = resolved.arrival
    arrival = Arrival(
        mains=found.mains == "on",
        battery_linked=found.battery_linked,
        angles_deg=(found.angles_deg.active, found.angles_deg.inactive),
        released=found.released,
        swapped_leads=found.swapped_leads,
        sheet=found.sheet,
        learned=found.learned,
        transmitters=tuple((t.tag, t.holder, t.function) for t in found.transmitters),
        bridged=found.bridged,
        unplugged=found.unplugged,
        bodies=tuple(Body(b.body, b.x_m, b.y_m, b.lying, math.radians(b.turn_deg)) for b in found.bodies),
        in_hinge_gaps=tuple((held.leaf, held.what) for held in found.in_hinge_gaps),
        faults=tuple((failed.fault, failed.share) for failed in found.faults),
        lived=_lived(found.lived),
    )
    return World(resolved.site, seed=_seed(resolved), controller=_controller(found), bag=Toolbag, arrival=arrival)


def _controller(found: models.Arrival) -> Controller:
    record = recorded(found)
    return ReferenceController() if record is None else PlayedBack(record.controller, as_recorded(record))


def recorded(found: models.Arrival) -> models.Record | None:
    return None if found.lived is None else found.lived.record


def _seed(resolved: Resolved) -> int:
    """That of the session; what a gate lived through happened to one gate and no other, whose seed is 0."""
    return resolved.seed if resolved.arrival.lived is None else 0


def _lived(found: models.Lived | None) -> Lived | None:
    if found is None:
        return None
    acts = tuple(LivedAct(from_seconds(each.at_s), each.act, each.given) for each in found.acts)
    return Lived(acts, from_seconds(found.opens_at_s))


def without_each(resolved: Resolved) -> dict[str, Callable[[], World]]:
    """Of each fault the gate is found with, that gate but for it."""
    found = resolved.arrival
    return {
        each.fault: partial(
            build_world,
            replace(
                resolved,
                arrival=found.model_copy(update={"faults": tuple(other for other in found.faults if other != each)}),
            ),
        )
        for each in found.faults
    }
