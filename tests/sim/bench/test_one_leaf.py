"""The bench on a gate with one leaf: trial, force plan and trace know of no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench.force_plan import measure
from sim.bench.trial import Order, Trial, as_installed
from sim.instruments.places import places, spots
from sim.instruments.toolbag import Toolbag
from sim.instruments.zones import zones_of
from sim.site import Site, load_site, with_changes
from sim.traces.recorder import trace
from sim.units import SECOND, Us
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.effects.timing import condition
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.fixture(scope="module")
def side() -> Site:
    """A side entrance with one leaf."""
    return load_site(SITES / "bellows_passage.yaml")


def test_a_trial_has_one_row_and_one_set_of_signals(side: Site) -> None:
    """The result names the leaf that hangs, and a trace has no empty columns."""
    trial = Trial(Order(side, Us(90 * SECOND)))
    result = trial.run()
    assert (result.ended, result.unready, result.state) == ("finished", "", "closed")
    assert [leaf.name for leaf in result.leaves] == ["active"]
    assert result.leaves[0].most_open_deg > 88.0
    assert result.leaves[0].why == ()
    names = [signal.name for signal in trace(trial.world).signals]
    assert "active leaf angle" in names
    assert not [name for name in names if "inactive" in name]


def test_the_sheet_of_a_good_installer_says_one(side: Site) -> None:
    """And that the edge of a leaf that isn't there isn't fitted."""
    sheet = as_installed(side).sheet
    assert (sheet["leaves fitted"], sheet["opens first"], sheet["inactive edge"]) == ("1", "active", "not fitted")


def test_its_force_is_measured_at_the_leaf_there_is(side: Site) -> None:
    """Three readings a point, judged; with its soft edge a leaf of 75 kg stays within limits at 500 mm."""
    plan = measure(side, openings_mm=(500.0,))
    assert {point.leaf for point in plan.points} == {"active"}
    assert [point.outcome for point in plan.points] == ["within limits"] * 3
    assert plan.readings == 9


def test_instruments_find_one_leaf_and_its_post(side: Site) -> None:
    """What an instrument can be put on, and the zones of the gate."""
    world = World(side)
    scope = Toolbag(world).instruments["oscilloscope"].functions[0]
    assert spots(world, scope) == ("active encoder's line",)
    assert places(world, "leaf") == places(world, "post") == ("active",)
    assert {zone.leaf for zone in zones_of(side)} == {"active"}


SENSED = {
    "encoder": ({"kind": "encoder"}, None),
    "limit switches": ({"kind": "limit switches", "limits_in_motor_lead": True}, "limit switches"),
    "running time": ({"kind": "none"}, "running time"),
}


@pytest.mark.parametrize("name", SENSED)
def test_however_it_is_sensed_it_does_alone(side: Site, name: str) -> None:
    """What the one drive has is what the sheet says, and the gate opens and shuts; a sheet that says two makes
    learning end early, with the reason, and the gate stays out of service."""
    sensing, said = SENSED[name]
    site = with_changes(side, {"drives.active.sensing": sensing})
    assert as_installed(site).sheet.get("position sensing") == said
    result = Trial(Order(site, Us(150 * SECOND))).run()
    assert (result.ended, result.unready, result.state) == ("finished", "", "closed")
    assert result.leaves[0].most_open_deg > 85.0
    world = World(site, arrival=Arrival(sheet={**as_installed(site).sheet, "leaves fitted": "2"}))
    world.do(checked("learn travel"))
    assert world.run_to(world.now + 900 * SECOND, condition(world, "learning ends"))
    world.run_to(world.now + 2 * SECOND)
    assert "learning ended early, nothing is kept: inactive leaf" in world.headline().message
    assert not world.standing().learned
