"""What a property is: a promise with its reason, source and bounds, and a look that finds where it was broken."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final, Literal

from sim.bench.proof.record import Record
from sim.controller.settings import Value

NO_ANSWER: Final = "answers at every scan"
"""Name of the property that a controller breaks which raises, breaks its contract, or never answers."""


@dataclass(frozen=True, slots=True)
class Bound:
    """A figure of a property, which whoever proves may set otherwise."""

    name: str
    value: float
    unit: str
    source: str
    """A standard or a section of the facts, `common practice, no source`, or `from memory`."""


@dataclass(frozen=True, slots=True)
class Breach:
    """Where a promise was broken."""

    at: int
    """Since the gate was found [µs]: the first instant at which it was broken."""
    said: str
    """In words, with the figures."""


Bounds = Mapping[str, float]
Check = Callable[[Record, Bounds], Breach | None]


@dataclass(frozen=True, slots=True)
class Focus:
    """Where a search for this property looks most: families of `draws.PHRASES` and of
    `situations.SITUATIONS`, settings worth changing."""

    phrases: tuple[str, ...] = ()
    """Families drawn most of the time; empty draws from all."""
    first: tuple[str, ...] = ()
    """Families that a case begins with: what brings the gate where it matters; empty begins like the rest."""
    last: tuple[str, ...] = ()
    """Families that a case ends with: what shows how the gate was left; empty ends like the rest."""
    sheet: Mapping[str, tuple[Value, ...]] | None = None
    """Settings and the values worth trying for it."""
    faults: tuple[str, ...] = ()
    """Faults that the gate may be found with."""


@dataclass(frozen=True, slots=True)
class Property:
    """One promise."""

    name: str
    """A short sentence, as it is printed and typed."""
    promise: str
    """One sentence that says exactly what is promised."""
    why: str
    """What happens to people or to the gate when it is broken."""
    source: str
    stated_on: Literal["terminals", "gate"]
    """On what the controller commands given what it could read, whatever ails the gate; or on the gate itself, which
    is promised only with the faults in `under`."""
    check: Check
    bounds: tuple[Bound, ...] = ()
    under: tuple[str, ...] = ()
    """For a property stated on the gate: names of faults under which it is promised as well."""
    needs: tuple[str, ...] = ()
    """What the site must have, as `play.HAS` names it."""
    focus: Focus = Focus()

    def look(self, record: Record, given: Bounds | None = None) -> Breach | None:
        """Where the record breaks it, None where it holds. `given` replaces bounds by name."""
        bounds = {bound.name: bound.value for bound in self.bounds}
        return self.check(record, {**bounds, **{k: v for k, v in (given or {}).items() if k in bounds}})

    def promised(self, record: Record) -> bool:
        """Whether it is promised at all with what ailed the gate in this play."""
        return self.stated_on == "terminals" or set(record.faults) <= set(self.under)
