"""What a network is made of: resistors, contacts and sources, each between two nodes named `part.pin`.

Every source has a resistance of its own, so that every conductor is a finite conductance, every network of them can
be solved by elimination without pivoting, and an open contact is simply not there. Values are real on the
direct-current side and complex (RMS phasors) on the mains side; the same code solves both.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class Resistor:
    """A conductor, a load, a leak: `ohm` [Ω], greater than zero."""

    name: str
    a: str
    b: str
    ohm: complex

    @property
    def siemens(self) -> complex:
        """Conductance [S]."""
        return 1.0 / self.ohm

    @property
    def injection(self) -> complex:
        """Current that a source drives into `a` and out of `b` [A]."""
        return 0.0


@dataclass(frozen=True, slots=True)
class Contact:
    """A switch, a relay contact, a plug pole, a fuse, a joint: `ohm` [Ω] when closed, nothing at all when open."""

    name: str
    a: str
    b: str
    closed: bool = True
    ohm: complex = 0.02

    @property
    def siemens(self) -> complex:
        """Conductance [S], zero when open."""
        return 1.0 / self.ohm if self.closed else 0.0

    @property
    def injection(self) -> complex:
        """Current that a source drives into `a` and out of `b` [A]."""
        return 0.0


@dataclass(frozen=True, slots=True)
class VoltageSource:
    """A source that lifts `a` above `b` by `volts` [V] behind its inner resistance `ohm` [Ω]."""

    name: str
    a: str
    b: str
    volts: complex
    ohm: complex

    @property
    def siemens(self) -> complex:
        """Conductance [S]."""
        return 1.0 / self.ohm

    @property
    def injection(self) -> complex:
        """Current that a source drives into `a` and out of `b` [A]."""
        return self.volts / self.ohm


@dataclass(frozen=True, slots=True)
class CurrentSource:
    """A source that drives `amps` [A] into `a` and out of `b`, with `ohm` [Ω] beside it (its real, finite limit)."""

    name: str
    a: str
    b: str
    amps: complex
    ohm: complex = 1e6

    @property
    def siemens(self) -> complex:
        """Conductance [S]."""
        return 1.0 / self.ohm

    @property
    def injection(self) -> complex:
        """Current that a source drives into `a` and out of `b` [A]."""
        return self.amps


Element: TypeAlias = Resistor | Contact | VoltageSource | CurrentSource
