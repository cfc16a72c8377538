"""Keeps a controller's state in memory and gives it back: any controller's, as often as a search likes.

A controller says itself what of it is state by Python's own protocol, `__getstate__` and `__setstate__`; one that
says nothing is taken with all its attributes. What can be pickled is; that is several times as quick as a deep copy.
"""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from typing import Any, NamedTuple

from sim.controller.ports import Controller


class Kept(NamedTuple):
    """A controller's state at an instant. Only for the process that took it."""

    pickled: bytes
    """Empty where it can't be pickled."""
    copied: Any


def keep(controller: Controller) -> Kept:
    """The state of `controller` now; nothing that it does later changes it."""
    state = controller.__getstate__()
    try:
        return Kept(pickle.dumps(state, pickle.HIGHEST_PROTOCOL), None)
    except (pickle.PicklingError, TypeError, AttributeError):
        return Kept(b"", copy.deepcopy(state))


def restore(controller: Controller, kept: Kept) -> None:
    """Have `controller`, the one it was taken from or another of its class, be as when `kept` was taken."""
    state = pickle.loads(kept.pickled) if kept.pickled else copy.deepcopy(kept.copied)
    own: Callable[[Any], None] | None = getattr(controller, "__setstate__", None)
    if own is not None:
        own(state)
        return
    attributes, slots = state if isinstance(state, tuple) else (state, None)
    if hasattr(controller, "__dict__"):
        vars(controller).clear()
        vars(controller).update(attributes or {})
    for name, value in (slots or {}).items():
        setattr(controller, name, value)
