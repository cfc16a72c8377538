"""What a free yard is chosen from: the sites that are shipped, and the faults that the gate of one can have."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sim.errors import Refused, ScenarioError
from sim.faults.catalogue import FAULTS
from sim.site import load_site
from sim.world.world import World
from trainer.job import scenarios_folder


@dataclass(frozen=True, slots=True)
class SiteCard:
    """A site to choose."""

    path: str
    name: str
    setting: str
    """What kind of place it is; or why the file can't be used."""
    usable: bool = True


@dataclass(frozen=True, slots=True)
class FaultCard:
    """A fault to choose."""

    name: str
    family: str
    customer: str
    """What a customer says of it."""


def sites() -> list[SiteCard]:
    """Every site that is shipped, by name. One that can't be read says why."""
    found = []
    for path in sorted((scenarios_folder() / "sites").glob("*.yaml")):
        try:
            found.append(site_in(str(path)))
        except ScenarioError as error:
            found.append(SiteCard(str(path), path.stem, str(error), usable=False))
    return sorted(found, key=lambda card: card.name)


def site_in(file: str) -> SiteCard:
    """The site in a file. Raises ScenarioError if it can't be used."""
    path = Path(file).expanduser()
    site = load_site(path)
    return SiteCard(str(path), site.name, site.setting)


def fitting(site: str) -> Iterator[FaultCard]:
    """The faults of the catalogue that the gate of a site can have, in the catalogue's order.

    Each is tried and taken back on a gate of its own, so that whoever draws may take one at a time. Raises
    ScenarioError if the file can't be used.
    """
    world = World(load_site(site), seed=0)
    for fault in FAULTS.values():
        try:
            world.faults.check(fault.name)
        except Refused:
            continue  # this gate has no such part
        yield FaultCard(fault.name, fault.family, fault.customer)
