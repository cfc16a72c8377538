"""A gate of our own invention, a healthy net, and the kernel in both forms."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from sim.kernel import compiler
from sim.kernel.network import DriveNetwork
from sim.mechanics.plant import Plant
from sim.mechanics.report import Reason, StopReport
from sim.site.models import Site
from sim.units import Us


@pytest.fixture
def site() -> Site:
    """Two leaves of 2 m and 120 kg, rams, a strip on the active leaf's inside: the defaults."""
    return Site(name="Quince Lane, invented")


@pytest.fixture
def net() -> DriveNetwork:
    """27.3 V behind 0.12 Ω, both motors behind 25 m of 1.5 mm² (facts C38: 0.665 Ω)."""
    return DriveNetwork(voc=(27.3, 27.3), z=((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))


@pytest.fixture
def plant(site: Site, net: DriveNetwork) -> Plant:
    """Shut, at rest, with a supply."""
    made = Plant(site)
    made.set_network(net)
    return made


@pytest.fixture
def run() -> Callable[[Plant, float], list[StopReport]]:
    """Run a plant for a time [s], through every stop on the way; returns those stops."""

    def through(plant: Plant, seconds: float) -> list[StopReport]:
        end = Us(plant.now + round(seconds * 1e6))
        stops: list[StopReport] = []
        while (stop := plant.run_to(end)).reason is not Reason.REACHED:
            stops.append(stop)
            assert len(stops) < 10_000, "stops without end"
        return stops

    return through


@pytest.fixture(autouse=True, scope="session")
def compiled() -> None:
    """These tests run on the compiled kernel where there is one; the interpreted form is asked for by name."""
    compiler.load()


@pytest.fixture
def interpreted(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The interpreted kernel for the length of a test."""
    with monkeypatch.context() as patch:
        patch.setattr(compiler, "_forms", compiler.INTERPRETED)
        yield
