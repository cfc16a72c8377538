"""What was done and what came of it: the acts of a journal and the events the world noticed.

Both are plain data. Grading, debrief, drills and tests read them; nothing here decides anything.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from sim.units import LEAVES, LeafName, Us
from sim.world.actions import Action, Value
from sim.world.notebook import Conclusion, Note

EventKind = Literal[
    "power",  # data: mains (bool), battery (bool), board (bool)
    "state",  # data: state (controller's state in words), message
    "moving",  # data: leaf, direction (open|close), by (jog|learning|automatic|hold-to-run|hand)
    "resting",  # data: leaf, angle_deg
    "stop reached",  # data: leaf, stop (open stop|closed stop), speed_m_s
    "guard",  # data: guard, tripped (bool), moving (closing|opening|''), place (where a beam was cut, m)
    "contact",  # data: leaf, body, force_n, by, where (hinge gap, else not there): a leaf pressed on a body
    "struck",  # data: leaf, body, force_n, by: a leaf pressed on a PERSON while driven (dangerous)
    "clash",  # data: force_n: the leaves met out of order
    "danger",  # data: what (live work|person in the arc|guard bridged|released on a slope), detail
    "damage",  # data: what, detail: something broke for good by what was done
    "reading",  # data: instrument, function, red, black, value, unit, shown, least, most
    "force",  # data: leaf, direction, gap_mm, height_mm, rest, peak_n, above_150_s, static_n, residual_s,
    # verdict, index
    "learned",  # data: active (counts), inactive (counts)
    "command",  # data: what, source (transmitter tag or control): a command the controller took
    "refused",  # data: what, why: the controller refused or could not move
    "weather",  # data: wind_m_s, from_deg, gust_intensity, temperature_c: it changed
    # data: verb, what, parts (what was used up, in words), closed (contacts that had opened and are closed again by
    # it): something was mended, or meant to be
    "repair",
    "hint",  # data: number (counted from 1): somebody who knows said something
    "note",  # data: text, entry (suspected|ruled out, else seen), number (of a note changed), struck
]


@dataclass(frozen=True, slots=True)
class Entry:
    """One accepted action: a line of the journal."""

    line: int
    """Line number in the journal file, counted from 1; the header is line 1."""
    at: Us
    """When it began [µs]."""
    action: Action


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened, noticed by the world."""

    at: Us
    kind: EventKind
    text: str
    """In words for a person."""
    data: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    line: int = 0
    """Journal line of the act in progress or last begun; 0 before the first."""


@dataclass(frozen=True, slots=True)
class Standing:
    """How the gate stands at the end (or now): truth beside what the sheet says. For grading only."""

    sheet: Mapping[str, Value]
    fitted: Mapping[str, bool]
    """Guard name: does a device stand on site."""
    bridged: tuple[str, ...]
    unplugged: tuple[str, ...]
    swapped_wrong: tuple[str, ...]
    """Leaves whose motor still turns the wrong way."""
    opens_first_truth: str
    learned: bool
    user_group_truth: str
    user_group_stated: str
    survey: Mapping[str, str]
    """Hazard: what was written down."""
    survey_right: Mapping[str, tuple[str, ...]]
    """Hazard: every answer that is right."""
    mains_on: bool
    battery_linked: bool
    released: tuple[str, ...]
    sealed: bool
    transmitters: tuple[tuple[str, str], ...]
    angle_deg: tuple[float, float]
    slow_start_gap_m: float | None
    """Gap between the closing edges where closing goes slow, in the last automatic closing seen; None if none."""
    ended: Literal["", "handed over", "made safe"]
    cordoned: bool = False
    wired: tuple[str, ...] = ()
    """Contacts that ask for the gate and stand on the site, by name."""
    leaves: tuple[LeafName, ...] = LEAVES
    """Which leaves hang here."""
    notes: tuple[Note, ...] = ()
    """The notebook as it stands, struck lines among them."""
    open_stop_deg: tuple[float, ...] = (90.0, 90.0)
    """Where the open stop of each leaf stands, or should stand [°]."""
    trapped: tuple[str, ...] = ()
    """Whose hand is in a gap at a hinge."""
    conclusions: tuple[Conclusion, ...] = ()
    """What is held to be the cause."""
    had: tuple[str, ...] = ()
    """Faults the gate was found with, or got since; one that an instructor took away again is none."""
    has: tuple[str, ...] = ()
    """Those of them that are still there."""
    mended: tuple[tuple[int, str], ...] = ()
    """(journal line, fault) of every repair that set back something a fault had changed."""
    handled: tuple[int, ...] = ()
    """Journal lines of the repairs that had hands on conductors, which wants both sources off."""


@dataclass(frozen=True, slots=True)
class History:
    """All that grading may look at."""

    entries: tuple[Entry, ...]
    events: tuple[Event, ...]
    standing: Standing
    end: Us
