"""What must protect people at the main closing edge for the users that were written down, as a screen lists it."""

from __future__ import annotations

from functools import lru_cache
from typing import cast, get_args

from sim.site import UserGroup
from sim.site.activation import ACTIVATIONS, NEEDS, Level

Need = tuple[str, tuple[tuple[str, ...], ...]]
"""How a gate is set going, and each set of levels that is enough for it; none at all: it is not allowed."""


@lru_cache(maxsize=8)
def needs_of(group: str) -> tuple[Need, ...]:
    """For every way of setting a gate going; nothing while no users are written down. Facts 2.1."""
    if group not in get_args(UserGroup):
        return ()
    users = cast(UserGroup, group)
    return tuple(
        (way, tuple(tuple(level for level in get_args(Level) if level in need) for need in NEEDS[way, users]))
        for way in ACTIVATIONS
    )
