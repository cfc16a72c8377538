"""Every site that is shipped can be lived with: the reference controller, as installed, opens and shuts it.

Nothing here knows the sites: one that is added is tested the day it is added.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Final

import pytest

from sim.bench.trial import Order, Trial, as_installed
from sim.site import DRIVE_KINDS, load_site, with_changes
from sim.units import SECOND, Us

FILES: Final = sorted((Path(__file__).parents[2] / "scenarios" / "sites").glob("*.yaml"))
NEAR_DEG: Final = 1.5


@pytest.mark.slow
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_reference_controller_opens_and_shuts_it(path: Path) -> None:
    """Learned, opened to both stops by one command, shut by the next, the free leaf first out and last home, and
    nobody and nothing was hurt on the way."""
    site = load_site(path)
    trial = Trial(Order(site, Us(120 * SECOND)))
    result = trial.run()
    assert (result.ended, result.said, result.state) == ("finished", "", "closed")
    for leaf, model in zip(result.leaves, site.leaves.hung, strict=True):
        assert leaf.most_open_deg == pytest.approx(model.open_stop_deg, abs=NEAR_DEG)
        assert leaf.angle_deg == pytest.approx(0.0, abs=NEAR_DEG)
    moving = [each.text for each in result.happened if each.kind == "moving"]
    assert site.opens_first in moving[0]
    assert site.opens_first in moving[-1]
    assert not [each for each in result.happened if each.kind in ("clash", "struck", "danger", "contact")]


def test_every_kind_of_gate_is_shipped() -> None:
    """What a site can hold can be looked at in one that is shipped."""
    sites = [load_site(path) for path in FILES]
    drives = [drive for site in sites for drive in site.drives.fitted]
    assert {drive.kind for drive in drives} == set(DRIVE_KINDS)
    assert {drive.motor.kind for drive in drives} == {"direct current", "mains induction"}
    assert {site.opens_towards for site in sites} == {"inside", "outside"}
    assert {site.leaves.fitted for site in sites} == {("active",), ("active", "inactive")}
    assert {drive.sensing.kind for drive in drives} == {"encoder", "limit switches", "none"}
    assert {site.user_group for site in sites} == {"instructed", "instructed with public", "anyone"}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_beam_that_guards_the_arc_stands_beyond_it_and_holds(path: Path) -> None:
    """Whichever side the leaves open to, the beam on that side is out of their reach, and as installed it holds an
    opening gate, while the one on the other side reopens a closing one (common practice, no source)."""
    site = load_site(path)
    outwards = site.opens_towards == "outside"
    guarding, crossing = ("outer beam", "inner beam") if outwards else ("inner beam", "outer beam")
    sheet = as_installed(site).sheet
    reach = max(leaf.width_m * math.sin(math.radians(min(leaf.open_stop_deg, 90))) for leaf in site.leaves.hung)
    for name, acts in ((guarding, "hold"), (crossing, "reopen")):
        beam = site.guards.device(name)
        said = sheet.get(name, "hold" if name == "inner beam" else "reopen")  # the defaults of the sheet
        assert said == ("not fitted" if beam is None else acts)
        if beam is not None and name == guarding:
            assert abs(beam.y_m) >= reach


@pytest.mark.slow
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_its_active_leaf_would_do_alone(path: Path) -> None:
    """Whatever drives it and wherever it opens to: with the second leaf away and a post in its place it opens and
    shuts, and nothing is told of the other."""
    site = load_site(path)
    alone = with_changes(
        site,
        {
            "leaves.inactive": "not fitted",
            "drives.inactive": "not fitted",
            "guards.inactive_edge": "not fitted",
            "cover_strip": "not fitted",
            "opening_width_m": round(site.leaves.active.width_m + 0.02, 6),
            "lock": "not fitted" if site.lock == "not fitted" else {"leaf": "active"},
            "walls": [wall.model_dump(mode="json") for wall in site.walls if wall.x_m + wall.along_x_m < 0.0],
            "hazards": [],
        },
    )
    result = Trial(Order(alone, Us(150 * SECOND))).run()
    assert (result.ended, result.said, result.unready, result.state) == ("finished", "", "", "closed")
    assert [leaf.name for leaf in result.leaves] == ["active"]
    assert result.leaves[0].most_open_deg == pytest.approx(site.leaves.active.open_stop_deg, abs=NEAR_DEG)
    assert result.leaves[0].angle_deg == pytest.approx(0.0, abs=NEAR_DEG)
    assert not [each.text for each in result.happened if "inactive" in each.text]
