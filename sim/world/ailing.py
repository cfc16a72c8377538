"""What ails a gate: the faults it has, put in and taken out again, several at once, some of them only now and then.

Whoever mends something changes facts and knows no fault. So a fault that is to be taken out looks first whether its
facts still stand as it left them; and one that waits for its hour is told what a repair has set back for good.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeAlias

from sim.errors import Refused
from sim.faults.catalogue import named
from sim.faults.edit import Edit, FactKey
from sim.faults.entry import Fault
from sim.faults.facts import read
from sim.said import said
from sim.wiring.netlist import Undo
from sim.world.triggers import Watcher

if TYPE_CHECKING:
    from sim.world.world import World

Covers: TypeAlias = Callable[[FactKey], bool]
"""Whether a repair has set a fact back to how it was built."""


@dataclass(slots=True)
class Change:
    """One edit of a fault that is there: its undo, and its facts as it left them, while it is in force."""

    edit: Edit
    undo: Undo | None = None
    left: dict[FactKey, Any] = field(default_factory=dict)
    before: dict[FactKey, Any] = field(default_factory=dict)
    """Its facts as they were before it came."""


@dataclass(slots=True)
class Ailment:
    """One fault of this gate."""

    fault: Fault
    share: float
    changes: list[Change]
    watcher: Watcher | None = None

    @property
    def in_force(self) -> bool:
        """Whether any of it is so now."""
        return any(change.undo is not None for change in self.changes)


class Ailing:
    """The faults of one world. What is brought shows only in what it does."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._ailments: dict[str, Ailment] = {}
        self.had: tuple[str, ...] = ()
        """Names of all that were ever brought and not cured, mended or not, in the order they came."""
        self.repairs: tuple[tuple[int, str], ...] = ()
        """(journal line, name) of every repair that set back something of a fault."""

    # -- coming and going ------------------------------------------------------------------------------

    def bring(self, name: str, share: float = 1.0) -> None:
        """Have the gate fail so, as grave as `share` says (0 mild to 1 grave).

        An intermittent fault waits for what brings it on. Raises DataError for an unknown name, and Refused, nothing
        changed, where the gate has no such part, has the fault already, or another one of the same fact.
        """
        fault = self._can_have(name, share)
        ailment = Ailment(fault, share, [Change(edit) for edit in fault.edits])
        self._put_in(ailment)
        if fault.trigger is not None:
            self._take_out(ailment)
            ailment.watcher = Watcher(self._world, name, fault.trigger, lambda on: self._switch(ailment, on))
        self._ailments[name] = ailment
        self.had = (*(had for had in self.had if had != name), name)
        if ailment.watcher is not None:
            ailment.watcher.look()

    def check(self, name: str, share: float = 1.0) -> None:
        """Raise what `bring` would raise. Leaves everything as it is, to the bit."""
        self._can_have(name, share).apply(self._world, share)()

    def _can_have(self, name: str, share: float) -> Fault:
        fault = named(name)
        if not 0.0 <= share <= 1.0:
            raise Refused(said("a share of {share:g} is no severity; allowed: 0 (mild) to 1 (grave)", share=share))
        if name in self._ailments:
            raise Refused(said("the gate has '{fault}' already", fault=name))
        self._no_second_hand(fault)
        return fault

    def cure(self, name: str) -> None:
        """Take a fault away: what of it still stands is as before it came. Raises Refused if there is none such."""
        if name not in self._ailments:
            raise Refused(said("the gate hasn't got '{fault}'", fault=name))
        ailment = self._ailments.pop(name)
        self.had = tuple(had for had in self.had if had != name)
        self._drop(ailment)
        self._take_out(ailment)

    def mended(self, covers: Covers) -> None:
        """A repair has set facts back as they were built: what concerned nothing else is gone for good."""
        for name, ailment in list(self._ailments.items()):
            set_back = [change for change in ailment.changes if all(covers(key) for key in change.edit.facts())]
            if set_back:
                self.repairs += ((self._world.line, name),)
            for change in set_back:
                ailment.changes.remove(change)
            if not ailment.changes:
                self._drop(ailment)
                del self._ailments[name]

    def _no_second_hand(self, fault: Fault) -> None:
        mine = {key for edit in fault.edits for key in edit.facts()}
        for name, other in self._ailments.items():
            for change in other.changes:
                if mine & set(change.edit.facts()):
                    raise Refused(
                        said(
                            "'{fault}' changes the same as '{other}', which the gate has already",
                            fault=fault.name,
                            other=name,
                        )
                    )

    # -- in force or not -------------------------------------------------------------------------------

    def _switch(self, ailment: Ailment, on: bool) -> None:
        if on is not ailment.in_force:
            (self._put_in if on else self._take_out)(ailment)

    def _put_in(self, ailment: Ailment) -> None:
        """All of it, or nothing: an edit that can't be made takes the others back. Raises Refused."""
        try:
            for change in ailment.changes:
                change.before = {key: read(self._world, key) for key in change.edit.facts()}
                change.undo = change.edit.apply(self._world, ailment.share)
                change.left = {key: read(self._world, key) for key in change.edit.facts()}
        except Exception:
            self._take_out(ailment)
            raise

    def _take_out(self, ailment: Ailment) -> None:
        """Take back what still stands as it was left; what somebody changed since is theirs."""
        for change in reversed(ailment.changes):
            undo, change.undo = change.undo, None
            if undo is not None and all(read(self._world, key) == value for key, value in change.left.items()):
                undo()

    def _drop(self, ailment: Ailment) -> None:
        if ailment.watcher is not None:
            ailment.watcher.end()
            ailment.watcher = None

    # -- what brings them on ---------------------------------------------------------------------------

    def look(self) -> None:
        """The weather or a drive changed: those who wait for that look at it at this instant."""
        for ailment in list(self._ailments.values()):
            if ailment.watcher is not None:
                ailment.watcher.soon()

    # -- what there is ---------------------------------------------------------------------------------

    @property
    def present(self) -> tuple[tuple[str, float], ...]:
        """(name, share) of every fault that was brought and not mended, in the order they came."""
        return tuple((name, ailment.share) for name, ailment in self._ailments.items() if self._is_there(ailment))

    @property
    def in_force(self) -> tuple[str, ...]:
        """Names of those that are so at this instant."""
        return tuple(name for name, ailment in self._ailments.items() if ailment.in_force and self._is_there(ailment))

    def _is_there(self, ailment: Ailment) -> bool:
        """An intermittent one that sleeps is there; else something must still stand as it was left."""
        changes = [change for change in ailment.changes if change.undo is not None]
        if not changes:
            return ailment.watcher is not None
        return any(
            _is_as_left(key, read(self._world, key), value, change.before[key])
            for change in changes
            for key, value in change.left.items()
        )

    def state(self) -> tuple[tuple[object, ...], ...]:
        """For digests: what there is, what of it is in force, and what is waited for."""
        return tuple(
            (name, ailment.share, ailment.in_force, len(ailment.changes), *_waiting(ailment))
            for name, ailment in self._ailments.items()
        )


def _is_as_left(key: FactKey, now: Any, left: Any, before: Any) -> bool:
    """Whether a fact is still wrong. A figure of the sheet is while it lies nearer to what the fault made of it than
    to what it was: whoever sets it right need not hit the very figure it had.
    """
    if now == left:
        return True
    if key[0] == "sheet" and all(isinstance(each, float | int) for each in (now, left, before)):
        return abs(float(now) - float(left)) < abs(float(now) - float(before))
    return False


def _waiting(ailment: Ailment) -> tuple[object, ...]:
    return () if ailment.watcher is None else ailment.watcher.state()
