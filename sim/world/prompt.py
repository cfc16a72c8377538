"""Acts at an instant: the same catalogue, but nobody's time passes. For searches, and for what was lived before.

A person needs three seconds to hold a card before a beam; what is searched for may need the beam for two scans. So
the effect of an action is had here without its time, and with it a few things that no person at work can do.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from sim.controller.ports import GUARD_TERMINALS
from sim.errors import ActionError, Refused
from sim.said import said
from sim.units import LEAVES
from sim.world import radio
from sim.world.actions import CATALOGUE, Action, Value, checked

if TYPE_CHECKING:
    from sim.world.world import World

Arguments = Mapping[str, Value]


def do_at_once(world: World, act: str, arguments: Arguments) -> None:
    """Have the effect of an act now, at this instant, and let no time pass for it.

    Raises Refused where it makes no sense now, ActionError where it is no act or has the wrong arguments.
    """
    beyond = BEYOND.get(act)
    if beyond is not None:
        beyond(world, arguments)
        return
    from sim.world.effects import EFFECTS

    action = _made(act, arguments)
    world.check(action)
    EFFECTS[act].apply(world, action)
    world.level("commands", bool(world.held))


def act_problem(act: str, arguments: Arguments) -> str:
    """What is wrong with an act as it is written, in words; empty if nothing is."""
    if act not in BEYOND:
        try:
            _made(act, arguments)
        except ActionError as error:
            return str(error)
        return ""
    needs = NEEDS[act]
    if set(arguments) != set(needs):
        return f"'{act}' takes {', '.join(needs)}; read {', '.join(arguments) or 'nothing'}"
    return ""


def _made(act: str, arguments: Arguments) -> Action:
    action = checked(act, arguments)
    if CATALOGUE[act].group in ("time", "instruments", "record"):
        raise ActionError(said("'{act}' is made of time or of looking; it can't be had at an instant", act=act))
    return action


def _found_so(world: World, arguments: Arguments) -> None:
    """The sheet is found like this: nothing is logged, nothing goes stale."""
    world.assume({str(arguments["setting"]): arguments["value"]})


def _bring(world: World, arguments: Arguments) -> None:
    world.faults.bring(str(arguments["fault"]), float(arguments["share"]))


def _cure(world: World, arguments: Arguments) -> None:
    world.faults.cure(str(arguments["fault"]))


def _repeat_word(world: World, arguments: Arguments) -> None:
    """Somebody sends a word again that was recorded from a transmitter: the last one it sent, or an older one."""
    tag = str(arguments["tag"])
    older = int(arguments["older"])
    if world.counters.get(tag, 0) <= older:
        raise Refused("it has sent no such word that could be repeated")
    word = radio.word(world, tag, 1, pressed=True)
    world.hear(replace(word, counter=word.counter - older))


def _supply(world: World, arguments: Arguments) -> None:
    """The power supply gives another voltage: an overload on the street, a supply that is dying."""
    world.cabinet.netlist.change("power supply", volts=float(arguments["volts"]))
    world.rewired()


def _clock(world: World, arguments: Arguments) -> None:
    """The contact of a clock closes or opens."""
    closed = bool(arguments["closed"])
    move = world.cabinet.press if closed else world.cabinet.release
    if move("timer contact"):
        world.host.rewired()


def _wind(world: World, arguments: Arguments) -> None:
    world.set_weather(world.weather.model_copy(update={"wind_m_s": float(arguments["wind_m_s"])}))


def _put_right(world: World, arguments: Arguments) -> None:
    """Whatever stands against a movement is taken away at once: hands, bodies, cards, links, open plugs, faults."""
    for body in tuple(world.people.bodies):
        do_at_once(world, "remove body", {"body": body})
    for control in tuple(world.held):
        world.held.pop(control)()
    _set_back(world)
    for name, _share in world.faults.present:
        world.faults.cure(name)
    for leaf in LEAVES:
        _if_it_makes_sense(world, "engage drive", {"leaf": leaf})
    _supply(world, {"volts": world.site.supply.idle_v})
    for act in ("restore", "fit battery link"):
        _if_it_makes_sense(world, act, {})


def _set_back(world: World) -> None:
    """Guards and maintained contacts as they are when nobody has touched them."""
    for guard in GUARD_TERMINALS:
        for act in ("uncover beam", "release edge", "plug in", "remove bridge"):
            _if_it_makes_sense(world, act, {"guard": guard})
    _if_it_makes_sense(world, "release", {"control": "stop button"})
    for contact in ("timer contact", "emergency contact"):
        if world.cabinet.release(contact):
            world.host.rewired()


def _if_it_makes_sense(world: World, act: str, arguments: Arguments) -> None:
    with suppress(Refused):
        do_at_once(world, act, arguments)


BEYOND: Final[Mapping[str, Callable[[World, Arguments], None]]] = MappingProxyType(
    {
        "find setting": _found_so,
        "bring fault": _bring,
        "cure fault": _cure,
        "repeat radio word": _repeat_word,
        "supply voltage": _supply,
        "timer contact": _clock,
        "wind": _wind,
        "put right": _put_right,
    }
)
"""Acts that no person at work has: what fails, what the network and the weather do, what a thief sends."""

NEEDS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "find setting": ("setting", "value"),
        "bring fault": ("fault", "share"),
        "cure fault": ("fault",),
        "repeat radio word": ("tag", "older"),
        "supply voltage": ("volts",),
        "timer contact": ("closed",),
        "wind": ("wind_m_s",),
    }
)
"""What each of them takes."""
