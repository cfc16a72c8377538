"""What else a fault can change about access: where a core sits, and what the memory of transmitters holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol, TypeAlias, runtime_checkable

from sim.errors import Refused
from sim.faults.edit import FactKey, Ground, between, net_of
from sim.said import said
from sim.wiring.netlist import Undo

Button: TypeAlias = tuple[str, int, str, str, bool]
"""Serial number, button, holder, function, whether its word is fixed."""

Entries: TypeAlias = tuple[Button, ...]

MEMORY_FACT: FactKey = ("memory", "transmitters", "")


@runtime_checkable
class Knows(Protocol):
    """A ground whose controller gives its memory of transmitters away and takes another."""

    def enrolled(self) -> Entries:
        """The memory of transmitters."""
        ...

    def know(self, enrolled: Entries) -> None:
        """That memory is found like this."""
        ...

    def count_ahead(self, tag: str) -> int:
        """How far a transmitter's counter is ahead of the last word the controller took from it."""
        ...

    counters: dict[str, int]
    """How often each transmitter was pressed, by its tag."""


@dataclass(frozen=True, slots=True)
class Moved:
    """One end of a conductor sits somewhere else."""

    element: str
    end: str
    node: str

    def apply(self, ground: Ground, share: float) -> Undo:
        """Move it, whatever the share."""
        net = net_of(ground, self.element)
        if not any(self.node in (e.a, e.b) for e in net.elements.values()):
            raise Refused(said("there is no '{node}' on this site", node=self.node))
        before = getattr(net[self.element], self.end)
        net.change(self.element, **{self.end: self.node})
        ground.rewired()

        def undo() -> None:
            if getattr(net[self.element], self.end) != self.node:
                raise Refused(
                    said("'{element}' was moved since: take the later change back first", element=self.element)
                )
            net.change(self.element, **{self.end: before})
            ground.rewired()

        return undo

    def facts(self) -> tuple[FactKey, ...]:
        """Where that end sits."""
        return (("net", self.element, self.end),)


@dataclass(frozen=True, slots=True)
class Remembered:
    """The memory of transmitters holds something else."""

    what: str
    """Which of the ways below."""

    def apply(self, ground: Ground, share: float) -> Undo:
        """Have it found so. Raises Refused for a controller that doesn't give its memory away."""
        if not isinstance(ground, Knows):
            raise Refused("nothing is known here of the controller's memory of transmitters")
        before = ground.enrolled()
        after = WAYS[self.what](before, ground)
        ground.know(after)

        def undo() -> None:
            if ground.enrolled() != after:
                raise Refused("the memory of transmitters was changed since: take the later change back first")
            ground.know(before)

        return undo

    def facts(self) -> tuple[FactKey, ...]:
        """The memory."""
        return (MEMORY_FACT,)


@dataclass(frozen=True, slots=True)
class RanAhead:
    """A transmitter was pressed so often where nobody heard it."""

    tag: str
    mild: int
    grave: int

    def apply(self, ground: Ground, share: float) -> Undo:
        """Have it pressed. Raises Refused where there is no such transmitter."""
        if not isinstance(ground, Knows) or all(each.tag != self.tag for each in ground.site.transmitters):
            raise Refused(said("there is no transmitter '{tag}' in the box", tag=self.tag))
        times = round(between(float(self.mild), float(self.grave), share, in_ratios=True))
        counters = ground.counters
        known = counters.get(self.tag)
        counters[self.tag] = (known or 0) + times

        def undo() -> None:
            counters[self.tag] -= times
            if known is None and counters[self.tag] == 0:
                del counters[self.tag]

        return undo

    def facts(self) -> tuple[FactKey, ...]:
        """Its place in the count."""
        return (("memory", self.tag, "count"),)


def remembered(ground: Ground, key: FactKey) -> object:
    """What a fact of the memory is now: all its entries, or whether a transmitter is out of the count."""
    if not isinstance(ground, Knows):
        return None
    return ground.count_ahead(key[1]) > FORWARD if key[2] == "count" else ground.enrolled()


FORWARD = 16
"""So far ahead a counter may be and is taken at once; the controller says the same."""

FULL = 40
"""Buttons that the memory takes; the controller says the same."""


def _full(before: Entries, ground: Ground) -> Entries:
    """Filled up with transmitters of people who moved away long ago."""
    old = tuple((f"3{number:07d}", 1, f"former tenant {number + 1}", "open", False) for number in range(FULL))
    return (*before, *old)[:FULL]


def _empty(before: Entries, ground: Ground) -> Entries:
    return ()


def _fixed(before: Entries, ground: Ground) -> Entries:
    """The blue fob was given away for one that sends the same word each time, and that was enrolled in its place."""
    blue = next((each.serial for each in ground.site.transmitters if each.tag == "blue fob"), None)
    if blue is None:
        raise Refused("there is no blue fob in the box")
    others = tuple(each for each in before if each[0] != blue)
    return (*others, (blue, 1, "caretaker", "open", True))


WAYS: dict[str, Callable[[Entries, Ground], Entries]] = {
    "full": _full,
    "empty": _empty,
    "a code that can be copied": _fixed,
}


__all__ = ["FULL", "MEMORY_FACT", "Entries", "Knows", "Moved", "RanAhead", "Remembered", "remembered"]
