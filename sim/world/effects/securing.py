"""Propping and roping leaves: a fact of the gate while it lasts, whatever a drive makes of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.said import said
from sim.site import with_changes
from sim.world.actions import Action
from sim.world.effects.effect import Effect, leaf_of
from sim.world.mending.doing import carry_out
from sim.world.mending.mechanics import CALM

if TYPE_CHECKING:
    from sim.world.world import World


def _now(world: World, action: Action) -> str:
    return world.site.leaves.pair[leaf_of(action)].secured


def _hands_off(world: World, action: Action) -> None:
    if world.notices.moving():
        raise Refused(
            said("the gate is {moving} under power; nobody ties or wedges a leaf now", moving=world.notices.moving())
        )


def _at_rest(world: World, action: Action) -> None:
    if world.notices.moving():
        raise Refused(said("the gate is {moving} under power; nobody leaves it now", moving=world.notices.moving()))


def _secured(how: str, sentence: str) -> Callable[[World, Action], str]:
    def apply(world: World, action: Action) -> str:
        world.refit(with_changes(world.site, {f"leaves.{action['leaf']}.secured": how}))
        return said(sentence, leaf=action["leaf"])

    return apply


def _is_free(world: World, action: Action) -> None:
    _hands_off(world, action)
    if _now(world, action) != "free":
        raise Refused(said("the {leaf} leaf is {secured} already", leaf=action["leaf"], secured=_now(world, action)))


def _is_secured(world: World, action: Action) -> None:
    if _now(world, action) == "free":
        raise Refused(said("the {leaf} leaf is neither propped nor roped", leaf=action["leaf"]))


def _calm(world: World, action: Action) -> str:
    carry_out(world, CALM)
    return said("The wind is down to {wind_m_s:g} m/s.", wind_m_s=world.weather.wind_m_s)


EFFECTS = {
    "come back on a calm day": Effect(_calm, _at_rest),
    "prop leaf": Effect(_secured("propped", "The {leaf} leaf is propped: it neither swings nor drops."), _is_free),
    "rope leaf": Effect(_secured("roped", "The {leaf} leaf is roped: it can't swing."), _is_free),
    "free leaf": Effect(_secured("free", "The {leaf} leaf is free again."), _is_secured),
}
