"""What was written on the controller's sheet in a session: how it was found, each change, and what can be undone.

Only what an act wrote counts. What changes behind a fitter's back is seen on the sheet as it stands, not here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from sim.units import Us
    from sim.world.actions import Action
    from sim.world.world import World

WRITING: Final = frozenset({"set", "reset sheet"})
"""Acts that write on the sheet."""


@dataclass(frozen=True, slots=True)
class Change:
    """One setting that an act changed."""

    at: Us
    """When it stood there [µs of the world's clock]."""
    setting: str
    before: str
    after: str


class SheetLog:
    """The sheet as it was found, and what was written since. Made when the session begins, fed with each act."""

    def __init__(self, found: Mapping[str, str]) -> None:
        self.found = dict(found)
        """Each setting as it stood on arrival."""
        self.changes: tuple[Change, ...] = ()
        """Oldest first; what was put back is a change like any other."""
        self._open: list[Change] = []

    @classmethod
    def of(cls, world: World) -> SheetLog:
        """The log of a session that begins now."""
        return cls(values(world))

    def do(self, world: World, action: Action, line: int) -> str:
        """Carry an act out in the world, and keep what it wrote. Raises Refused as `World.do` does."""
        if action.kind not in WRITING:
            return world.do(action, line)
        before = values(world)
        said = world.do(action, line)
        self.wrote(world.now, before, values(world), str(action.arguments.get("setting", "")))
        return said

    def wrote(self, at: Us, before: Mapping[str, str], after: Mapping[str, str], only: str = "") -> None:
        """Keep what differs, of one setting or of all: a setting that goes back to where it was is an undone one."""
        for name in [only] if only else after:
            old, new = before.get(name, ""), after.get(name, "")
            if old == new:
                continue
            change = Change(at, name, old, new)
            self.changes += (change,)
            last = self._open[-1] if self._open else None
            if last is not None and (last.setting, last.before, last.after) == (name, new, old):
                self._open.pop()
            else:
                self._open.append(change)

    @property
    def undoable(self) -> Change | None:
        """The newest change that was not put back yet, None without one."""
        return self._open[-1] if self._open else None


def values(world: World) -> dict[str, str]:
    """Every setting that the controller holds, in words."""
    return {name: in_words(value) for name, value in world.settings().items()}


def in_words(value: str | int | float | bool) -> str:
    """A setting's value for people."""
    if isinstance(value, bool):
        return "on" if value else "off"
    return f"{value:g}" if isinstance(value, float) else str(value)
