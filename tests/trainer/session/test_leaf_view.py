"""What the view says of a leaf is where it is: mirrored from leaf to leaf and from side to side, drives and all."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.mechanics.linkage import Linkage
from sim.mechanics.mounting import Mounting
from sim.site import load_site
from sim.world.world import World
from trainer.session.observe import leaf_views
from trainer.session.view import DriveView, GapView, LeafView

SITES = Path(__file__).parents[3] / "scenarios" / "sites"
RAM = DriveView("linear ram", Mounting((-0.15, 0.15), (0.85, 0.05)))
GAP = GapView(0.07, 0.06, 0.05, 0.13)
OPENING_M = 4.4


def leaf(name: str, angle_deg: float, opens_towards: str = "inside") -> LeafView:
    hinge = (0.0 if name == "active" else OPENING_M, 0.0)
    return LeafView(name, angle_deg, 92.0, 2.19, 1.8, 0.0, True, hinge, opens_towards, RAM, "", 0.0, GAP)  # type: ignore[arg-type]


@pytest.mark.parametrize("angle", [0, 30, 45, 60, 90])
def test_leaves_are_mirror_images(angle: float) -> None:
    """The inactive leaf is the active one mirrored about the middle of the opening; one that opens outwards is
    mirrored about the line of the opening."""
    active, inactive = (leaf(name, angle).spot(2.19, 0.05) for name in ("active", "inactive"))
    assert inactive == (pytest.approx(OPENING_M - active[0]), pytest.approx(active[1]))
    outwards = leaf("active", angle, "outside").spot(2.19, 0.05)
    assert outwards == (pytest.approx(active[0]), pytest.approx(-active[1]))
    turned = math.radians(angle)
    tip = leaf("active", angle).spot(2.19, 0.0)
    assert tip == (pytest.approx(2.19 * math.cos(turned)), pytest.approx(2.19 * math.sin(turned)))


@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("name", ["active", "inactive"])
@pytest.mark.parametrize("angle", [3.0, 47.0, 88.0])
def test_a_leaf_points_where_it_is_pulled_to(name: str, angle: float, side: str) -> None:
    """The angle of a place on a leaf's line is that leaf's angle."""
    there = leaf(name, angle, side)
    assert there.angle_of(there.spot(1.3, 0.0)) == pytest.approx(angle)


@pytest.mark.parametrize(
    ("angle", "length_m"), [(0, 1.00499), (30, 0.91807), (45, 0.86532), (60, 0.81005), (90, 0.70711)]
)
def test_the_ram_that_is_drawn_has_the_length_of_the_facts(angle: float, length_m: float) -> None:
    """Facts 6.4 table: distance of the ram's ends at a = b = 150, L = 850, e = 50 mm."""
    for name in ("active", "inactive"):
        post, bracket = leaf(name, angle).drive_xy_m
        assert math.dist(post, bracket) == pytest.approx(length_m, abs=5e-6)


@pytest.mark.parametrize("path", sorted(SITES.glob("*.yaml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("degrees", [0.0, 31.0, 90.0])
def test_what_is_drawn_of_a_drive_is_what_the_gate_runs_with(path: Path, degrees: float) -> None:
    """Pivots in the view are the plant's own, on every shipped site; an arm's crank and link keep their lengths, and
    every drive stands inside, whichever way its leaves open."""
    world = World(load_site(path))
    for index, drive in enumerate(world.site.drives.fitted):
        world.plant.place_leaf(index, math.radians(degrees))
        seen = leaf_views(world)[index]
        for drawn, there in zip(seen.drive_xy_m, world.plant.drive_points(index), strict=True):
            assert drawn == pytest.approx(there, abs=1e-12)
        assert len(seen.drive_xy_m) == {"articulated arm": 3, "underground": 1}.get(drive.kind, 2)
        if drive.kind == "articulated arm":
            axis, knee, bracket = seen.drive_xy_m
            assert math.dist(axis, knee) == pytest.approx(drive.crank_m)
            assert math.dist(knee, bracket) == pytest.approx(drive.link_m)
        assert seen.drive_xy_m[0][1] >= 0.0


def test_the_gap_at_the_hinge_is_told_as_it_closes() -> None:
    """Facts 6.3 row (60, 50), s 70 mm, which are a site's defaults: 130, 97, 57 and 20 mm at 0, 30, 60 and 90°."""
    world = World(load_site(SITES / "orchard_row.yaml"))
    for degrees, wide_mm in ((0, 130), (30, 97), (60, 57), (90, 20)):
        world.plant.place_leaf(0, math.radians(degrees))
        assert leaf_views(world)[0].gap.now_m * 1000 == pytest.approx(wide_mm, abs=0.5)


@pytest.mark.parametrize(("angle", "lever_mm"), [(0, 134.3), (30, 192.7), (45, 208.4), (60, 211.6), (90, 169.7)])
def test_the_lever_arm_of_a_ram_is_that_of_the_facts(angle: float, lever_mm: float) -> None:
    """Facts 6.4 table: rA·rB·sin γ/d at a = b = 150, L = 850, e = 50 mm, on either leaf."""
    for name in ("active", "inactive"):
        assert leaf(name, angle).lever_m * 1000 == pytest.approx(lever_mm, abs=0.05)


@pytest.mark.parametrize("path", sorted(SITES.glob("*.yaml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("degrees", [1.0, 31.0, 84.0])
def test_the_lever_arm_that_is_told_is_the_one_the_gate_runs_with(path: Path, degrees: float) -> None:
    """Virtual work: a ram runs out by lever times the leaf's turn, and an arm's crank turns for the leaf as the link
    passes by hinge and axis (textbook); a drive in the ground has none. Against the plant's own travel."""
    world = World(load_site(path))
    turn = math.radians(0.01)
    for index, drive in enumerate(world.site.drives.fitted):
        plant = Linkage(world.site, index)
        before, after = (plant.travel(math.radians(degrees) + way * turn) for way in (-1, 1))
        rate = abs(after - before) / (2 * turn)
        world.plant.place_leaf(index, math.radians(degrees))
        seen = leaf_views(world)[index]
        if drive.kind == "underground":
            assert seen.lever_m == 0.0
        elif drive.kind == "articulated arm":
            axis, knee, bracket = seen.drive_xy_m
            twice = (knee[0] - axis[0]) * (bracket[1] - axis[1]) - (knee[1] - axis[1]) * (bracket[0] - axis[0])
            of_crank = abs(twice) / math.dist(knee, bracket)
            assert seen.lever_m / of_crank == pytest.approx(rate, rel=1e-4)
        else:
            assert seen.lever_m == pytest.approx(rate, rel=1e-4)


def test_the_gauge_has_three_heights_before_a_leaf() -> None:
    """Facts 1.4: 50 mm above the lower edge, half height, 300 mm below the upper edge and never above 2500 mm; the
    clearance under the leaf comes on top."""
    for path in sorted(SITES.glob("*.yaml")):
        site = load_site(path)
        for model, seen in zip(site.leaves.hung, leaf_views(World(site)), strict=True):
            under, high = model.ground_clearance_m, model.height_m
            asked = (under + 0.05, under + high / 2, min(under + high - 0.3, 2.5))
            assert seen.gauge_heights_m == pytest.approx(asked, abs=1e-9)
            assert (seen.clearance_m, seen.thickness_m) == (under, model.thickness_m)
