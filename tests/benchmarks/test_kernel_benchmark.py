"""The compiled kernel against the same source interpreted, and against real time; only the ratio is judged."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from sim.kernel import compiler
from sim.kernel.network import DriveNetwork
from sim.mechanics.plant import Plant
from sim.site.models import Site
from sim.units import Us

pytestmark = pytest.mark.benchmark

MOVING_S = 40
"""Both leaves move for this long [s]."""


def moving(plant: Plant, seconds: int) -> float:
    """Open both leaves slowly from shut; returns the simulated seconds."""
    plant.set_network(DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665)))
    for leaf in (0, 1):
        plant.command(leaf, 0.25)
    plant.run_to(Us(seconds * 1_000_000))
    assert plant.motor_speed(0) > 0.0
    return float(seconds)


def test_compiled_against_interpreted(
    monkeypatch: pytest.MonkeyPatch,
    in_turn: Callable[[Mapping[str, Callable[[], float]], int], dict[str, list[float]]],
    ratio: Callable[[list[float], list[float]], float],
) -> None:
    """The compiled step is at least 20 times as fast as the interpreted one, recording included."""
    if not compiler.load():
        pytest.skip("no compiler here: it isn't installed, or it is switched off")
    forms = compiler.forms()
    site = Site(name="Quince Lane, invented")

    def run(form: compiler.Forms, seconds: int, record: bool) -> float:
        monkeypatch.setattr(compiler, "_forms", form)
        plant = Plant(site)
        plant.record(record)
        return moving(plant, seconds)

    rates = in_turn(
        {
            "compiled": lambda: run(forms, MOVING_S, False),
            "compiled, recording": lambda: run(forms, MOVING_S, True),
            "interpreted": lambda: run(compiler.INTERPRETED, 2, False),
        },
        7,
    )
    for name, values in rates.items():
        print(f"{name}: {sorted(values)[len(values) // 2]:.0f} simulated seconds per wall second")
    assert ratio(rates["compiled"], rates["interpreted"]) > 20.0
    assert ratio(rates["compiled, recording"], rates["compiled"]) > 0.7
