"""A site with everything fitted but the inner beam, and its cabinet."""

from __future__ import annotations

import pytest

from sim.devices.cabinet import Cabinet, build_cabinet
from sim.site import Battery, Site, Supply


@pytest.fixture
def site() -> Site:
    """The reference bench of facts 8: 27.3 V supply, battery, 25 m of 1.5 mm² class 5 to each motor."""
    controls = ("open button", "close button", "step button", "key switch", "timer contact", "pedestrian button")
    return Site(name="Larch Bank", supply=Supply(battery=Battery()), controls=controls)


@pytest.fixture
def cabinet(site: Site) -> Cabinet:
    """That site's cabinet, both sources on."""
    return build_cabinet(site)
