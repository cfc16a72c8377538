"""The made-up bag: the instruments of the real shelf, with readings that mean nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments import shelf
from sim.world.actions import Action
from sim.world.mending.row import VERBS
from trainer.session.tools import FunctionView, ReadingView, UseView, catalogue_of
from trainer.window.canned import cabinet

if TYPE_CHECKING:
    from trainer.window.canned.session import CannedSession

SHELF: Final = catalogue_of(new() for new in shelf.SHELF)

OFFERS: Final = {
    "terminal": tuple(name for name, _part, _pin, _mains in cabinet.ROWS),
    "core": tuple(
        core.name for core in cabinet.wiring(True, True, (), (), ()).cores if core.way in ("core", "wire", "link")
    ),
    "leaf": ("active", "inactive"),
    "post": ("active", "inactive"),
    "guard": ("outer beam", "active edge", "inactive edge", "stop circuit"),
    "transmitter": ("grey, two buttons", "blue, two buttons"),
    "joint": ("warning lamp, plus, screw", "warning lamp, minus, screw"),
    **{str(verb): ("warning lamp", "outer beam receiver", "active leaf motor, plus core") for verb in VERBS},
}
"""Names that may be given for each kind of place, and for each repair."""

READS: Final = {
    "V": "27.31 V",
    "\u03a9": "4.113 k\u03a9",
    "A": "2.14 A",
    "N": "42 N",
    "m": "4.021 m",
    "s": "12.4 s",
    "": "as it should be",
}


def measured(session: CannedSession, action: Action) -> str:
    """Read at once."""
    session.readings[str(action["instrument"])] = _reading(session, action)
    return session.readings[str(action["instrument"])].text


def placed(session: CannedSession, action: Action) -> str:
    """Left in place, not read yet."""
    name = str(action["instrument"])
    session.in_place[name] = UseView(name, *(str(action[part]) for part in ("function", "at", "against")))
    session.readings.pop(name, None)
    return f"The {name} is in place."


def read(session: CannedSession, action: Action) -> str:
    """Read where it stands."""
    name = str(action["instrument"])
    use = session.in_place.get(name)
    if use is None:
        return f"The {name} is not in place."
    text = _text(session, name, use.function)
    session.readings[name] = ReadingView(name, text, use.function, use.at, use.against, "1.2", "29.4")
    return session.readings[name].text


def lifted(session: CannedSession, action: Action) -> str:
    """Taken off."""
    session.in_place.pop(str(action["instrument"]), None)
    return "Off."


def _reading(session: CannedSession, action: Action) -> ReadingView:
    name = str(action["instrument"])
    function, at, against = (str(action[part]) for part in ("function", "at", "against"))
    return ReadingView(name, _text(session, name, function), function, at, against)


def _text(session: CannedSession, instrument: str, function: str) -> str:
    held = next(each for each in SHELF if each.name == instrument)
    found: FunctionView | None = next((each for each in held.functions if each.name == function), None)
    unit = found.unit if found is not None else ""
    return READS.get(unit, f"12.3 {unit}") if session.powered or unit != "V" else "0.02 V"
