"""Pressing and releasing the wired controls."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.said import begun, joined, said
from sim.world.actions import Action
from sim.world.effects.effect import Effect

if TYPE_CHECKING:
    from sim.world.world import World


LATCHES: Final = "emergency contact"
"""It stays as it is put; nobody holds it."""


def _press(world: World, action: Action) -> str:
    control = str(action["control"])
    if control == LATCHES:
        if world.cabinet.press(control):
            world.host.rewired()
        world.notices.command_given(control, control)
        return said("The {control} is closed and stays closed until it is set back.", control=control)
    if control == "stop button":
        world.people.stop_pressed = True
        world.people.told(world.cabinet.set_stop_pressed(True))
        return said("The stop button is in and stays in until it is pulled out.")
    if world.cabinet.press(control):
        world.host.rewired()
        world.by_itself.chatter(control)
    world.held[control] = lambda: _let_go(world, control)
    if control != "stop button":
        world.notices.command_given(control, control)
    return said("{control} held.", control=begun(control))


def _release(world: World, action: Action) -> str:
    control = str(action["control"])
    if control == "stop button":
        world.people.stop_pressed = False
        world.people.told(world.cabinet.set_stop_pressed(False))
        return said("The stop button is out.")
    world.held.pop(control, None)
    _let_go(world, control)
    return said("{control} let go.", control=begun(control))


def _let_go(world: World, control: str) -> None:
    world.by_itself.let_go(control)
    if world.cabinet.release(control):
        world.host.rewired()


def _press_ready(world: World, action: Action) -> None:
    control = str(action["control"])
    if control == "stop button":
        if isinstance(world.site.guards.stop_circuit, str):
            raise Refused("no stop button is fitted on this site")
        if world.people.stop_pressed:
            raise Refused("the stop button is in already; release pulls it out")
    elif control in world.held:
        raise Refused(said("the {control} is held already", control=control))
    elif control not in world.cabinet.controls:
        fitted = joined(world.cabinet.controls, ", ")
        raise Refused(said("no {control} is fitted on this site; fitted: {fitted}", control=control, fitted=fitted))


def _release_ready(world: World, action: Action) -> None:
    if action["control"] == "stop button" and not world.people.stop_pressed:
        raise Refused("the stop button is out already")


EFFECTS = {"press": Effect(_press, _press_ready), "release": Effect(_release, _release_ready)}
