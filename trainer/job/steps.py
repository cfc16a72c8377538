"""The list of steps of a solution or a drill. A step is one act under its own name, and the moment it waits for:

    - isolate
    - push leaf: {leaf: active, to_deg: 60}
    - when: {gate: rests, within: 60}
      press: {control: open button}
    - when: {fully: closed}

The instructor's acts (`inject`, `clear`, `message`, `freeze`) stand in drills alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from sim.controller.ports import GUARD_TERMINALS
from sim.errors import ActionError
from sim.faults.catalogue import FAULTS
from sim.said import said
from sim.site.complaints import listing, nearest, shown
from sim.site.document import Data, Key
from sim.world.actions import CATALOGUE, Action, checked
from sim.world.meddling import WEATHER_KEYS
from trainer.job.conditions import Reading, filled, moment
from trainer.job.script import Clear, Freeze, Inject, InstructorAct, Message, Step

MOMENTS: Final = ("at", "after", "when")
INSTRUCTOR: Final = ("inject", "clear", "message", "freeze")
_INJECTIONS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "swap": ("active", "inactive"),
        "unplug": GUARD_TERMINALS,
        "bridge": GUARD_TERMINALS,
        "cover": tuple(guard for guard in GUARD_TERMINALS if guard.endswith(" beam")),
        "site": (),
        "weather": (),
        "fault": (),
    }
)


def read_steps(reading: Reading, read: Data, *, drill: bool) -> tuple[Step, ...]:
    """The steps under the key `steps`; problems are collected in `reading`."""
    if not isinstance(read, list) or not read:
        reading.complain(("steps",), said("read {read}; allowed: a list of at least one step", read=shown(read)))
        return ()
    steps = [_step(reading, ("steps", index), item, drill) for index, item in enumerate(read)]
    found = tuple(step for step in steps if step is not None)
    _injected_before(reading, found)
    return found


def _step(reading: Reading, key: Key, read: Data, drill: bool) -> Step | None:
    place = reading.document.where(key).split(" ")[0]
    if isinstance(read, str):
        read = {read: None}
    if not isinstance(read, dict) or not read:
        reading.complain(key, said("read {read}; allowed: an action's name, or a mapping with one", read=shown(read)))
        return None
    acts = [word for word in read if word not in MOMENTS]
    known = (*CATALOGUE, *INSTRUCTOR) if drill else tuple(CATALOGUE)
    for word in acts:
        if word not in known:
            if word in INSTRUCTOR:
                reading.complain(
                    (*key, word), said("'{word}' is the instructor's; it stands in drills alone", word=word)
                )
            else:
                hint = nearest(word, (*known, *MOMENTS)) or said("; allowed: {allowed}", allowed=listing(known))
                reading.complain((*key, word), said("there is no action '{word}'{hint}", word=word, hint=hint))
            return None
    if len(acts) > 1:
        reading.complain((*key, acts[1]), said("a step is one act; it has {acts}", acts=listing(acts)))
        return None
    waits = moment(reading, key, read)
    act = _act(reading, (*key, acts[0]), acts[0], read[acts[0]]) if acts else None
    return Step(waits, act, place)


def _act(reading: Reading, key: Key, word: str, read: Data) -> Action | InstructorAct | None:
    if word == "inject":
        return _inject(reading, key, read)
    if word in INSTRUCTOR:
        text = reading.text(key, filled(reading, key, read))
        if text is None:
            return None
        return Clear(text) if word == "clear" else Message(text) if word == "message" else Freeze(text)
    if read is not None and not isinstance(read, dict):
        takes = listing(argument.name for argument in CATALOGUE[word].arguments) or said("nothing")
        reading.complain(
            key, said("read {read}; allowed: a mapping of what it takes ({takes})", read=shown(read), takes=takes)
        )
        return None
    before = len(reading.problems)
    arguments = {name: filled(reading, (*key, name), value) for name, value in (read or {}).items()}
    if len(reading.problems) > before:
        return None
    try:
        return checked(word, arguments)
    except ActionError as error:
        reading.complain(key, str(error))
        return None


def _inject(reading: Reading, key: Key, read: Data) -> Inject | None:
    if not isinstance(read, dict):
        reading.complain(
            key,
            said(
                "read {read}; allowed: a mapping with 'name' and one of {allowed}",
                read=shown(read),
                allowed=listing(_INJECTIONS),
            ),
        )
        return None
    kinds = [word for word in read if word in _INJECTIONS]
    strange = [word for word in read if word not in (*_INJECTIONS, "name")]
    if strange or len(kinds) != 1 or "name" not in read:
        hint = nearest(strange[0], (*_INJECTIONS, "name")) if strange else ""
        reading.complain(
            key,
            said(
                "needed: 'name' and one of {allowed}; it has {given}{hint}",
                allowed=listing(_INJECTIONS),
                given=listing(read) or said("nothing"),
                hint=hint,
            ),
        )
        return None
    name = reading.text((*key, "name"), read["name"])
    what, value = kinds[0], read[kinds[0]]
    inner = (*key, what)
    if what in ("site", "weather"):
        changes = _changes(reading, inner, what, value)
        return None if name is None or changes is None else Inject(name, what, "", changes)  # type: ignore[arg-type]
    if what == "fault":
        return _fault(reading, inner, name, value)
    target = reading.one_of(inner, filled(reading, inner, value), _INJECTIONS[what])
    if name is None or target is None:
        return None
    return Inject(name, what, target)  # type: ignore[arg-type]


def _changes(reading: Reading, key: Key, what: str, value: Data) -> Mapping[str, Any] | None:
    """Keys of the site or of the weather with their new values, or None after a complaint."""
    keys = said("dotted site keys")
    if what == "weather":
        keys = said("keys of the weather ({keys})", keys=listing(WEATHER_KEYS))
    if not isinstance(value, dict) or not value:
        reading.complain(key, said("read {read}; allowed: {keys} with new values", read=shown(value), keys=keys))
        return None
    strange = [name for name in value if what == "weather" and name not in WEATHER_KEYS]
    if strange:
        hint = nearest(strange[0], WEATHER_KEYS)
        reading.complain((*key, strange[0]), said("allowed: {keys}{hint}", keys=keys, hint=hint))
        return None
    return MappingProxyType(dict(value))


def _fault(reading: Reading, key: Key, name: str | None, value: Data) -> Inject | None:
    """A fault by its name alone, at its gravest, or with a share from 0 (mild) to 1."""
    told = value if isinstance(value, dict) else {"name": value}
    share = told.get("share", 1.0)
    which = told.get("name")
    if set(told) - {"name", "share"} or not isinstance(which, str):
        reading.complain(
            key, said("read {read}; allowed: a fault's name, or a mapping with 'name' and 'share'", read=shown(value))
        )
        return None
    if which not in FAULTS:
        reading.complain(
            key, said("read {read}; there is no such fault{hint}", read=shown(which), hint=nearest(which, FAULTS))
        )
        return None
    if isinstance(share, bool) or not isinstance(share, (int, float)) or not 0.0 <= share <= 1.0:
        reading.complain((*key, "share"), said("read {read}; allowed: 0 (mild) to 1 (grave)", read=shown(share)))
        return None
    return None if name is None else Inject(name, "fault", which, MappingProxyType({"share": float(share)}))


def _injected_before(reading: Reading, steps: tuple[Step, ...]) -> None:
    """A name is injected once at a time, and cleared only while it is there."""
    there: set[str] = set()
    for step in steps:
        act = step.act
        if isinstance(act, Inject):
            if act.name in there:
                reading.problems.append(
                    said(
                        "{place}: inject: '{name}' is there already; clear it first", place=step.place, name=act.name
                    )
                )
            there.add(act.name)
        elif isinstance(act, Clear):
            if act.name not in there:
                hint = nearest(act.name, there)
                reading.problems.append(
                    said(
                        "{place}: clear: nothing named '{name}' was injected before{hint}",
                        place=step.place,
                        name=act.name,
                        hint=hint,
                    )
                )
            there.discard(act.name)
