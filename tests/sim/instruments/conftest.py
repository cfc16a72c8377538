"""A cabinet to measure on, and the whole bench as a world with a full bag."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.devices.cabinet import Cabinet, build_cabinet
from sim.instruments.toolbag import Toolbag
from sim.site import Battery, Site, Supply, load_site
from sim.world.actions import Value, checked
from sim.world.arrival import Arrival
from sim.world.history import Event
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"

SHEET: dict[str, Value] = {
    "electric lock": "fitted",
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "opens first": "active",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 4.0,
    "slow zone before stop": 20.0,
}


@pytest.fixture
def cabinet() -> Cabinet:
    """The reference bench of facts 8, both sources on."""
    return build_cabinet(Site(name="Larch Bank", supply=Supply(battery=Battery())))


class Bench:
    """The reference bench, or another site, as a world; `learned` takes a simulated commissioning of some minutes."""

    def __init__(self, *, learned: bool = False, seed: int = 3, site: str = "reference_bench") -> None:
        model = load_site(SITES / f"{site}.yaml")
        arrival = Arrival(sheet=SHEET if learned else {}, learned=learned)
        self.world = World(model, seed=seed, bag=Toolbag, arrival=arrival)

    @property
    def bag(self) -> Toolbag:
        """Its bag."""
        assert isinstance(self.world.bag, Toolbag)
        return self.world.bag

    def do(self, kind: str, **arguments: Value) -> str:
        """One act."""
        return self.world.do(checked(kind, arguments))

    def measure(self, instrument: str, function: str, at: str = "", against: str = "") -> str:
        """Place, settle, read, lift."""
        return self.do("measure", instrument=instrument, function=function, at=at, against=against)

    def place(self, instrument: str, function: str, at: str = "", against: str = "") -> str:
        """Put in place and leave there."""
        return self.do("place instrument", instrument=instrument, function=function, at=at, against=against)

    def last(self, kind: str = "reading") -> Event:
        """The last event of a kind."""
        return next(e for e in reversed(self.world.events) if e.kind == kind)

    def value(self, instrument: str, function: str, at: str = "", against: str = "") -> float:
        """What a measurement shows, as a number."""
        self.measure(instrument, function, at, against)
        return float(self.last().data["value"])

    def told(self, kind: str) -> list[str]:
        """What the events of a kind were about."""
        return [str(e.data["what"]) for e in self.world.events if e.kind == kind]


@pytest.fixture(scope="session")
def make_bench() -> Callable[..., Bench]:
    """Makes benches."""
    return Bench


@pytest.fixture
def bench() -> Bench:
    """A bench of one's own, sheet empty, shut, at rest, both sources on."""
    return Bench()
