"""Single-fault sweep: every fault of the catalogue against every reading that a gate in a given state gives.

Four states: after an opening and a closing; live and at rest; isolated; isolated with every plug out. A live gate has
half a minute for what follows from the fault, and a cycle if it is to move; what anybody sees of that stands beside
the readings. Of an isolated one no time passes: each fault is put in, all is read, the fault is taken out to the
bit. What sends a voltage or a current of its own into a circuit is used in isolation alone, and insulation is tested
with the plugs out, as good practice wants. A reading that can't be had in a state on the sound gate isn't taken.
Noise is drawn as for the first reading of each instrument, so that nothing but the fault makes a difference.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from sim.bench.branching import CAN_BRANCH, Branch
from sim.bench.fault_readings import CYCLE, gate, played
from sim.bench.fault_seen import CYCLED, EYES, LIVE, seen_by_eye
from sim.errors import GudgeonError, Refused
from sim.faults.catalogue import FAULTS
from sim.faults.entry import Fault, step
from sim.instruments.instrument import Function, Instrument, Use
from sim.instruments.toolbag import Toolbag
from sim.kernel import compiler
from sim.site import Site, site_digest
from sim.units import SECOND
from sim.world.world import World

ISOLATED: Final = "isolated"
UNPLUGGED: Final = "isolated, plugs out"
STATES: Final = (CYCLED, LIVE, ISOLATED, UNPLUGGED)

FOLLOWS: Final = 30 * SECOND
"""Time that a live gate has for what follows from a fault before it is read: until a fuse has melted, say [µs]."""

Column = tuple[str, str, str, str, str]
"""(state, instrument, function, at, against)."""

UNREADABLE: Final = "can't be read"

SENDS: Final = ("ohms", "resistance", "earth continuity", "capacitance")
"""Functions that send a little current of their own: for isolated circuits."""

TESTS: Final = ("250 volts", "500 volts")
"""Functions that send a high voltage: with the plugs out, from a plug's cable to earth."""

OF_THE_NETS: Final = (*SENDS, *TESTS, "volts dc", "volts ac", "loop impedance")
"""Functions that show nothing but what the two nets are, with nothing driven: equal nets, equal readings."""

LEFT_OUT: Final = (
    "amps",
    "milliamps",
    "amps in a core",
    "milliamps in a core",
    "continuity",
    "join",
    "half of rated",
    "rated",
    "five times rated",
    "ramp",
    "volts under load",
)
"""Functions that open, load or trip what they are put on, or that a finer one tells better."""

TWINS: Final = ("pocket meter", "two-pole tester")
"""Instruments that read as a finer one does."""


@dataclass(frozen=True, slots=True)
class Sweep:
    """A table of shown readings: what each instrument shows on the sound gate and with each fault."""

    site: str
    share: float
    columns: tuple[Column, ...]
    sound: Mapping[str, tuple[str, ...]]
    """By variant of the site (as JSON): what is shown without a fault, one for each column ('' where not taken)."""
    table: Mapping[str, tuple[str, ...]]
    """By the fault's name: what is shown with it."""
    variant_of: Mapping[str, str]
    unfit: Mapping[str, str]
    """Faults that this site can't have, and why."""

    def differs(self, fault: str) -> tuple[Column, ...]:
        """The readings that show this fault."""
        sound, shown = self.sound[self.variant_of[fault]], self.table[fault]
        return tuple(
            column for column, one, other in zip(self.columns, sound, shown, strict=True) if one != other and one
        )

    def readings(self) -> int:
        """How many readings were taken."""
        return sum(bool(shown) for row in (*self.sound.values(), *self.table.values()) for shown in row)


def sweep(
    site: Site, faults: Sequence[Fault] = (), share: float = 1.0, *, processes: int = 0, graver: Sweep | None = None
) -> Sweep:
    """Every fault against every reading; on all cores, or on so many processes. Empty: the whole catalogue.

    `graver`: the same faults at a greater share. What reads there as on the sound gate, and nothing moved, isn't read
    again: a fault that doesn't show where it is grave doesn't where it is mild.
    """
    compiler.load()
    wanted = tuple(faults) or tuple(FAULTS.values())
    groups = _groups(wanted)
    count = processes or os.cpu_count() or 1
    shares: list[list[tuple[str, tuple[Fault, ...]]]] = [[] for _ in range(count)]
    weights = [0] * count
    for variant, group in sorted(groups.items(), key=lambda pair: -len(pair[1])):
        for piece in _pieces(group, count if len(group) > 8 else 1):
            least = weights.index(min(weights))
            shares[least].append((variant, piece))
            weights[least] += len(piece) + 4
    if CAN_BRANCH and count > 1:
        branches = [Branch(lambda mine=mine: _part(site, mine, share, graver)) for mine in shares if mine]  # type: ignore[misc]
        parts = [branch.result() for branch in branches]
    else:
        parts = [_part(site, [piece for mine in shares for piece in mine], share, graver)]
    return _joined(site, share, wanted, parts)


def _groups(faults: Sequence[Fault]) -> dict[str, tuple[Fault, ...]]:
    groups: dict[str, tuple[Fault, ...]] = {}
    for fault in faults:
        variant = json.dumps(dict(fault.variant), sort_keys=True)
        groups[variant] = (*groups.get(variant, ()), fault)
    return groups


def _pieces(group: tuple[Fault, ...], count: int) -> Iterator[tuple[Fault, ...]]:
    for index in range(count):
        piece = group[index::count]
        if piece:
            yield piece


@dataclass(frozen=True, slots=True)
class Part:
    """What one process found, as plain data."""

    sound: dict[str, dict[Column, str]]
    table: dict[str, dict[Column, str]]
    unfit: dict[str, str]


def _part(site: Site, groups: list[tuple[str, tuple[Fault, ...]]], share: float, graver: Sweep | None) -> Part:
    part = Part({}, {}, {})
    for variant, faults in groups:
        try:
            world = gate(site, json.loads(variant))
        except GudgeonError as error:
            part.unfit.update({fault.name: str(error) for fault in faults})
            continue
        fitting = [fault for fault in faults if _fits(world, fault, share, part)]
        sound = part.sound.setdefault(variant, {})
        rows = {fault.name: part.table.setdefault(fault.name, {}) for fault in fitting}
        shows = {f.name: frozenset(graver.differs(f.name)) for f in fitting} if graver is not None else {}
        _live(site, world, fitting, share, sound, rows, shows)
        played(world, (step("isolate"), step("remove battery link"), step("wait", seconds=30.0)), leaving_out=True)
        _static(world, ISOLATED, fitting, share, sound, rows, shows)
        played(world, [step("unplug", guard=name) for name in world.cabinet.plugs], leaving_out=True)
        _static(world, UNPLUGGED, fitting, share, sound, rows, shows)
    return part


def _fits(world: World, fault: Fault, share: float, part: Part) -> bool:
    try:
        world.faults.check(fault.name, share)
    except Refused as refusal:
        part.unfit[fault.name] = str(refusal)
        return False
    return True


def _joined(site: Site, share: float, faults: Sequence[Fault], parts: Sequence[Part]) -> Sweep:
    columns: dict[Column, None] = {}
    for part in parts:
        for row in part.sound.values():
            columns.update(dict.fromkeys(row))
    ordered = tuple(sorted(columns, key=lambda column: STATES.index(column[0])))
    table = {name: row for part in parts for name, row in part.table.items()}
    return Sweep(
        site_digest(site)[:12] if not site.name else site.name,
        share,
        ordered,
        {v: tuple(row.get(c, "") for c in ordered) for part in parts for v, row in part.sound.items()},
        {f.name: tuple(table[f.name].get(c, "") for c in ordered) for f in faults if f.name in table},
        {f.name: json.dumps(dict(f.variant), sort_keys=True) for f in faults},
        {name: why for part in parts for name, why in part.unfit.items()},
    )


# -- reading -----------------------------------------------------------------------------------------------


def _static(
    world: World,
    state: str,
    faults: list[Fault],
    share: float,
    sound: dict[Column, str],
    rows: dict[str, Any],
    shows: Mapping[str, frozenset[Column]],
) -> None:
    """Read all on the sound gate, then all with each fault put in and taken out again; of a fault in `shows` no more
    than stands there."""
    columns = [column for column in _columns(world, state) if _is_fair(world, column, sound)]
    wired = (world.cabinet.netlist.key, world.cabinet.mains.key)
    for fault in faults:
        undo = fault.apply(world, share)
        world.cabinet.settle()
        same = wired == (world.cabinet.netlist.key, world.cabinet.mains.key)
        for column in columns:
            known = (same and column[2] in OF_THE_NETS) or column not in shows.get(fault.name, (column,))
            rows[fault.name][column] = sound[column] if known else _shown(world, column)
        undo()


def _live(
    site: Site,
    world: World,
    faults: list[Fault],
    share: float,
    sound: dict[Column, str],
    rows: dict[str, Any],
    shows: Mapping[str, frozenset[Column]],
) -> None:
    """The sound gate and each fault in branches of their own: all that is read of a live gate at rest, then an
    opening and a closing, and all that is read of those."""
    wired = (world.cabinet.netlist.key, world.cabinet.mains.key)

    def through(fault: Fault | None) -> dict[Column, str]:
        gone = world if CAN_BRANCH else gate(site, fault.variant if fault is not None else None)
        _brought(gone, fault, share)
        same = wired == (gone.cabinet.netlist.key, gone.cabinet.mains.key) and gone.host.on
        found: dict[Column, str] = {}
        for column in _columns(gone, LIVE) if fault is None else [each for each in sound if each[0] == LIVE]:
            if fault is None:
                _is_fair(gone, column, found)
            elif column[1] != EYES:
                known = (same and column[2] in OF_THE_NETS) or column not in shows.get(fault.name, (column,))
                found[column] = sound[column] if known else _shown(gone, column)
        began = int(gone.now)
        played(gone, (_KEEPS_COURSE, *CYCLE, _IS_WAITED_FOR))
        for column in _columns(gone, CYCLED):
            if fault is not None or _is_fair(gone, column, found, began):
                found[column] = _shown(gone, column, began)
        return found | seen_by_eye(gone, began)

    def done(fault: Fault | None) -> dict[Column, str]:
        return Branch(lambda: through(fault)).result() if CAN_BRANCH else through(fault)

    sound.update(done(None))
    for fault in faults:
        found = done(fault)
        asked = (column for column in sound if column[0] in (CYCLED, LIVE))
        rows[fault.name].update({column: found.get(column, UNREADABLE) for column in asked})


def _brought(world: World, fault: Fault | None, share: float) -> None:
    """A fault is there, an intermittent one in force, and what follows from it has had its time."""
    if fault is not None and fault.trigger is None:
        world.faults.bring(fault.name, share)
    elif fault is not None:
        fault.apply(world, share)
        world.cabinet.settle()
        world.rewired()
    world.run_to(world.now + FOLLOWS)


_KEEPS_COURSE: Final = step(
    "place instrument", instrument="leakage clamp", function="live and neutral together", at="supply lead"
)
"""Something in place has the bag keep the course of everything that is read from what was recorded; a clamp loads
nothing."""


_IS_WAITED_FOR: Final = step("wait", seconds=4.0)
"""Whoever asks a gate that doesn't move waits so long before they say that it doesn't."""


def _columns(world: World, state: str) -> Iterator[Column]:
    """Every function of every instrument, at every place that makes sense for it in this state."""
    bag = world.bag
    assert isinstance(bag, Toolbag)
    for name, instrument in bag.instruments.items():
        for function in instrument.functions:
            if name not in TWINS and _belongs(instrument, function, state):
                yield from ((state, name, function.name, *where) for where in _places(world, bag, function, state))


def _belongs(instrument: Instrument, function: Function, state: str) -> bool:
    """Whether a function is used in a state."""
    if function.name in LEFT_OUT:
        return False
    if state == CYCLED:
        return _remembers(instrument, function)
    if function.name in TESTS:
        return state == UNPLUGGED
    if function.name in SENDS:
        return state in (ISOLATED, UNPLUGGED)
    return state == LIVE or instrument.name == "torque wrench"


def _remembers(instrument: Instrument, function: Function) -> bool:
    """Whether it tells of a movement that is over."""
    return instrument.name in ("stopwatch", "clamp meter", "pulse counter", "oscilloscope") or function.name in (
        "volts dc",
        "slow way before the stop",
    )


def _places(world: World, bag: Toolbag, function: Function, state: str) -> Iterator[tuple[str, str]]:
    """Where it is put: terminals in the pairs that belong together, all else wherever it can be put."""
    if function.at == "terminal" and function.against == "terminal":
        yield from _pairs_in(world, function, state)
        return
    firsts = bag.spots(function) if function.at == "spot" else bag.places(function.at)
    if function.at == "core" and state == CYCLED:
        firsts = tuple(name for name in firsts if "motor, plus" in name or "lamp, plus" in name)
    seconds = bag.spots(function) if function.against == "spot" else bag.places(function.against)
    for at in firsts if function.at else ("",):
        yield at, next((name for name in seconds if name != at), "") if function.against else ""


def _pairs_in(world: World, function: Function, state: str) -> tuple[tuple[str, str], ...]:
    if state == CYCLED:
        return _loads(world)
    mains = {name for name, terminal in world.cabinet.terminals.items() if terminal.net == "mains"}
    found = pairs(world)
    if function.name == "250 volts":
        return tuple(pair for pair in _to_earth(world) if pair[0].startswith("board supply"))
    if function.name == "500 volts":
        return tuple(pair for pair in _to_earth(world) if " plug" in pair[0] or pair[0] in mains)
    if function.name in ("earth continuity", "resistance"):
        return tuple(pair for pair in _to_earth(world) if "post, earth" in pair[0])
    if function.name in ("volts ac", "loop impedance"):
        return tuple(pair for pair in found if pair[0] in mains)
    if function.name == "volts dc":
        return tuple(pair for pair in found if " plug" in pair[0] or pair[0].startswith(_SUPPLIES))
    plugs = tuple(pair for pair in found if " plug" in pair[0])
    return plugs if state == UNPLUGGED else tuple(pair for pair in found if pair[0] in mains)


_SUPPLIES: Final = ("board supply", "battery, ", "power supply, ")


def pairs(world: World) -> tuple[tuple[str, str], ...]:
    """Terminals of one part, each against the part's last one."""
    parts: dict[str, list[str]] = {}
    for name in world.cabinet.terminals:
        parts.setdefault(name.rpartition(",")[0] or name, []).append(name)
    return tuple((name, group[-1]) for group in parts.values() for name in group[:-1])


def _to_earth(world: World) -> tuple[tuple[str, str], ...]:
    """One terminal of each plug, of each post and of the supply lead, against the earth bar."""
    earth = next((name for name in world.cabinet.terminals if name.startswith("earth bar")), "")
    firsts = {name.rpartition(",")[0]: name for name in reversed(world.cabinet.terminals) if name != earth}
    wanted = ("plug", "post", "isolator outlet", "power supply inlet", "board supply")
    return tuple((name, earth) for part, name in firsts.items() if earth and any(word in part for word in wanted))


def _loads(world: World) -> tuple[tuple[str, str], ...]:
    """What is looked at through a cycle: the supply, both motors, the lamp, the accessories."""
    wanted = ("board supply", "leaf motor plug", "warning lamp plug", "accessory supply plug", "lock plug")
    return tuple(pair for pair in pairs(world) if any(word in pair[0] for word in wanted) and "earth" not in pair[1])


def _is_fair(world: World, column: Column, sound: dict[Column, str], since: int = 0) -> bool:
    """Take a reading on the sound gate; keep it unless it can't be had in this state."""
    shown = _shown(world, column, since)
    if shown == UNREADABLE:
        return False
    sound[column] = shown
    return True


def _shown(world: World, column: Column, since: int = 0) -> str:
    """What the instrument shows there; with what it remembers, after a movement. No time passes."""
    bag = world.bag
    assert isinstance(bag, Toolbag)
    _, name, function, at, against = column
    instrument = bag.instruments[name]
    use = Use(function, at, against, since or int(world.now))
    try:
        undo = instrument.place(world, use)
        try:
            reading = instrument.read(world, use, 1)
        finally:
            undo()
    except Refused:
        return UNREADABLE
    if not since or reading.least is None or reading.most is None:
        return reading.now.text
    return f"{reading.least:.3g} to {reading.most:.3g}"
