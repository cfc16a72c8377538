"""What a solution and a drill are made of: steps, each with the moment it waits for and the act that follows.

Plain frozen data; whoever plays a script asks the gate, not this file. Steps are played in order. A step's moment
is counted like this: `At` from the start of the script, `After` and `When` from the end of the step before it; a
condition is met by what happens, or holds, from then on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

from sim.units import LeafName, Us
from sim.world.actions import Action, Value
from sim.world.history import EventKind


@dataclass(frozen=True, slots=True)
class LeafPasses:
    """A leaf goes through an angle."""

    leaf: LeafName
    deg: float
    going: Literal["open", "close", "either"] = "either"


@dataclass(frozen=True, slots=True)
class ControllerSays:
    """The panel's state or message holds this text (upper and lower case are the same)."""

    text: str


@dataclass(frozen=True, slots=True)
class EventSeen:
    """The world noticed something; `data` must be among the event's own."""

    kind: EventKind
    data: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class ActionDone:
    """The trainee did something; `arguments` must be among the action's own."""

    kind: str
    arguments: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class GateIs:
    """The gate rests (no leaf moves and none is driven), or moves."""

    what: Literal["rests", "moves"]


@dataclass(frozen=True, slots=True)
class FullyIs:
    """Both leaves rest fully open, or fully closed."""

    what: Literal["open", "closed"]


Condition: TypeAlias = LeafPasses | ControllerSays | EventSeen | ActionDone | GateIs | FullyIs


@dataclass(frozen=True, slots=True)
class At:
    """So long after the start [µs]."""

    time: Us


@dataclass(frozen=True, slots=True)
class After:
    """So long after the end of the step before [µs]."""

    time: Us


@dataclass(frozen=True, slots=True)
class When:
    """As soon as a condition is met."""

    condition: Condition
    within: Us | None = None
    """Give up after so long [µs]: a solution has then failed, a drill skips the step and says so."""


Moment: TypeAlias = At | After | When


@dataclass(frozen=True, slots=True)
class Inject:
    """The instructor changes something out of the trainee's sight."""

    name: str
    """What the script calls it, for `clear`; never shown to a trainee."""
    what: Literal["site", "swap", "unplug", "bridge", "cover", "weather", "fault"]
    target: str = ""
    """A leaf for `swap`, a fault's name for `fault`, else a guard; empty for `site` and `weather`."""
    changes: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    """For `site` dotted keys and new values, for `weather` keys of the weather, for `fault` its `share`."""


@dataclass(frozen=True, slots=True)
class Clear:
    """What was injected under this name is undone."""

    name: str


@dataclass(frozen=True, slots=True)
class Message:
    """The instructor says something to the trainee."""

    text: str


@dataclass(frozen=True, slots=True)
class Freeze:
    """Time stands still until the trainee goes on; played headless, it is noted and passed over."""

    text: str


InstructorAct: TypeAlias = Inject | Clear | Message | Freeze


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a script."""

    moment: Moment | None
    """None: at once after the step before."""
    act: Action | InstructorAct | None
    """None: only wait."""
    place: str
    """`file:line:column` where it stands, for messages."""
