"""Taking the supply away and bringing it back: two sources, two acts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.world.actions import Action
from sim.world.effects.effect import Effect

if TYPE_CHECKING:
    from sim.world.world import World


def _isolate(world: World, action: Action) -> str:
    world.cabinet.isolate()
    _rewired(world)
    left = " The battery is still linked." if world.cabinet.battery_linked else ""
    return "The mains isolator is open, locked and tagged." + left


def _restore(world: World, action: Action) -> str:
    for name in world.people.in_arc():
        world.tell(
            "danger",
            f"supply restored with the {name} in the arc",
            what="person in the arc",
            detail=name,
            by="restore",
        )
    world.cabinet.restore()
    _rewired(world)
    return "The mains isolator is closed."


def _remove_link(world: World, action: Action) -> str:
    world.cabinet.remove_battery_link()
    _rewired(world)
    return "The battery link is out."


def _fit_link(world: World, action: Action) -> str:
    world.cabinet.fit_battery_link()
    _rewired(world)
    return "The battery link is in."


def _rewired(world: World) -> None:
    world.host.rewired()
    world.notices.power_changed()


def _mains(on: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        if world.cabinet.mains_on is on:
            raise Refused(sentence)

    return ready


def _battery(linked: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        if world.site.supply.battery is None:
            raise Refused("no battery is fitted on this site")
        if world.cabinet.battery_linked is linked:
            raise Refused(sentence)

    return ready


EFFECTS = {
    "isolate": Effect(_isolate, _mains(False, "the isolator is open already")),
    "restore": Effect(_restore, _mains(True, "the isolator is closed already")),
    "remove battery link": Effect(_remove_link, _battery(False, "the battery link is out already")),
    "fit battery link": Effect(_fit_link, _battery(True, "the battery link is in already")),
}
