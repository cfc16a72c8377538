"""Moments and conditions of a script, read from plain data with complaints that name the line."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final, get_args

from sim.said import said
from sim.site.complaints import listing, nearest, shown
from sim.site.document import Data, Document, Key
from sim.units import Us, from_seconds
from sim.world.actions import CATALOGUE, Value
from sim.world.history import EventKind
from trainer.job.script import (
    ActionDone,
    After,
    At,
    Condition,
    ControllerSays,
    EventSeen,
    FullyIs,
    GateIs,
    LeafPasses,
    Moment,
    When,
)

LONGEST_S: Final = 7200.0
"""The longest time a script may wait for anything [s]."""

EVENT_KINDS: Final[tuple[str, ...]] = get_args(EventKind)
_HEADS: Final = ("leaf", "the controller says", "event", "action", "gate", "fully")
_BESIDE: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "leaf": ("passes_deg", "going"),
        "the controller says": (),
        "event": ("with",),
        "action": ("with",),
        "gate": (),
        "fully": (),
    }
)


class Reading:
    """A document being read, and what is wrong with it so far."""

    def __init__(self, document: Document, values: Mapping[str, Value]) -> None:
        self.document = document
        self.values = values
        """What stands for a name between angle brackets."""
        self.problems: list[str] = []

    def complain(self, key: Key, text: str) -> None:
        """Note a problem at a key."""
        self.problems.append(self.document.complaint(key, text))

    def seconds(self, key: Key, read: Data) -> Us | None:
        """A time in seconds as whole microseconds, or None after a complaint."""
        if isinstance(read, bool) or not isinstance(read, (int, float)) or not 0 <= read <= LONGEST_S:
            self.complain(
                key,
                said("read {read}; allowed: seconds from 0 to {most:g}", read=shown(read), most=LONGEST_S),
            )
            return None
        return from_seconds(float(read))

    def one_of(self, key: Key, read: Data, allowed: tuple[str, ...]) -> str | None:
        """One of these words, or None after a complaint."""
        if isinstance(read, str) and read in allowed:
            return read
        hint = nearest(read, allowed) if isinstance(read, str) else ""
        self.complain(
            key, said("read {read}; allowed: {allowed}{hint}", read=shown(read), allowed=listing(allowed), hint=hint)
        )
        return None

    def text(self, key: Key, read: Data) -> str | None:
        """A text that is not empty, or None after a complaint."""
        if isinstance(read, str) and 0 < len(read) <= 2000:
            return read
        self.complain(key, said("read {read}; allowed: a text of 1 to 2000 characters", read=shown(read)))
        return None


def moment(reading: Reading, key: Key, step: Mapping[str, Any]) -> Moment | None:
    """The moment a step waits for; None when it waits for nothing, or after a complaint."""
    given = [word for word in ("at", "after", "when") if word in step]
    if len(given) > 1:
        reading.complain((*key, given[1]), said("a step waits for one thing; it has {given}", given=listing(given)))
        return None
    if not given:
        return None
    inner = (*key, given[0])
    if given[0] == "when":
        return _when(reading, inner, step["when"])
    time = reading.seconds(inner, step[given[0]])
    if time is None:
        return None
    return At(time) if given[0] == "at" else After(time)


def _when(reading: Reading, key: Key, read: Data) -> When | None:
    if not isinstance(read, dict):
        reading.complain(
            key,
            said("read {read}; allowed: a mapping with one of {allowed}", read=shown(read), allowed=listing(_HEADS)),
        )
        return None
    heads = [word for word in read if word in _HEADS]
    if len(heads) != 1:
        strange = [word for word in read if word not in (*_HEADS, "within", "with", "passes_deg", "going")]
        hint = nearest(strange[0], _HEADS) if strange else ""
        reading.complain(
            key,
            said(
                "a condition is one of {allowed}; it has {given}{hint}",
                allowed=listing(_HEADS),
                given=listing(read) or said("nothing"),
                hint=hint,
            ),
        )
        return None
    head = heads[0]
    allowed = (head, *_BESIDE[head], "within")
    strange = [word for word in read if word not in allowed]
    if strange:
        hint = nearest(strange[0], allowed)
        reading.complain(
            (*key, strange[0]),
            said("there is no such key here; allowed: {allowed}{hint}", allowed=listing(allowed), hint=hint),
        )
        return None
    within = reading.seconds((*key, "within"), read["within"]) if "within" in read else None
    condition = _condition(reading, key, head, read)
    return None if condition is None else When(condition, within)


def _condition(reading: Reading, key: Key, head: str, read: dict[str, Data]) -> Condition | None:
    inner = (*key, head)
    value = filled(reading, inner, read[head])
    if head == "leaf":
        return _leaf_passes(reading, key, value, read)
    if head == "the controller says":
        text = reading.text(inner, value)
        return None if text is None else ControllerSays(text)
    if head == "gate":
        what = reading.one_of(inner, value, ("rests", "moves"))
        return None if what is None else GateIs(what)  # type: ignore[arg-type]
    if head == "fully":
        what = reading.one_of(inner, value, ("open", "closed"))
        return None if what is None else FullyIs(what)  # type: ignore[arg-type]
    beside = _beside(reading, (*key, "with"), read.get("with"))
    if head == "event":
        what = reading.one_of(inner, value, EVENT_KINDS)
        return None if what is None else EventSeen(what, beside)  # type: ignore[arg-type]
    what = reading.one_of(inner, value, tuple(CATALOGUE))
    return None if what is None else _action_done(reading, key, what, beside)


def _leaf_passes(reading: Reading, key: Key, value: Data, read: dict[str, Data]) -> LeafPasses | None:
    leaf = reading.one_of((*key, "leaf"), value, ("active", "inactive"))
    if "passes_deg" not in read:
        reading.complain(key, said("the key 'passes_deg' is missing (the angle the leaf goes through [°])"))
        return None
    deg = read["passes_deg"]
    if isinstance(deg, bool) or not isinstance(deg, (int, float)) or not 0 <= deg <= 130:
        reading.complain((*key, "passes_deg"), said("read {read}; allowed: degrees from 0 to 130", read=shown(deg)))
        return None
    going = reading.one_of((*key, "going"), read.get("going", "either"), ("open", "close", "either"))
    if leaf is None or going is None:
        return None
    return LeafPasses(leaf, float(deg), going)  # type: ignore[arg-type]


def _beside(reading: Reading, key: Key, read: Data) -> Mapping[str, Value]:
    """Names and values that must agree."""
    if read is None:
        return MappingProxyType({})
    if not isinstance(read, dict):
        reading.complain(key, said("read {read}; allowed: names with values", read=shown(read)))
        return MappingProxyType({})
    out: dict[str, Value] = {}
    for name, value in read.items():
        plain = filled(reading, (*key, name), value)
        if isinstance(plain, (str, int, float, bool)):
            out[name] = plain
        else:
            reading.complain(
                (*key, name), said("read {read}; allowed: text, a number, true or false", read=shown(plain))
            )
    return MappingProxyType(out)


def _action_done(reading: Reading, key: Key, kind: str, beside: Mapping[str, Value]) -> ActionDone | None:
    """As the catalogue has it: an argument that the action doesn't take could never be met."""
    taken = {argument.name: argument for argument in CATALOGUE[kind].arguments}
    for name, value in beside.items():
        place = (*key, "with", name)
        if name not in taken:
            hint = nearest(name, taken)
            reading.complain(
                place,
                said(
                    "'{kind}' takes no '{name}'; it takes {taken}{hint}",
                    kind=kind,
                    name=name,
                    taken=listing(taken) or said("nothing"),
                    hint=hint,
                ),
            )
            return None
        choices = taken[name].choices
        if choices and reading.one_of(place, value, choices) is None:
            return None
    return ActionDone(kind, beside)


def filled(reading: Reading, key: Key, read: Data) -> Data:
    """The value with every `<name>` replaced; a text that is nothing but `<name>` becomes the value itself."""
    if not isinstance(read, str) or "<" not in read:
        return read
    if read.startswith("<") and read.endswith(">") and read.count("<") == 1:
        return _named(reading, key, read[1:-1])
    out, rest = "", read
    while "<" in rest and ">" in rest[rest.index("<") :]:
        before, _, after = rest.partition("<")
        name, _, rest = after.partition(">")
        out += before + str(_named(reading, key, name))
    return out + rest


def _named(reading: Reading, key: Key, name: str) -> Value:
    if name in reading.values:
        return reading.values[name]
    known = listing(f"<{word}>" for word in reading.values) or said("none: the job draws nothing")
    reading.complain(
        key,
        said(
            "the job draws no <{name}>; allowed: {known}{hint}",
            name=name,
            known=known,
            hint=nearest(name, reading.values),
        ),
    )
    return ""
