"""What anybody sees without an instrument: how far each leaf went when it was asked to, and what the panel says.

What a gate did is read from acts and events alone, so that a bench and whoever looks at a session see the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from sim.bench.fault_readings import played
from sim.faults.entry import step
from sim.units import SECOND, LeafName, Us
from sim.world.history import Entry, Event
from sim.world.world import World

LIVE: Final = "live, at rest"
CYCLED: Final = "after a cycle"
EYES: Final = "eyes"
"""Who looks, where a table names instruments."""

Way = Literal["opening", "closing"]

ASKED: Final[Mapping[str, Way]] = MappingProxyType({"open button": "opening", "close button": "closing"})
"""What is asked by each button that asks for one thing only."""

THERE_DEG: Final = 3.0
"""A leaf that rests so near to where it should be got there [°]. Common practice, no source."""

STAYED_DEG: Final = 2.0
"""A leaf that moved less than this stayed where it was, to an eye [°]. Common practice, no source."""

ANSWERS: Final = 4 * SECOND
"""A gate that hasn't moved by now after it was asked will not [µs]; the warning before moving is in it."""

TRIPS: Final = {
    "outer beam": ("cover beam", "uncover beam"),
    "inner beam": ("cover beam", "uncover beam"),
    "active edge": ("press edge", "release edge"),
    "inactive edge": ("press edge", "release edge"),
}
"""How each guard is tripped by hand and let go."""

SHEET: Final = "sheet"
TRIPPED: Final = "guard tripped by hand"
RADIO: Final = "transmitter pressed"


@dataclass(frozen=True, slots=True)
class Operation:
    """One time the gate was asked to open or to close."""

    way: Way
    at: Us
    until: Us
    """When it was asked again, or the end of what is known."""
    known: Us
    """When whoever looks on has seen what came of it."""
    line: int
    """Journal line of the act that asked; 0 where none did."""
    seen: Mapping[str, str]
    """`active`, `inactive`: what the leaf did; `panel`: what stood there last, if anything did."""


def operations(
    entries: Sequence[Entry], events: Sequence[Event], open_deg: Mapping[LeafName, float], end: int
) -> tuple[Operation, ...]:
    """Every opening and closing that was asked for by its button and came to an end.

    `open_deg`: where each leaf that hangs here rests when open [°]; `end`: until when events are known [µs].
    """
    asked = [
        (entry, ASKED[str(entry.action["control"])])
        for entry in entries
        if entry.action.kind == "press" and str(entry.action["control"]) in ASKED
    ]
    found = []
    for index, (entry, way) in enumerate(asked):
        until = Us(asked[index + 1][0].at if index + 1 < len(asked) else end)
        known = [event for event in events if event.at < until or (event.at == until and until == end)]
        mine = [event for event in known if event.at >= entry.at]
        seen = {str(leaf): _did(mine, leaf, way, degrees) for leaf, degrees in open_deg.items()}
        driven = any(event.kind == "moving" for event in mine)
        if all(seen.values()) and (driven or until - entry.at >= ANSWERS):
            told = [event.at for event in mine if event.kind in ("moving", "resting", "state")]
            at = max(told) if driven else min(until, Us(entry.at + ANSWERS))
            found.append(Operation(way, entry.at, until, at, entry.line, {**seen, **_said(known)}))
    return tuple(found)


def _did(events: Iterable[Event], leaf: LeafName, way: Way, open_deg: float) -> str:
    """What a leaf did; empty while it hasn't come to rest."""
    moves = [event for event in events if event.kind in ("moving", "resting") and event.data["leaf"] == leaf]
    if not any(event.kind == "moving" for event in moves):
        return "is not driven"
    if moves[-1].kind != "resting":
        return ""
    first = next(event for event in moves if event.kind == "moving")
    wanted = "open" if way == "opening" else "close"
    rests = float(moves[-1].data["angle_deg"])
    if abs(rests - (open_deg if way == "opening" else 0.0)) <= THERE_DEG:
        return "gets there"
    if any(event.data["direction"] != wanted for event in moves if event.kind == "moving"):
        return "turns back"
    moved = abs(rests - float(first.data["angle_deg"])) > STAYED_DEG
    return "stops on the way" if moved else "is driven and stays"


def _said(events: Iterable[Event]) -> dict[str, str]:
    """What the panel shows; nothing while it has said nothing yet."""
    told = [event.text for event in events if event.kind == "state"]
    return {"panel": told[-1]} if told else {}


def seen_by_eye(world: World, began: int) -> dict[tuple[str, str, str, str, str], str]:
    """What needs no instrument, as (state, eyes, what, which one, nothing): the opening and the closing that were
    asked for since `began` [µs], then the sheet, the guards and the transmitters."""
    cycle = {(CYCLED, EYES, *what, ""): text for what, text in _of_a_cycle(world, began).items()}
    return cycle | {(LIVE, EYES, *what, ""): text for what, text in _at_rest(world).items()}


def _of_a_cycle(world: World, began: int) -> dict[tuple[str, str], str]:
    """(way, leaf or `panel`) of an opening and a closing that were asked for since `began` [µs]."""
    leaves = world.site.leaves
    stops = {name: leaf.open_stop_deg for name, leaf in zip(leaves.fitted, leaves.hung, strict=True)}
    entries = [each for each in world.entries if each.at >= began]
    asked = operations(entries, world.events, stops, int(world.now))
    return {(each.way, what): text for each in asked for what, text in each.seen.items()}


def _at_rest(world: World) -> dict[tuple[str, str], str]:
    """(what is looked at, which one): every line of the sheet, how the panel reads each guard while it is tripped by
    hand, whether each transmitter is answered. Nothing of it without power. The gate may have begun to move after."""
    if not world.host.on:
        return {}
    seen = {(SHEET, name): f"{value}" for name, value in world.controller.panel().settings.items()}
    for guard, (trip, let_go) in TRIPS.items():
        if world.site.guards.fitted.get(guard):
            played(world, (step(trip, guard=guard), step("wait", seconds=1.0)), leaving_out=True)
            lines = {line.name: line.meaning for line in world.controller.panel().inputs}
            seen[TRIPPED, guard] = lines.get(guard, "no line of its own")
            played(world, (step(let_go, guard=guard), step("wait", seconds=1.0)), leaving_out=True)
    for each in world.site.transmitters:
        before = len(world.events)
        press = step("press transmitter", transmitter=each.tag), step("wait", seconds=1.0)
        played(world, (*press, step("release transmitter", transmitter=each.tag)), leaving_out=True)
        heard = any(event.kind == "command" for event in world.events[before:])
        seen[RADIO, each.tag] = "is answered" if heard else "is not answered"
    return seen
