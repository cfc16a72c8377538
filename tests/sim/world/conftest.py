"""A site, and a controller that drives both leaves at stated times: for plays about the world itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.controller.ports import Drive, Inputs, Outputs, Panel, Scan
from sim.site import Site, load_site
from sim.units import SCAN, Us

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.fixture(scope="session")
def site() -> Site:
    """The reference site."""
    return load_site(SITES / "orchard_row.yaml")


class Scripted:
    """Outputs at stated seconds; remembers every scan it got."""

    def __init__(self, *script: tuple[float, Outputs]) -> None:
        self.script = [(Us(round(at * 1e6)), outputs) for at, outputs in script]
        self.scans: list[tuple[Us, Inputs]] = []
        self.powered: list[Us] = []

    def power_up(self, now: Us) -> None:
        self.powered.append(now)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        self.scans.append((now, inputs))
        current = Outputs()
        for at, outputs in self.script:
            if at <= now:
                current = outputs
        later = [at for at, _ in self.script if at > now]
        return Scan(current, Us(-(-min(later) // SCAN) * SCAN) if later else None, ())

    def panel(self) -> Panel:
        return Panel("scripted", "")


@pytest.fixture
def scripted() -> type[Scripted]:
    """The scripted controller's class."""
    return Scripted


@pytest.fixture
def both_open() -> Outputs:
    """Both bridges driving in the opening sense."""
    return Outputs(active=Drive(1.0, 1.0), inactive=Drive(1.0, 1.0))
