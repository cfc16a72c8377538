"""Getting about by keys alone: Tab from stop to stop, and at each of them the ring that shows where the keys go."""

from __future__ import annotations

from typing import Any

from trainer.language import _
from trainer.window.kit.style import WIRE

RING_PX = 60
"""So many pixels of the ring's colour there are at least where the focus came to."""


def tab_to(person: Any, role: str, label: str, key: str = "Tab", most: int = 90) -> None:
    """Press Tab until something has the focus; the ring is looked for at every stop on the way."""
    for _n in range(most):
        if focused(person) in ((role, label), (role, _(label))):
            return
        step(person, key)
    raise AssertionError(f"{key} never came to {role} {label}; it is at {focused(person)}")


def step(person: Any, key: str) -> None:
    """One key that moves the focus; where it comes to, the ring is drawn.

    It is new there, unless a list was scrolled by just as much as the focus moved.
    """
    before, was = person.app.window.copy(), _place(person)
    person.key(key)
    now = _ring(person, person.app.window)
    new = now if _place(person) == was else now & ~_ring(person, before)
    assert new.sum() >= RING_PX, f"{new.sum()} px of ring at {focused(person)}; {person.picture('no-ring')}"


def focused(person: Any) -> tuple[str, str] | None:
    """Role and label of what has the focus."""
    told = person.app.root.tree()["focus"]
    return tuple(told) if told else None


def _place(person: Any) -> tuple[int, int, int, int] | None:
    focus = person.app.root.focus
    return tuple(focus.rect) if focus is not None else None


def _ring(person: Any, picture: Any) -> Any:
    """Which pixels at what has the focus are of the ring's colour."""
    import numpy as np
    import pygame

    focus = person.app.root.focus
    assert focus is not None, f"the focus is nowhere; {person.picture('no-focus')}"
    area = focus.rect.inflate(14, 14).clip(picture.get_rect())
    colours = pygame.surfarray.array3d(picture.subsurface(area))
    return (colours == np.array(person.app.root.style.seen(WIRE))).all(axis=2)
