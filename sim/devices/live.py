"""What the drives are doing while somebody looks at the cabinet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Live:
    """What the drives are doing while somebody looks; index 0 is the active leaf."""

    duty: tuple[float, float] = (0.0, 0.0)
    """Signed duty of each bridge as it stands."""
    motor_a: tuple[float, float] = (0.0, 0.0)
    """Motor currents, positive opens a correctly wired leaf [A]."""
    emf_v: tuple[float, float] = (0.0, 0.0)
    """Back-EMF of each motor, constant times speed [V]: what a motor without current shows."""


REST: Final = Live()
