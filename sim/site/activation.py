"""What must protect people at the main closing edge, by who uses a gate and how it is set going.

The table is that of EN 12453 in its form of the year 2000 (facts 2.1; the letters of its levels stand beside their
words here). It asks for levels per kind of activation and user group; a protection that notices people lowers the
chance of contact and never replaces a limit of the force. Whoever surveys or accepts a gate looks it up.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import reduce
from types import MappingProxyType
from typing import Final, Literal, TypeAlias, get_args

from sim.said import listed, said
from sim.site.models import UserGroup

Activation: TypeAlias = Literal["hold-to-run", "a press in sight", "a press out of sight", "by itself"]
ACTIVATIONS: Final[tuple[Activation, ...]] = get_args(Activation)

Level: TypeAlias = Literal[
    "held by push button", "held by key switch", "limited force", "presence detection", "no contact possible"
]
"""Levels A to E of the table, in this order."""

_A: Final = frozenset[Level](("held by push button",))
_B: Final = frozenset[Level](("held by key switch",))
_C: Final = frozenset[Level](("limited force",))
_C_AND_D: Final = frozenset[Level](("limited force", "presence detection"))
_E: Final = frozenset[Level](("no contact possible",))

Needs: TypeAlias = tuple[frozenset[Level], ...]
"""Each of them is enough; none at all: it is not allowed."""

NEEDS: Final[Mapping[tuple[Activation, UserGroup], Needs]] = MappingProxyType(
    {
        ("hold-to-run", "instructed"): (_A, _B),
        ("hold-to-run", "instructed with public"): (_B,),
        ("hold-to-run", "anyone"): (),
        ("a press in sight", "instructed"): (_C, _E),
        ("a press in sight", "instructed with public"): (_C, _E),
        ("a press in sight", "anyone"): (_C_AND_D, _E),
        ("a press out of sight", "instructed"): (_C, _E),
        ("a press out of sight", "instructed with public"): (_C_AND_D, _E),
        ("a press out of sight", "anyone"): (_C_AND_D, _E),
        ("by itself", "instructed"): (_C_AND_D, _E),
        ("by itself", "instructed with public"): (_C_AND_D, _E),
        ("by itself", "anyone"): (_C_AND_D, _E),
    }
)
"""A key switch is enough wherever a push button is: it keeps others from holding it."""


def lacking(activation: Activation, group: UserGroup, present: Collection[Level]) -> str:
    """What a gate that is set going so lacks for these users, in words; empty if nothing."""
    needs = NEEDS[activation, group]
    if any(need <= set(present) for need in needs):
        return ""
    if not needs:
        return said("{activation} is not allowed where the users are {users}", activation=activation, users=group)
    ways = reduce(_or, (listed(level for level in get_args(Level) if level in need) for need in needs))
    return said("{activation}, used by {users}, needs {ways}", activation=activation, users=group, ways=ways)


def _or(one: str, other: str) -> str:
    return said("{one} or {other}", one=one, other=other)


__all__ = ["ACTIVATIONS", "NEEDS", "Activation", "Level", "Needs", "lacking"]
