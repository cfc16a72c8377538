"""Time that an act took, shown fast: the leaves run through what the strip recorded, in well under a second.

The session has gone through it already; this is only the picture catching up. With reduced motion it is left out.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from sim.units import SECOND, Us

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View

LEAST_US: Final = 2 * SECOND
"""A jump of the clock below this is not worth showing [µs]."""

SHOWN_S: Final = 0.6
"""How long the picture takes for it, however long it was [s of wall time]. Ours."""


class Fast:
    """What is drawn while the picture catches up with the session's clock."""

    def __init__(self) -> None:
        self._at: Us | None = None
        self._from: Us = Us(0)
        self._left_s = 0.0

    @property
    def runs(self) -> bool:
        """Whether the picture is behind; time is held meanwhile."""
        return self._left_s > 0.0

    def shown(self, view: View, wall_s: float) -> View:
        """The look to draw now, after `wall_s` of wall time [s]."""
        if self._at is not None and view.now - self._at >= LEAST_US and view.strip.shown_s is None:
            self._from, self._left_s = self._at, SHOWN_S
        else:
            self._left_s = max(0.0, self._left_s - wall_s)
        self._at = view.now
        if not self.runs:
            return view
        part = 1.0 - self._left_s / SHOWN_S
        now = Us(round(self._from + part * (view.now - self._from)))
        return replace(view, now=now, leaves=tuple(_at(view, leaf, now) for leaf in view.leaves))


def _at(view: View, leaf: LeafView, now: Us) -> LeafView:
    """A leaf at a recorded instant; its drive stands as that angle has it."""
    import numpy as np

    times, angles = np.asarray(view.strip.time_s), np.asarray(view.strip.channels[f"{leaf.name} angle"])
    if not len(times):
        return leaf
    return replace(leaf, angle_deg=float(np.interp(now / SECOND, times, angles)))
