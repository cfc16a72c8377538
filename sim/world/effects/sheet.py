"""What is done at the controller's service panel: settings, jog, learning, seal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.controller import calendar
from sim.controller.settings import CATALOGUE as SETTINGS
from sim.errors import Refused
from sim.said import Verbatim, said
from sim.units import SCAN
from sim.world.actions import Action
from sim.world.board_clock import right_second
from sim.world.effects.effect import Effect

if TYPE_CHECKING:
    from sim.world.world import World


def _set(world: World, action: Action) -> str:
    name, value = str(action["setting"]), str(action["value"])
    before = world.settings().get(name)
    world.request("set", name, value)
    world.run_to(world.now + 2 * SCAN)
    after = world.settings().get(name)
    if after == before and str(before) != value:
        return world.controller.panel().message or said("{setting} stays {value}", setting=name, value=before)
    return said("{setting}: {value}", setting=name, value=after)


def _set_ready(world: World, action: Action) -> None:
    needs_power(world, action)
    name, value = str(action["setting"]), str(action["value"])
    if name not in SETTINGS:
        raise Refused(said("the sheet has no setting '{setting}'", setting=name))
    if value == "not fitted":
        for hazard in world.site.hazards:
            if name in hazard.covers and not _covered(world, hazard.hazard, name):
                raise Refused(
                    said(
                        "before the {guard} can be declared not fitted the survey must say what covers its hazard "
                        "instead (hazard: {hazard})",
                        guard=name,
                        hazard=hazard.hazard,
                    )
                )


def _covered(world: World, hazard: str, guard: str) -> bool:
    answer = world.survey.get(hazard, "")
    return bool(answer) and answer not in ("nothing", guard)


def _jog_press(world: World, action: Action) -> str:
    leaf, direction = str(action["leaf"]), str(action["direction"])
    world.held[said("jog {leaf} leaf", leaf=leaf)] = lambda: world.request("jog", leaf, "release")
    world.request("jog", leaf, direction)
    opens = direction == "open"
    return said("Jog held: {leaf} leaf, open." if opens else "Jog held: {leaf} leaf, close.", leaf=leaf)


def _jog_release(world: World, action: Action) -> str:
    leaf = str(action["leaf"])
    world.held.pop(f"jog {leaf} leaf", None)
    world.request("jog", leaf, "release")
    return said("Jog let go.")


def _learn(world: World, action: Action) -> str:
    for name in world.people.in_arc():
        world.tell(
            "danger",
            said("travel learning started with the {body} in the arc", body=name),
            what="person in the arc",
            detail=name,
            by="learning",
        )
    world.notices.command_given("travel learning", said("the sheet"))
    world.request("learn")
    world.run_to(world.now + 2 * SCAN)
    return panel_words(world)


def _plain(kind: str):  # type: ignore[no-untyped-def]
    def apply(world: World, action: Action) -> str:
        values = list(action.arguments.values())
        world.request(kind, str(values[0]) if values else "", str(values[1]) if len(values) > 1 else "")
        world.run_to(world.now + 2 * SCAN)
        return panel_words(world)

    return apply


def _seal(world: World, action: Action) -> str:
    told: str = _plain("seal")(world, action)
    if not world.controller.panel().sealed:
        return told
    return said("The sheet is sealed by {name}.", name=Verbatim(str(action["name"]).strip()))


def _unseal(world: World, action: Action) -> str:
    told: str = _plain("unseal")(world, action)
    return told if world.controller.panel().sealed else said("The sheet is open again.")


def _set_clock(world: World, action: Action) -> str:
    world.request("set clock", value=calendar.words(right_second(world)))
    world.run_to(world.now + 2 * SCAN)
    return panel_words(world)


def panel_words(world: World) -> str:
    panel = world.controller.panel()
    return said("{state}. {message}" if panel.message else "{state}.", state=panel.state, message=panel.message)


def needs_power(world: World, action: Action) -> None:
    if not world.host.on:
        raise Refused("the controller has no power: its panel is dark")


def _jog_ready(world: World, action: Action) -> None:
    needs_power(world, action)
    if f"jog {action['leaf']} leaf" in world.held:
        raise Refused(said("the jog button of the {leaf} leaf is held already", leaf=action["leaf"]))


EFFECTS = {
    "set": Effect(_set, _set_ready),
    "jog press": Effect(_jog_press, _jog_ready),
    "jog release": Effect(_jog_release),
    "learn travel": Effect(_learn, needs_power),
    "acknowledge": Effect(_plain("acknowledge"), needs_power),
    "set clock": Effect(_set_clock, needs_power),
    "reset sheet": Effect(_plain("reset to defaults"), needs_power),
    "seal sheet": Effect(_seal, needs_power),
    "unseal sheet": Effect(_unseal, needs_power),
}
