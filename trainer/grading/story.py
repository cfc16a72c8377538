"""A History read once: what stood how at any instant, which movements ran, what an act is called in words.

Checks ask a `Story` and nothing else. It derives states from the acts of the journal (an act has its effect at the
start or the end of its time) and from what the world noticed; it judges nothing.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final, Generic, TypeVar

from sim.controller.ports import GUARD_TERMINALS
from sim.said import Verbatim, joined, said
from sim.units import LeafName, Us
from sim.world.actions import CATALOGUE, Action, Value
from sim.world.history import Entry, Event, EventKind, History, Standing
from trainer.grading.finding import Evidence

T = TypeVar("T")

GUARDS: Final = GUARD_TERMINALS
BEAMS: Final = tuple(guard for guard in GUARDS if guard.endswith(" beam"))

BY_ITSELF: Final = ("automatic", "learning")
"""Movements that run on without a hand on a button."""

DRIVEN: Final = ("jog", "learning", "automatic", "hold-to-run")
"""Movements by a drive."""

TURNED_DEG: Final = 1.0
"""A leaf that moved less than this has shown no direction [°]. Common practice, no source."""


class Track(Generic[T]):
    """Something that changes now and then: its value at any instant."""

    def __init__(self, first: T, changes: Iterable[tuple[int, T]] = ()) -> None:
        self.first = first
        self.changes = sorted(changes, key=lambda change: change[0])
        self._times = [at for at, _ in self.changes]

    def at(self, time: int) -> T:
        """The value at an instant; a change counts from its own instant on."""
        index = bisect_right(self._times, time)
        return self.changes[index - 1][1] if index else self.first

    def spans(self, value: T, end: int) -> Iterator[tuple[int, int]]:
        """Every (from, until) in which it had the value; an open one lasts until `end`."""
        began: int | None = 0 if self.first == value else None
        for at, new in self.changes:
            if new == value and began is None:
                began = at
            elif new != value and began is not None:
                yield began, at
                began = None
        if began is not None:
            yield began, max(began, end)


@dataclass(frozen=True, slots=True)
class Move:
    """One run of one leaf in one direction, as the drive was told."""

    leaf: str
    direction: str
    """`open` or `close` as commanded; what the leaf did is `turned`."""
    by: str
    start: Us
    end: Us
    from_deg: float | None
    to_deg: float | None
    event: Event
    number: int
    """Place of the event in the history, for order within one instant."""

    @property
    def turned(self) -> str:
        """Which way the leaf really went: `open`, `close`, or '' when it did not or nobody saw."""
        if self.from_deg is None or self.to_deg is None or abs(self.to_deg - self.from_deg) < TURNED_DEG:
            return ""
        return "open" if self.to_deg > self.from_deg else "close"


@dataclass(frozen=True, slots=True)
class Deed:
    """An act that came to its effect, and when."""

    entry: Entry
    effect_at: Us
    number: int

    @property
    def kind(self) -> str:
        """The action's kind."""
        return self.entry.action.kind

    def of(self, name: str) -> str:
        """An argument as text, '' when it has none of that name."""
        value = self.entry.action.arguments.get(name, "")
        return str(value)

    @property
    def cite(self) -> Evidence:
        """As evidence."""
        return Evidence(self.entry.line, self.entry.at, words(self.entry.action))


OWN_WORDS: Final = frozenset({"text", "reason", "name"})
"""Arguments of acts in which somebody wrote what no catalogue has."""


def words(action: Action) -> str:
    """An act in one line for people."""
    if action.kind == "set":
        setting, value = (str(action.arguments.get(name, "")) for name in ("setting", "value"))
        return said("set {setting} to {value}", setting=setting, value=value)
    told = [
        joined([name, Verbatim(value) if name in OWN_WORDS else _value(value)])
        for name, value in action.arguments.items()
        if value != ""
    ]
    return joined([action.kind, joined(told, ", ")], ": ") if told else action.kind


def _value(value: Value) -> str:
    if isinstance(value, bool):
        return said("yes" if value else "no")
    return f"{value:g}" if isinstance(value, float) else str(value)


def cite(event: Event) -> Evidence:
    """An event as evidence."""
    return Evidence(event.line, event.at, event.text)


def number(value: object) -> float | None:
    """A finite number from a reading or a setting, None if it is none."""
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        return None
    try:
        read = float(value)
    except ValueError:
        return None
    return read if math.isfinite(read) else None


def same(one: object, other: object) -> bool:
    """Whether two written values are the same setting (`60` is `60.0`)."""
    a, b = number(one), number(other)
    return a == b if a is not None and b is not None else str(one).strip().lower() == str(other).strip().lower()


@dataclass
class Story:
    """A history, indexed. Build it with `Story(history)`; everything else follows."""

    history: History
    without: Mapping[str, Callable[[Us], History]] = field(default_factory=dict)
    """Fault the gate was found with: the same acts up to an instant [µs] on a gate that hasn't got it."""
    expert: Sequence[Action] = ()
    """Acts of the job's own solution."""
    deeds: tuple[Deed, ...] = field(init=False)
    """Acts that came to their effect, in journal order."""
    undone: tuple[Entry, ...] = field(init=False)
    """Acts whose time was cut short before their effect."""
    moves: tuple[Move, ...] = field(init=False)
    mains: Track[bool] = field(init=False)
    battery: Track[bool] = field(init=False)
    board: Track[bool] = field(init=False)
    cordoned: Track[bool] = field(init=False)

    def __post_init__(self) -> None:
        self._by_value: dict[tuple[str, str], dict[Value, list[Event]]] = {}
        self._of_kind: dict[str, list[Event]] = {}
        for event in self.history.events:
            self._of_kind.setdefault(event.kind, []).append(event)
        self.deeds, self.undone = _deeds(self.history)
        self._done: dict[str, list[Deed]] = {}
        for deed in self.deeds:
            self._done.setdefault(deed.kind, []).append(deed)
        self.moves = tuple(_moves(self.history))
        standing = self.history.standing
        self.mains = self._switched(("restore",), ("isolate", "make safe"), standing.mains_on)
        self.battery = self._switched(("fit battery link",), ("remove battery link",), standing.battery_linked)
        self.cordoned = self._switched(("cordon",), ("remove cordon",), standing.cordoned)
        self.board = Track(
            self.is_live(0), [(event.at, event.data.get("board") is True) for event in self.events("power")]
        )
        self._guards = {
            guard: (
                self._switched(("bridge",), ("remove bridge",), guard in standing.bridged, "guard", guard),
                self._switched(("unplug",), ("plug in",), guard in standing.unplugged, "guard", guard),
            )
            for guard in GUARDS
        }
        self._released: dict[str, Track[bool]] = {
            leaf: self._switched(("release drive",), ("engage drive",), leaf in standing.released, "leaf", leaf)
            for leaf in self.leaves
        }

    # -- looking things up -----------------------------------------------------------------------------

    @property
    def leaves(self) -> tuple[LeafName, ...]:
        """Which leaves hang here."""
        return self.standing.leaves

    def of_leaves(self, two: str, one: str) -> str:
        """A sentence as it is said of two leaves, or of one that hangs alone."""
        return two if len(self.leaves) > 1 else one

    @property
    def standing(self) -> Standing:
        """How the gate stands at the end of the history."""
        return self.history.standing

    @property
    def end(self) -> Us:
        """The last instant of the history."""
        return self.history.end

    @property
    def ended(self) -> str:
        """`handed over`, `made safe` or ''."""
        return self.history.standing.ended

    def done(self, *kinds: str, **arguments: str) -> list[Deed]:
        """Acts of these kinds that came to their effect, whose named arguments are as given, in journal order."""
        found = [deed for kind in kinds for deed in self._done.get(kind, ())]
        if arguments:
            found = [deed for deed in found if all(deed.of(name) == value for name, value in arguments.items())]
        return sorted(found, key=lambda deed: deed.number) if len(kinds) > 1 else found

    def events(self, kind: EventKind, **data: Value) -> list[Event]:
        """Events of a kind whose named data are as given, in order."""
        if not data:
            return list(self._of_kind.get(kind, ()))
        (name, value), *others = data.items()
        found = self._with(kind, name).get(value, ())
        return [e for e in found if all(e.data.get(k) == v for k, v in others)]

    def _with(self, kind: EventKind, name: str) -> Mapping[Value, list[Event]]:
        """Events of a kind by the value of one of their data; gone through once, however often it is asked."""
        known = self._by_value.get((kind, name))
        if known is None:
            known = self._by_value[kind, name] = {}
            for event in self._of_kind.get(kind, ()):
                if name in event.data:
                    known.setdefault(event.data[name], []).append(event)
        return known

    def behind(self, event: Event) -> Entry | None:
        """The act in progress or last begun when an event happened."""
        found: Entry | None = None
        for entry in self.history.entries:
            if entry.at > event.at:
                break
            found = entry
            if event.line and entry.line == event.line:
                break
        return found

    # -- how things stood ------------------------------------------------------------------------------

    def is_live(self, at: int) -> bool:
        """Whether either source fed the cabinet."""
        return self.mains.at(at) or self.battery.at(at)

    def bridge_on(self, guard: str) -> Track[bool]:
        """When a guard's input was bridged."""
        return self._guards[guard][0]

    def unplugged(self, guard: str) -> Track[bool]:
        """When a guard's plug was off the board."""
        return self._guards[guard][1]

    def released(self, leaf: str) -> Track[bool]:
        """When a leaf's drive was released."""
        return self._released[leaf]

    def declared(self, guard: str) -> bool:
        """Whether the sheet, as it stands, says that a guard is fitted."""
        return not same(self.standing.sheet.get(guard, "not fitted"), "not fitted")

    def setting_changes(self, *names: str) -> list[Deed]:
        """Acts that changed one of these settings, a reset of the sheet included; writing the same value is none."""
        held: dict[str, str | None] = {}
        found = []
        for deed in self.done("set", "reset sheet"):
            if deed.kind == "reset sheet":
                held.clear()
                found.append(deed)
                continue
            name = deed.of("setting")
            if name not in names:
                continue
            before = held.get(name)
            if before is None or not same(before, deed.of("value")):
                found.append(deed)
            held[name] = deed.of("value")
        return found

    def _switched(
        self, on: tuple[str, ...], off: tuple[str, ...], now: bool, name: str = "", value: str = ""
    ) -> Track[bool]:
        """A track from acts that switch it; how it stood at first is the opposite of the first switching."""
        only = {name: value} if name else {}
        switched = [(deed.effect_at, deed.kind in on) for deed in self.done(*on, *off, **only)]
        return Track(not switched[0][1] if switched else now, switched)


def _deeds(history: History) -> tuple[tuple[Deed, ...], tuple[Entry, ...]]:
    """Acts with their effect, and acts that were cut short: the next one began before the effect was due."""
    done: list[Deed] = []
    undone: list[Entry] = []
    for index, entry in enumerate(history.entries):
        kind = CATALOGUE.get(entry.action.kind)
        due = entry.at + kind.takes if kind is not None and kind.effect == "end" and not kind.varies else entry.at
        next_at = history.entries[index + 1].at if index + 1 < len(history.entries) else history.end
        if next_at < due:
            undone.append(entry)
        else:
            done.append(Deed(entry, Us(due), index))
    return tuple(done), tuple(undone)


def _moves(history: History) -> Iterator[Move]:
    """Movements in the order of their starts."""
    per_leaf: dict[str, list[tuple[int, Event]]] = {}
    for index, event in enumerate(history.events):
        if event.kind in ("moving", "resting"):
            per_leaf.setdefault(str(event.data.get("leaf", "")), []).append((index, event))
    found = []
    for leaf, marks in per_leaf.items():
        fresh = True
        for place, (index, event) in enumerate(marks):
            if event.kind == "resting":
                fresh = True
                continue
            after = marks[place + 1][1] if place + 1 < len(marks) else None
            found.append(_move(leaf, event, after, index, history.end, fresh))
            fresh = False
    yield from sorted(found, key=lambda move: move.number)


def _move(leaf: str, event: Event, after: Event | None, index: int, end: Us, fresh: bool) -> Move:
    from_deg = number(event.data.get("angle_deg"))
    to_deg = number(after.data.get("angle_deg")) if after is not None else None
    if from_deg is None and fresh and after is not None and after.kind == "resting":
        from_deg = number(after.data.get("from_deg"))
    return Move(
        leaf=leaf,
        direction=str(event.data.get("direction", "")),
        by=str(event.data.get("by", "")),
        start=event.at,
        end=after.at if after is not None else end,
        from_deg=from_deg,
        to_deg=to_deg,
        event=event,
        number=index,
    )


def numbers_of(data: Mapping[str, Value], *names: str) -> list[float] | None:
    """Several numbers of an event, None if one is missing."""
    read = [number(data.get(name)) for name in names]
    return [r for r in read if r is not None] if all(r is not None for r in read) else None
