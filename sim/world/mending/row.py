"""An entry of the table of repairs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal, TypeAlias, get_args

from sim.faults.edit import FactKey

if TYPE_CHECKING:
    from sim.world.world import World

Verb: TypeAlias = Literal[
    "tighten",
    "re-terminate",
    "splice",
    "re-lay cable",
    "replace",
    "clean",
    "align",
    "adjust",
    "grease",
    "free",
    "dry",
    "prune",
    "clear away",
    "remove link",
    "reset",
]
VERBS: Final[tuple[Verb, ...]] = get_args(Verb)

MOVES_BY_ITSELF: Final = ("closed",)
"""A contact's place is set back only where an entry says so: hands and parts move contacts."""


@dataclass(frozen=True, slots=True)
class Mend:
    """What one verb on one thing sets back."""

    verb: Verb
    what: str
    """On which thing, in words: a part, a cable, a core, a joint."""
    elements: tuple[str, ...] = ()
    """Patterns of names of elements of both nets: places of their ends, resistances and volts as they were wired."""
    closes: tuple[str, ...] = ()
    """Patterns of contacts that are open or closed again as they were wired, too."""
    extras: tuple[str, ...] = ()
    """Patterns of elements that nobody wired: they are taken out."""
    site: tuple[str, ...] = ()
    """Dotted keys of the site, each with all below it, as designed."""
    ohms: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    """Elements that get another resistance than they had [Ω]: a splice."""
    seconds: float = 600.0
    """Plausible time [s]. CP, no source."""
    dead: bool = True
    """Done with both sources off; with one on it is done all the same, told as a danger and graded."""
    parts: tuple[str, ...] = ()
    """What is used up."""
    ready: Callable[[World], None] | None = None
    """Raises Refused when it can't be done now."""
    does: Callable[[World], None] | None = None
    """What is done beside setting facts back: a counter, a cell."""

    @property
    def on_conductors(self) -> bool:
        """Whether hands are on bare conductors: it wants both sources off, and not for a leaf's sake alone."""
        return self.dead and bool(self.elements or self.closes or self.extras or self.ohms)

    def covers(self, key: FactKey) -> bool:
        """Whether a fact is set back by this, wherever it stands now."""
        where, what, name = key
        if where == "site":
            return any(what == path or what.startswith(f"{path}.") for path in self.site)
        if where != "net":
            return False
        if name == "is there":
            return matches(what, self.extras)
        if name in MOVES_BY_ITSELF:
            return matches(what, self.closes)
        return matches(what, self.elements)


def matches(name: str, patterns: tuple[str, ...]) -> bool:
    """Whether a name fits one of some patterns, case and all."""
    return any(fnmatchcase(name, pattern) for pattern in patterns)
