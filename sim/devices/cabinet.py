"""The cabinet and all that is wired to it: built from a site, edited by hands, read by board and instruments."""

from __future__ import annotations

from sim.devices.hands import Hands
from sim.devices.live import REST, Live
from sim.devices.output_path import Signs
from sim.devices.reading import LIVE_V, Reading
from sim.devices.unattended import Unattended
from sim.devices.wired import CabinetState
from sim.site import Site

__all__ = ["LIVE_V", "REST", "Cabinet", "CabinetState", "Live", "Signs", "build_cabinet"]


class Cabinet(Hands, Unattended, Reading):
    """Every conductor on a site. Parts follow what feeds them before anything is read."""


def build_cabinet(site: Site) -> Cabinet:
    """The cabinet of a site, wired, both sources on, with every part at rest."""
    cabinet = Cabinet(site)
    cabinet.settle()
    return cabinet
