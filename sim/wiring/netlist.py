"""The network as data: named elements, edits that hand back their undo, and a key that says when it changed."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Collection, Iterable, Mapping
from types import MappingProxyType
from typing import Final, TypeAlias

from sim.errors import GudgeonError, nearest_right
from sim.said import said
from sim.wiring.elements import Contact, CurrentSource, Element, Resistor, VoltageSource
from sim.wiring.solve import Potentials, injections, network_of, solve

Undo: TypeAlias = Callable[[], None]
"""Takes an edit back, bit for bit. Calling it twice, or after something else changed the same element, raises."""

Plain: TypeAlias = tuple[tuple[object, ...], ...]
"""A netlist as base types, for keyframes."""

Mark: TypeAlias = tuple[int, ...]
"""Which elements a net holds, each by its number: what to look a net up by."""

MOST_NUMBERED: Final = 4096
"""How many different elements one net keeps the numbers of."""

_KINDS: Final = {kind.__name__: kind for kind in (Resistor, Contact, VoltageSource, CurrentSource)}


class WiringError(GudgeonError):
    """Raised when an edit doesn't fit the net: an unknown or a doubled name, or an undo out of its order."""


class Netlist:
    """Elements by name. The order in which they came never matters: all sums run in the order of the names."""

    def __init__(self, elements: Iterable[Element] = ()) -> None:
        self._elements: dict[str, Element] = {}
        self._numbers: dict[str, int] = {}
        self._is_sorted = True
        self._key: tuple[Element, ...] | None = None
        self._mark: Mark | None = None
        self._numbered: dict[Element, int] = {}
        self._numbers_given = 0
        self._touched: dict[str, None] = {}
        self.add(*elements)

    @property
    def elements(self) -> Mapping[str, Element]:
        """Every element by its name, read-only."""
        return MappingProxyType(self._elements)

    @property
    def key(self) -> tuple[Element, ...]:
        """All elements in the order of their names: equal keys are equal networks."""
        if self._key is None:
            self._sort()
            self._key = tuple(self._elements.values())
        return self._key

    @property
    def mark(self) -> Mark:
        """A short form of the key, quick to look up by: equal marks of one netlist are equal networks."""
        if self._mark is None:
            self._sort()
            self._mark = tuple(self._numbers.values())
        return self._mark

    def _sort(self) -> None:
        if not self._is_sorted:
            self._elements = dict(sorted(self._elements.items()))
            self._numbers = dict(sorted(self._numbers.items()))
            self._is_sorted = True

    def __contains__(self, name: str) -> bool:
        return name in self._elements

    def __getitem__(self, name: str) -> Element:
        if name not in self._elements:
            raise WiringError(
                said(
                    "there is no element '{name}' in the net{hint}",
                    name=name,
                    hint=nearest_right(name, self._elements, alike=0.5),
                )
            )
        return self._elements[name]

    # -- edits -----------------------------------------------------------------------------------------

    def add(self, *elements: Element) -> Undo:
        """Put elements in. Raises WiringError if a name is taken."""
        taken = [element.name for element in elements if element.name in self._elements]
        if taken or len({element.name for element in elements}) < len(elements):
            raise WiringError(f"the net already has {', '.join(taken) or 'one of these names'}: names must differ")
        return self._edit([(element.name, None, element) for element in elements])

    def remove(self, *names: str) -> Undo:
        """Take elements out. Raises WiringError if one isn't there."""
        return self._edit([(name, self[name], None) for name in names])

    def change(self, name: str, **changes: object) -> Undo:
        """Change fields of one element: a value, a contact, the node an end sits on."""
        before = self[name]
        known = {field.name for field in dataclasses.fields(before)} - {"name"}
        unknown = sorted(set(changes) - known)
        if unknown:
            raise WiringError(f"'{name}' has no {unknown[0]}; it has {', '.join(sorted(known))}")
        return self._edit([(name, before, dataclasses.replace(before, **changes))])  # type: ignore[arg-type]

    def switch(self, name: str, closed: bool) -> bool:
        """Close or open a contact as a part of the world does by itself; True if that changed the net."""
        contact = self[name]
        if not isinstance(contact, Contact):
            raise WiringError(said("'{name}' is no contact", name=name))
        if contact.closed is closed:
            return False
        self._put(name, Contact(name, contact.a, contact.b, closed, contact.ohm))
        return True

    def put(self, elements: Iterable[Element]) -> None:
        """Put elements in the place of those of the same names, as parts of the world did once before."""
        for element in elements:
            self._put(element.name, element)

    def _edit(self, changes: list[tuple[str, Element | None, Element | None]]) -> Undo:
        for name, _, after in changes:
            self._put(name, after)
        done = False

        def undo() -> None:
            nonlocal done
            if done:
                raise WiringError(
                    said("the edit of '{name}' was already taken back", name=changes[0][0])
                    if changes
                    else said("undone twice")
                )
            for name, _, after in changes:
                if self._elements.get(name) != after:
                    raise WiringError(said("'{name}' was changed since: take the later edit back first", name=name))
            for name, before, _ in reversed(changes):
                self._put(name, before)
            done = True

        return undo

    def take_touched(self) -> tuple[str, ...]:
        """Names of the elements that changed since this was last asked, in the order they did."""
        touched = tuple(self._touched)
        self._touched.clear()
        return touched

    def _put(self, name: str, element: Element | None) -> None:
        self._touched[name] = None
        if element is None:
            del self._elements[name], self._numbers[name]
        else:
            self._is_sorted = self._is_sorted and name in self._elements
            self._elements[name] = element
            self._numbers[name] = self._number(element)
        self._key = self._mark = None

    def _number(self, element: Element) -> int:
        """The same number for equal elements. A number is never given twice, even when old ones were forgotten."""
        found = self._numbered.get(element)
        if found is None:
            if len(self._numbered) >= MOST_NUMBERED:
                self._numbered.clear()
            found = self._numbered[element] = self._numbers_given
            self._numbers_given += 1
        return found

    # -- reading ---------------------------------------------------------------------------------------

    def solution(self) -> Potentials:
        """Every potential with the sources as they are; solved anew only if an element's value changed."""
        return solve(self.key)

    def solution_without(self, muted: Collection[str]) -> Potentials:
        """The same with some sources quiet: their resistance stays, what they drive doesn't."""
        network = network_of(self.key)
        kept = [element for element in self.key if element.name not in muted]
        return Potentials(network, self.key, network.potentials(injections(kept)))

    # -- keyframes -------------------------------------------------------------------------------------

    def state(self) -> Plain:
        """The whole net as base types."""
        return tuple((type(element).__name__, *dataclasses.astuple(element)) for element in self.key)

    def restore(self, state: Plain) -> None:
        """Become the net that `state()` was taken of."""
        rebuilt = [_KINDS[str(kind)](*values) for kind, *values in state]  # type: ignore[arg-type]
        self._elements, self._numbers = {}, {}
        self.put(rebuilt)


def in_turn(*undos: Undo) -> Undo:
    """One undo for several edits, the last one taken back first."""

    def undo() -> None:
        for one in reversed(undos):
            one()

    return undo
