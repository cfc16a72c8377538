"""What somebody at work has found out, read from a session's history: each reading, each movement that was watched.

Only what was had as the table has it is taken: a reading in the state that the table names, a movement of a gate that
had both its sources, every plug in and no guard held. The rest may have told a person much; here it tells nothing.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from sim.bench.fault_seen import CYCLED, EYES, LIVE, RADIO, SHEET, Operation, operations
from sim.bench.fault_sweep import ISOLATED, UNPLUGGED, UNREADABLE, Column
from sim.site import Site
from sim.units import LEAVES, SECOND, LeafName, Us
from sim.world.actions import Value
from sim.world.history import Event, History

SHUT_DEG: Final = 3.0
"""A gate whose leaves rest nearer to shut than this stands as the table has it [°]. Common practice, no source."""

NEAR_M: Final = 10.0
"""A transmitter pressed from farther away says nothing of itself [m]. Common practice, no source."""

HOLDS: Final = MappingProxyType(
    {"cover beam": "uncover beam", "press edge": "release edge", "place body": "remove body", "unplug": "plug in"}
)
"""Acts that keep a guard tripped by hand, and what ends each; the first argument of both says which."""

MEASURE_LEAVES: Final = ("tape", "level", "dial gauge", "feeler gauge", "spring scale", "pulse counter")
"""Instruments that read otherwise on a leaf that stands elsewhere."""

READ: Final = "read status and log"
"""The act with which somebody reads the panel, and so the sheet that stands on it."""


@dataclass(frozen=True, slots=True)
class Found:
    """How the gate was found, as anybody sees it who comes: both sources, and what is fitted."""

    mains: bool
    battery: bool
    """Linked; False where there is none."""
    has_battery: bool
    stops_deg: Mapping[LeafName, float]
    """Where each leaf that hangs here rests when open [°]."""

    @classmethod
    def of(cls, site: Site, mains: bool, battery_linked: bool) -> Found:
        """Of a site and the two switches."""
        has = site.supply.battery is not None
        stops = zip(site.leaves.fitted, site.leaves.hung, strict=True)
        return cls(mains, battery_linked and has, has, {name: leaf.open_stop_deg for name, leaf in stops})


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing that was read or seen."""

    at: Us
    line: int
    """Journal line of the act that made it."""
    column: Column
    text: str


class _Standing:
    """How the gate stood at any instant, as far as it decides which column of a table a reading belongs to."""

    def __init__(self, history: History, found: Found) -> None:
        self._found = found
        self._power = [event for event in history.events if event.kind == "power"]
        self._plugs = [entry for entry in history.entries if entry.action.kind in ("unplug", "plug in")]
        self._moves = [event for event in history.events if event.kind in ("moving", "resting")]
        self._hands = [entry for entry in history.entries if entry.action.kind in (*HOLDS, *HOLDS.values())]

    def sources(self, at: int) -> tuple[bool, bool]:
        """(mains on, battery linked)."""
        past = [event for event in self._power if event.at <= at]
        if not past:
            return self._found.mains, self._found.battery
        return bool(past[-1].data["mains"]), bool(past[-1].data["battery"]) and self._found.has_battery

    def unplugged(self, at: int) -> frozenset[str]:
        """Which plugs are out by the trainee's hand."""
        out: set[str] = set()
        for entry in self._plugs:
            if entry.at <= at:
                (out.add if entry.action.kind == "unplug" else out.discard)(str(entry.action["guard"]))
        return frozenset(out)

    def rests(self, at: int) -> bool:
        """Whether no leaf is under way."""
        last = {event.data["leaf"]: event.kind for event in self._moves if event.at <= at}
        return "moving" not in last.values()

    def is_shut(self, at: int) -> bool:
        """Whether every leaf rests shut; it is found so."""
        last = {event.data["leaf"]: event for event in self._moves if event.at <= at}
        return self.rests(at) and all(float(each.data["angle_deg"]) <= SHUT_DEG for each in last.values())

    def held(self, at: int) -> bool:
        """Whether somebody holds a guard tripped, or stands something before one."""
        now: set[str] = set()
        for entry in self._hands:
            if entry.at <= at:
                held = next(iter(entry.action.arguments.values()))
                (now.add if entry.action.kind in HOLDS else now.discard)(str(held))
        return bool(now)

    def is_whole(self, at: int) -> bool:
        """Both sources there and every plug in."""
        mains, battery = self.sources(at)
        return mains and battery == self._found.has_battery and not self.unplugged(at)

    def states(self, at: int) -> tuple[str, ...]:
        """States of a table that the gate is in, the closest first."""
        mains, battery = self.sources(at)
        if mains:
            return (LIVE,) if self.rests(at) and not self.unplugged(at) else ()
        if battery:
            return ()
        return (UNPLUGGED, ISOLATED) if self.unplugged(at) else (ISOLATED,)


def observations(history: History, found: Found, columns: Mapping[Column, int]) -> tuple[Observation, ...]:
    """Everything that was found out, in the order in which it was known; of `columns` alone."""
    stands = _Standing(history, found)
    asked = operations(history.entries, history.events, found.stops_deg, history.end)
    seen = [
        *_watched(asked, stands),
        *_answered(history, stands),
        *_sheet(history),
        *(each for event in _readings(history) for each in _read(event, stands, asked, columns)),
    ]
    return tuple(sorted((each for each in seen if each.column in columns), key=lambda each: (each.at, each.line)))


def _watched(asked: Sequence[Operation], stands: _Standing) -> Iterator[Observation]:
    """An opening from shut, and the closing that follows an opening."""
    before = ""
    for each in asked:
        fair = stands.is_whole(each.at) and not stands.held(each.at)
        fair = fair and (stands.is_shut(each.at) if each.way == "opening" else before == "opening")
        before = each.way if fair else ""
        if fair:
            for what, text in each.seen.items():
                yield Observation(each.known, each.line, (CYCLED, EYES, each.way, what, ""), text)


def _answered(history: History, stands: _Standing) -> Iterator[Observation]:
    """Whether a transmitter that was pressed close by had an answer."""
    for entry in history.entries:
        if entry.action.kind != "press transmitter" or float(entry.action["distance_m"]) > NEAR_M:
            continue
        until = Us(entry.at + SECOND)
        if stands.is_whole(entry.at) and until <= history.end:
            tag = str(entry.action["transmitter"])
            heard = any(e.kind == "command" and entry.at <= e.at <= until for e in history.events)
            text = "is answered" if heard else "is not answered"
            yield Observation(until, entry.line, (LIVE, EYES, RADIO, tag, ""), text)


def _sheet(history: History) -> Iterator[Observation]:
    """Every line of the sheet that nobody wrote anew before the panel was read: it stood so all the time."""
    for entry in history.entries:
        if entry.action.kind == READ and _has_power(history, entry.at):
            written = {str(e.action["setting"]) for e in history.entries if e.action.kind == "set"}
            anew = any(e.action.kind == "reset sheet" for e in history.entries)
            for name, value in history.standing.sheet.items():
                if name not in written and not anew:
                    yield Observation(entry.at, entry.line, (LIVE, EYES, SHEET, name, ""), f"{value}")


def _has_power(history: History, at: int) -> bool:
    """Whether the panel is lit."""
    told = [event for event in history.events if event.at <= at and event.kind in ("power", "state")]
    if not told:
        return True
    last = told[-1]
    return bool(last.data["board"]) if last.kind == "power" else last.data["state"] != "no power"


def _readings(history: History) -> Iterator[Event]:
    """Every reading; and each that was tried and couldn't be had, which may tell as much."""
    told = [event for event in history.events if event.kind == "reading"]
    yield from told
    uses: dict[str, Mapping[str, Value]] = {}
    ends = [*(entry.at for entry in history.entries[1:]), history.end]
    for entry, end in zip(history.entries, ends, strict=False):
        given = entry.action.arguments
        name = str(given.get("instrument", ""))
        if entry.action.kind in ("place instrument", "measure"):
            uses[name] = given
        if entry.action.kind not in ("read instrument", "measure") or name not in uses:
            continue
        if not any(entry.at <= event.at <= end and event.data["instrument"] == name for event in told):
            use = uses[name]
            data = {"instrument": name, "function": use["function"], "red": use["at"], "black": use["against"]}
            yield Event(end, "reading", "", MappingProxyType({**data, "shown": UNREADABLE}), entry.line)


def _read(
    event: Event, stands: _Standing, asked: Sequence[Operation], columns: Mapping[Column, int]
) -> Iterator[Observation]:
    """What an instrument told: of a movement that is over, else of how the gate stood."""
    data = event.data
    what = tuple(str(data.get(key, "")) for key in ("instrument", "function", "red", "black"))
    shown = str(data.get("shown", ""))
    if not shown:
        return
    cycled: Column = (CYCLED, what[0], what[1], what[2], what[3])
    if cycled in columns and _cycle_before(event.at, asked):
        least, most = float(data.get("least", math.nan)), float(data.get("most", math.nan))
        text = shown if math.isnan(least) or math.isnan(most) else f"{least:.3g} to {most:.3g}"
        yield Observation(event.at, event.line, cycled, text)
        return
    for state in stands.states(event.at):
        for red, black in ((what[2], what[3]), (what[3], what[2])):
            column: Column = (state, what[0], what[1], red, black)
            if column in columns and (stands.is_shut(event.at) or not _hangs_on_angle(column)):
                yield Observation(event.at, event.line, column, shown)
                return


def _cycle_before(at: int, asked: Sequence[Operation]) -> bool:
    """Whether the last that was asked before was a closing after an opening."""
    past = asked[: bisect_right([each.known for each in asked], at)]
    return [each.way for each in past[-2:]] == ["opening", "closing"]


def _hangs_on_angle(column: Column) -> bool:
    """Whether it reads otherwise where the leaves stand elsewhere."""
    of_leaf = column[1] in MEASURE_LEAVES and column[3] in LEAVES
    return of_leaf or any(word in place for place in column[3:] for word in ("limit", "encoder", "lock"))


def state_now(history: History, found: Found) -> str:
    """The state of a table that the gate is in at the end of a history, as far as costs go."""
    states = _Standing(history, found).states(history.end)
    return states[0] if states else LIVE
