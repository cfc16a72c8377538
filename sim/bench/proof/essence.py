"""What is left of a value when its numbers are taken out: what a search takes to be the same situation.

A whole number from −3 to 3 is itself. Any other is *ahead* when it is an instant still to come, else *some* with its
sign. So a deadline is told by its name and by whether it is still to come, a counter by whether it has begun. Words,
choices and yes or no stay as they are; a long list is only long.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from operator import attrgetter
from typing import Any, Final

NOTHING: Final[frozenset[str]] = frozenset()

LONGEST: Final = 16
"""A list with more entries than this is only long."""

DEEPEST: Final = 8
"""What lies deeper in a tree of things than this is left out."""

_AHEAD: Final = "ahead"
_SOME: Final = "some"
_LESS: Final = "some, below nothing"


def essence(value: Any, now: int, without: frozenset[str] = NOTHING) -> Hashable:
    """`value` without its numbers, to be compared and hashed. `now`: this instant [µs].

    `without`: names of attributes that don't decide what comes.
    """
    return _all((value,), now, _kinds(without), DEEPEST)[0]


class _Kinds(dict[type, Any]):
    """How each kind of value is taken: `_PLAIN`, `_NUMBER`, `_ROW`, or a function of value, instant and depth."""

    def __init__(self, without: frozenset[str]) -> None:
        super().__init__({str: _PLAIN, bool: _PLAIN, type(None): _PLAIN, int: _NUMBER, float: _NUMBER})
        self.update({list: _ROW, tuple: _ROW})
        self._without = without

    def __missing__(self, kind: type) -> Any:
        self[kind] = how = self._found(kind)
        return how

    def _found(self, kind: type) -> Any:
        if issubclass(kind, (Enum, str)):
            return _PLAIN
        if is_dataclass(kind):
            pick = self._picker(kind)
            return lambda value, now, deeper: _all(pick(value), now, self, deeper)
        if issubclass(kind, Mapping):
            return self._of_mapping
        if issubclass(kind, (set, frozenset)):
            return lambda value, now, deeper: frozenset(_all(value, now, self, deeper))
        if issubclass(kind, tuple):
            return lambda value, now, deeper: _all(value, now, self, deeper)
        return self._of_thing

    def _picker(self, kind: type) -> Callable[[Any], tuple[Any, ...]]:
        """What takes the attributes out of a dataclass."""
        names = [field.name for field in fields(kind) if field.name not in self._without]
        if len(names) > 1:
            return attrgetter(*names)
        return lambda value: tuple(getattr(value, name) for name in names)

    def _of_mapping(self, value: Any, now: int, deeper: int) -> Hashable:
        names = [name for name in value if name not in self._without]
        return frozenset(zip(names, _all([value[name] for name in names], now, self, deeper), strict=True))

    def _of_thing(self, value: Any, now: int, deeper: int) -> Hashable:
        name = type(value).__name__
        held = getattr(value, "__dict__", None)
        if held is None or isinstance(value, type) or callable(value):
            return name
        return name, self._of_mapping(held, now, deeper)


_PLAIN: Final = 0
_NUMBER: Final = 1
_ROW: Final = 2


@cache
def _kinds(without: frozenset[str]) -> _Kinds:
    return _Kinds(without)


def _all(values: Iterable[Any], now: int, kinds: _Kinds, deeper: int) -> tuple[Hashable, ...]:
    """The essence of each. One loop for the plain cases, since a search comes here millions of times."""
    found: list[Any] = []
    for value in values:
        kind = type(value)
        how = kinds[kind]
        if how is _PLAIN:
            found.append(value)
        elif how is _NUMBER:
            if -3 <= value <= 3 and value == int(value):
                found.append(value)
            else:
                found.append(_AHEAD if value > now else _SOME if value > 0 else _LESS)
        elif deeper == 0:
            found.append(kind)
        elif how is not _ROW:
            found.append(how(value, now, deeper - 1))
        elif not value or len(value) > LONGEST:
            found.append(bool(value))
        else:
            found.append(_all(value, now, kinds, deeper - 1))
    return tuple(found)
