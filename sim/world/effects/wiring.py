"""Work at the cabinet: motor leads, plugs, wire links."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.said import joined, said
from sim.world.actions import Action
from sim.world.effects.effect import Effect, leaf_of

if TYPE_CHECKING:
    from sim.world.world import World


def _swap(world: World, action: Action) -> str:
    live_work(world, said("swapping the {leaf} leaf's motor leads", leaf=action["leaf"]))
    world.cabinet.swap_motor_leads(leaf_of(action))
    world.host.rewired()
    return said("The {leaf} leaf's two motor cores have changed places.", leaf=action["leaf"])


def _unplug(world: World, action: Action) -> str:
    guard = str(action["guard"])
    world.cabinet.unplug(guard)
    world.host.rewired()
    return said("The {guard}'s plug is out.", guard=guard)


def _plug(world: World, action: Action) -> str:
    guard = str(action["guard"])
    world.cabinet.plug(guard)
    world.host.rewired()
    return said("The {guard}'s plug is in.", guard=guard)


def _bridge(world: World, action: Action) -> str:
    guard = str(action["guard"])
    live_work(world, said("bridging the {guard}", guard=guard))
    world.cabinet.bridge(guard)
    world.host.rewired()
    text = said("the {guard} is bridged: it protects nobody", guard=guard)
    world.tell("danger", text, what="bridge fitted", detail=guard)
    return said("A link lies across the {guard}'s input: it protects nobody now.", guard=guard)


def _unbridge(world: World, action: Action) -> str:
    guard = str(action["guard"])
    live_work(world, said("taking the link off the {guard}", guard=guard))
    world.cabinet.unbridge(guard)
    world.host.rewired()
    return said("The link is off the {guard}'s input.", guard=guard)


def live_work(world: World, what: str) -> None:
    """Hands among the terminals while a source is on: it happens in the model, is told, and is graded."""
    sources = []
    if world.cabinet.mains_on:
        sources.append(said("mains on"))
    if world.cabinet.battery_linked:
        sources.append(said("battery linked"))
    if sources:
        text = said("{what} live: {sources}", what=what, sources=joined(sources, ", "))
        world.tell("danger", text, what="live work", detail=what)


def _plugged(wanted: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        guard = str(action["guard"])
        if guard not in world.cabinet.plugs:
            raise Refused(said("no {guard} is fitted: there is no plug at that input", guard=guard))
        if (guard in world.cabinet.unplugged) is wanted:
            raise Refused(said(sentence, guard=guard))

    return ready


def _bridged(wanted: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        guard = str(action["guard"])
        if (guard in world.cabinet.bridged) is not wanted:
            raise Refused(said(sentence, guard=guard))

    return ready


def _at_rest(world: World, action: Action) -> None:
    if world.notices.moving():
        raise Refused(
            said("the gate is {moving}; nobody works on its motor leads now", moving=world.notices.moving())
        )


EFFECTS = {
    "swap motor leads": Effect(_swap, _at_rest),
    "unplug": Effect(_unplug, _plugged(True, "the {guard}'s plug is out already")),
    "plug in": Effect(_plug, _plugged(False, "the {guard}'s plug is in already")),
    "bridge": Effect(_bridge, _bridged(False, "the {guard}'s input is bridged already")),
    "remove bridge": Effect(_unbridge, _bridged(True, "no link lies across the {guard}'s input")),
}
