"""What of the gate is seen on the plan: ink where a leaf is, and none where it isn't."""

from __future__ import annotations

import math
from typing import Any

from trainer.window.plan.plan import Plan

DARK = 90
"""Every channel of the ink of a leaf's outline is below this; the sheet's colours are far above."""


def plan_of(person: Any) -> Plan:
    """The yard's plan."""
    return next(w for w in person.app.work.walk() if isinstance(w, Plan))


def on_leaf(person: Any, leaf: str, along: float, angle: float | None = None) -> tuple[int, int]:
    """Where a point of a leaf is on the screen; at an angle [°] of one's own, if given."""
    plan, view = plan_of(person), person.view()
    index = 0 if leaf == "active" else 1
    theta = math.radians(view.leaves[index].angle_deg if angle is None else angle)
    x, y = along * math.cos(theta), along * math.sin(theta)
    shown = plan.port.to_screen(x if index == 0 else view.opening_m - x, y)
    return round(shown[0]), round(shown[1])


def ink_near(person: Any, at: tuple[int, int], reach: int = 6) -> bool:
    """Whether something dark is drawn within some pixels of a point: as many more as the window's text is larger."""
    reach = round(reach * person.app.root.style.scale)
    points = [(at[0] + dx, at[1] + dy) for dx in range(-reach, reach + 1) for dy in range(-reach, reach + 1)]
    return any(max(person.colour(point)) < DARK for point in points)


def leaves_are_drawn_where_they_are(person: Any) -> None:
    """The picture agrees with the angles: ink where each leaf is, none where it isn't."""
    person.frames(3)
    for leaf, view in zip(("active", "inactive"), person.view().leaves, strict=True):
        assert ink_near(person, on_leaf(person, leaf, 1.3)), f"{leaf} leaf at {view.angle_deg:.0f}°"
        elsewhere = view.angle_deg + (35 if view.angle_deg < 45 else -35)
        assert not ink_near(person, on_leaf(person, leaf, 1.3, elsewhere), 3), f"nothing at {elsewhere:.0f}°"
