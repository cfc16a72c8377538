"""The spring scale: how hard one has to pull or push a leaf by hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.draws import normal
from sim.instruments.shown import Shown


@dataclass(frozen=True, slots=True)
class SpringScaleSpec:
    """A hand-held scale. CP, no source."""

    most_n: float = 250.0
    step_n: float = 2.0
    noise_n: float = 1.5
    """A hand does not pull evenly: deviation of a reading [N]."""


SPEC: Final = SpringScaleSpec()


def read(force_n: float, *, seed: int, index: int, spec: SpringScaleSpec = SPEC) -> Shown:
    """What it shows for a force [N], whichever way it is pulled; `index` counts this scale's readings."""
    force = abs(force_n) + spec.noise_n * normal(seed, "spring scale", "pull", index)
    if force > spec.most_n:
        return Shown(None, "N", f"over {spec.most_n:g} N", ("over range",))
    value = max(0.0, round(force / spec.step_n) * spec.step_n)
    return Shown(value, "N", f"{value:g} N")
