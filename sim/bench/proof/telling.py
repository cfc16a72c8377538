"""A case in plain sentences, each with its time: what somebody would say who stood there with a watch."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Any, Final

from sim.bench.proof.record import Done
from sim.controller.settings import CATALOGUE, Value
from sim.units import clock_text

Sentence = Callable[[Mapping[str, Any]], str]


def _press(a: Mapping[str, Any]) -> str:
    return f"Somebody presses the {a['control']}" + (", which stays in." if a["control"] == "stop button" else ".")


def _release(a: Mapping[str, Any]) -> str:
    return f"The {a['control']} is " + ("pulled out." if a["control"] == "stop button" else "let go.")


_SENTENCES: Final[Mapping[str, Sentence]] = MappingProxyType(
    {
        "press": _press,
        "release": _release,
        "timer contact": lambda a: f"The timer contact {'closes' if a['closed'] else 'opens'}.",
        "cover beam": lambda a: f"Something comes into the {a['guard']}.",
        "uncover beam": lambda a: f"The {a['guard']} is free again.",
        "press edge": lambda a: f"Something presses on the {a['guard']}.",
        "release edge": lambda a: f"The {a['guard']} is let go.",
        "unplug": lambda a: f"The plug of the {a['guard']} is pulled.",
        "plug in": lambda a: f"The plug of the {a['guard']} is put back.",
        "isolate": lambda a: "The mains goes.",
        "restore": lambda a: "The mains comes back.",
        "remove battery link": lambda a: "The battery is taken off.",
        "fit battery link": lambda a: "The battery is put on.",
        "supply voltage": lambda a: f"The power supply gives {a['volts']:g} V.",
        "place body": lambda a: f"The {a['body']} stands at {a['x_m']:g} m along, {a['y_m']:g} m inside.",
        "remove body": lambda a: f"The {a['body']} is gone.",
        "press transmitter": lambda a: f"Button {a.get('button', 1)} of the {a['transmitter']} is pressed.",
        "release transmitter": lambda a: f"The {a['transmitter']} is let go.",
        "repeat radio word": lambda a: f"A recorded word of the {a['tag']} is sent again, {_older(a)}.",
        "jog press": lambda a: f"At the panel the {a['leaf']} leaf is jogged: {a['direction']}.",
        "jog release": lambda a: f"The jog of the {a['leaf']} leaf is let go.",
        "learn travel": lambda a: "At the panel travel learning is begun.",
        "find setting": lambda a: f"The sheet says: {a['setting']} {_shown(str(a['setting']), a['value'])}.",
        "set": lambda a: f"At the panel {a['setting']} is set to {a['value']}.",
        "bridge": lambda a: f"A link is laid across the input of the {a['guard']}.",
        "delete transmitter": lambda a: f"At the panel the transmitter of {a['holder']} is deleted.",
        "seal sheet": lambda a: f"At the panel the sheet is sealed by {a['name']}.",
        "reset sheet": lambda a: "At the panel the sheet is reset to its defaults.",
        "put right": lambda a: "Everything that stands against a movement is put right.",
        "release drive": lambda a: f"The drive of the {a['leaf']} leaf is released by hand.",
        "engage drive": lambda a: f"The drive of the {a['leaf']} leaf is engaged again.",
        "bring fault": lambda a: f"The gate fails: {a['fault']}.",
        "wind": lambda a: "Nothing is done." if not a["wind_m_s"] else f"The wind blows with {a['wind_m_s']:g} m/s.",
    }
)


def _older(arguments: Mapping[str, Any]) -> str:
    older = int(arguments.get("older", 0))
    return "the last one" if not older else f"the one {older} before the last"


def sentence(act: str, arguments: Mapping[str, Any]) -> str:
    """One act in a sentence; an act without a sentence of its own by its name and what it was given."""
    own = _SENTENCES.get(act)
    if own is not None:
        return own(arguments)
    given = ", ".join(f"{name} {value}" for name, value in arguments.items())
    return f"{act.capitalize()}{': ' + given if given else ''}."


def _shown(name: str, value: Value) -> str:
    """A setting's value with its unit."""
    entry = CATALOGUE.get(name)
    return value if isinstance(value, str) else f"{value:g} {entry.unit if entry else ''}".strip()


def told(steps: Iterable[Done]) -> list[tuple[str, str]]:
    """(time, sentence) of each step that was carried out."""
    return [(clock_text(step.at), sentence(step.act, step.arguments)) for step in steps if not step.refused]
