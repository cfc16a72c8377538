"""A cabinet to measure on."""

from __future__ import annotations

import pytest

from sim.devices.cabinet import Cabinet, build_cabinet
from sim.site import Battery, Site, Supply


@pytest.fixture
def cabinet() -> Cabinet:
    """The reference bench of facts 8, both sources on."""
    return build_cabinet(Site(name="Larch Bank", supply=Supply(battery=Battery())))
