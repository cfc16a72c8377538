"""Sealing and unsealing the sheet answers whether it is sealed now, and not what the gate happens to do."""

from __future__ import annotations

from sim.site import Site
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World


def test_who_seals_is_told_so_and_who_opens_it_too(site: Site) -> None:
    """A gate that stands shut says nothing of its seal."""
    world = World(site, seed=0, arrival=Arrival(mains=True))
    world.run_to(2_000_000)
    assert world.do(checked("seal sheet", {"name": "the fitter"})) == "The sheet is sealed by the fitter."
    told = world.do(checked("unseal sheet", {"name": "the fitter", "reason": "the pause is too short"}))
    assert told == "The sheet is open again."


def test_a_seal_that_is_refused_keeps_the_panels_answer(site: Site) -> None:
    """It says what is wanted."""
    world = World(site, seed=0, arrival=Arrival(mains=True))
    world.run_to(2_000_000)
    assert "say who seals it" in world.do(checked("seal sheet", {"name": " "}))
