"""Work at the cabinet: motor leads, plugs, wire links."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.world.actions import Action
from sim.world.effects.effect import Effect, leaf_of

if TYPE_CHECKING:
    from sim.world.world import World


def _swap(world: World, action: Action) -> str:
    live_work(world, f"swapping the {action['leaf']} leaf's motor leads")
    world.cabinet.swap_motor_leads(leaf_of(action))
    world.host.rewired()
    return f"The {action['leaf']} leaf's two motor cores have changed places."


def _unplug(world: World, action: Action) -> str:
    guard = str(action["guard"])
    world.cabinet.unplug(guard)
    world.host.rewired()
    return f"The {guard}'s plug is out."


def _plug(world: World, action: Action) -> str:
    guard = str(action["guard"])
    world.cabinet.plug(guard)
    world.host.rewired()
    return f"The {guard}'s plug is in."


def _bridge(world: World, action: Action) -> str:
    guard = str(action["guard"])
    live_work(world, f"bridging the {guard}")
    world.cabinet.bridge(guard)
    world.host.rewired()
    world.tell("danger", f"the {guard} is bridged: it protects nobody", what="bridge fitted", detail=guard)
    return f"A link lies across the {guard}'s input: it protects nobody now."


def _unbridge(world: World, action: Action) -> str:
    guard = str(action["guard"])
    live_work(world, f"taking the link off the {guard}")
    world.cabinet.unbridge(guard)
    world.host.rewired()
    return f"The link is off the {guard}'s input."


def live_work(world: World, what: str) -> None:
    """Hands among the terminals while a source is on: it happens in the model, is told, and is graded."""
    sources = []
    if world.cabinet.mains_on:
        sources.append("mains on")
    if world.cabinet.battery_linked:
        sources.append("battery linked")
    if sources:
        world.tell("danger", f"{what} live: {', '.join(sources)}", what="live work", detail=what)


def _plugged(wanted: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        guard = str(action["guard"])
        if guard not in world.cabinet.plugs:
            raise Refused(f"no {guard} is fitted: there is no plug at that input")
        if (guard in world.cabinet.unplugged) is wanted:
            raise Refused(sentence.format(guard=guard))

    return ready


def _bridged(wanted: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        guard = str(action["guard"])
        if (guard in world.cabinet.bridged) is not wanted:
            raise Refused(sentence.format(guard=guard))

    return ready


def _at_rest(world: World, action: Action) -> None:
    if world.notices.moving():
        raise Refused(f"the gate is {world.notices.moving()}; nobody works on its motor leads now")


EFFECTS = {
    "swap motor leads": Effect(_swap, _at_rest),
    "unplug": Effect(_unplug, _plugged(True, "the {guard}'s plug is out already")),
    "plug in": Effect(_plug, _plugged(False, "the {guard}'s plug is in already")),
    "bridge": Effect(_bridge, _bridged(False, "the {guard}'s input is bridged already")),
    "remove bridge": Effect(_unbridge, _bridged(True, "no link lies across the {guard}'s input")),
}
