"""Repairs: each sets facts back to how they were built, and asks nobody what was wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.faults.edit import Exchanged
from sim.said import begun, said
from sim.units import Us, from_seconds
from sim.world.actions import Action
from sim.world.effects.effect import Effect
from sim.world.effects.wiring import live_work
from sim.world.mending.doing import carry_out
from sim.world.mending.row import VERBS, Mend
from sim.world.mending.table import mend_of
from sim.world.mending.wires import conductors

if TYPE_CHECKING:
    from sim.world.world import World

DONE: Final = {
    "tighten": "{what}: tightened.",
    "re-terminate": "{what}: set under its own terminals again.",
    "splice": "{what}: joined anew.",
    "re-lay cable": "{what}: laid anew.",
    "replace": "{what}: a new one is in.",
    "clean": "{what}: clean.",
    "align": "{what}: aligned and locked.",
    "adjust": "{what}: set to where it belongs.",
    "grease": "{what}: greased.",
    "free": "{what}: free.",
    "dry": "{what}: dry and sealed.",
    "prune": "{what}: cut back.",
    "clear away": "{what}: cleared away.",
    "remove link": "{what}: out.",
    "reset": "{what}: reset.",
}
"""What is said of each repair once it is done."""


def _mend(world: World, action: Action) -> str:
    mend = _found(world, action)
    if mend.dead:
        live_work(world, said("{verb}, {what},", verb=action.kind, what=mend.what))
    if mend.on_conductors:
        world.handled.append(world.line)
    closed = carry_out(world, mend)
    done = said(DONE[action.kind], what=begun(mend.what))
    parts = ", ".join(mend.parts)
    world.tell("repair", done, verb=action.kind, what=mend.what, parts=parts, closed=", ".join(closed))
    return done


def _found(world: World, action: Action) -> Mend:
    return mend_of(world, action.kind, str(action["what"]))


def _ready(world: World, action: Action) -> None:
    if world.notices.moving():
        raise Refused(said("the gate is {moving}; nobody mends anything on it now", moving=world.notices.moving()))
    mend = _found(world, action)
    if mend.ready is not None:
        mend.ready(world)


def _takes(world: World, action: Action) -> Us:
    return from_seconds(_found(world, action).seconds)


def _swap(world: World, action: Action) -> str:
    one, other = str(action["one"]), str(action["other"])
    live_work(world, said("exchanging {one} and {other}", one=one, other=other))
    world.handled.append(world.line)
    Exchanged(one, other, "a" if action["end"] == "cabinet" else "b").apply(world, 1.0)
    done = said("{one} and {other} have changed places.", one=one, other=other)
    world.tell("repair", done, verb=action.kind, what=f"{one} and {other}", parts="")
    return done


def _two_cores(world: World, action: Action) -> None:
    if world.notices.moving():
        raise Refused(said("the gate is {moving}; nobody works on its cores now", moving=world.notices.moving()))
    known = conductors(world.cabinet.built)
    for name in (str(action["one"]), str(action["other"])):
        if name not in known:
            raise Refused(said("there is no core '{name}' on this site", name=name))
    if action["one"] == action["other"]:
        raise Refused("both are the same core")


EFFECTS: dict[str, Effect] = {
    **{verb: Effect(_mend, _ready, _takes) for verb in VERBS},
    "swap cores": Effect(_swap, _two_cores),
}
