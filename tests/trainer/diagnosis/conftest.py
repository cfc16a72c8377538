"""A small table, made by simulation: few causes on one shipped site."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.site import Site, load_site
from trainer.diagnosis.site_table import SiteTable, causes_of, make

SITES = Path(__file__).parents[3] / "scenarios" / "sites"

FEW = ("no mains at the box", "corroded splice in a buried motor cable", "photo beam misaligned", "edge line broken",
       "transmitter flat", "power supply failing", "residual-current device trips in rain", "pause too short",
       "encoder cable without its screen")  # fmt: skip


@pytest.fixture(scope="session")
def site() -> Site:
    return load_site(SITES / "mill_lane.yaml")


@pytest.fixture(scope="session")
def small(site: Site) -> SiteTable:
    """The table of a few causes."""
    return make(site, [fault for fault in causes_of(site) if fault.name in FEW])
