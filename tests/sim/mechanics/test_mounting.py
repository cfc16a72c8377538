"""Where drives are drawn: inside the gate whichever way it opens, with links that keep their length."""

from __future__ import annotations

import math

import pytest

from sim.mechanics.mounting import Mounting
from sim.mechanics.plant import Plant
from sim.site.drives import AnyDrive, ArticulatedArm, Drive, Drives, Underground
from sim.site.models import Guards, Leaf, Leaves, Site

ARM = ArticulatedArm(crank_m=0.35, link_m=0.55)


def plant_of(drive: AnyDrive, ways: str) -> Plant:
    """Two like leaves on this drive."""
    leaf = Leaf(open_stop_deg=62.0)
    return Plant(
        Site(
            name="Quince Lane, invented",
            opens_towards=ways,  # type: ignore[arg-type]
            leaves=Leaves(active=leaf, inactive=leaf),
            drives=Drives(active=drive, inactive=drive),
            guards=Guards(outer_beam="not fitted"),
        )
    )


RAMS = {
    "inside": Drive(),
    "outside": Drive(post_across_m=0.02, post_inside_m=0.3, retracted_m=0.82, stroke_m=0.4),
}


@pytest.mark.parametrize("ways", ["inside", "outside"])
@pytest.mark.parametrize("kind", ["ram", "arm"])
def test_drives_stand_inside(kind: str, ways: str) -> None:
    """On the plan the post's pivot lies inside, in the same place at every leaf angle; the leaf's pivot lies on its
    leaf: at its radius from the hinge, on the side the leaf opens to; the inactive side is the mirror image."""
    drive = RAMS[ways] if kind == "ram" else ARM
    plant = plant_of(drive, ways)
    width = plant.site.opening_width_m
    posts = set()
    for degrees in (0.0, 20.0, 45.0, 60.0):
        for leaf in (0, 1):
            plant.place_leaf(leaf, math.radians(degrees))
        post, *_, front = plant.drive_points(0)
        posts.add(post)
        assert post[1] > 0.0
        assert math.hypot(*front) == pytest.approx(math.hypot(drive.bracket_along_m, drive.bracket_offset_m))
        direction = math.degrees(math.atan2(front[1], front[0]))
        off = math.degrees(math.atan2(drive.bracket_offset_m, drive.bracket_along_m))
        assert direction == pytest.approx(degrees + off if ways == "inside" else off - degrees, abs=1e-9)
        for one, other in zip(plant.drive_points(0), plant.drive_points(1), strict=True):
            assert other == pytest.approx((width - one[0], one[1]))
    assert len(posts) == 1


@pytest.mark.parametrize("ways", ["inside", "outside"])
def test_crank_and_link_keep_their_length(ways: str) -> None:
    """At every angle the knee is a crank from its axis and a link from the leaf's pivot."""
    plant = plant_of(ARM, ways)
    for degrees in range(63):
        plant.place_leaf(0, math.radians(degrees))
        axis, knee, front = plant.drive_points(0)
        assert math.dist(axis, knee) == pytest.approx(0.35, rel=1e-12)
        assert math.dist(knee, front) == pytest.approx(0.55, rel=1e-9)


def test_a_drive_on_the_pin_is_a_point() -> None:
    """An underground gear is drawn at the hinge and nowhere else."""
    plant = plant_of(Underground(), "inside")
    assert plant.drive_points(0) == ((0.0, 0.0),)
    assert plant.ram_ends(1) == ((plant.site.opening_width_m, 0.0),) * 2


def test_the_reach_of_an_arm_ends_at_its_dead_points() -> None:
    """Between both ends crank and link stand at 8° or more to straight and folded; this arm comes to just 8° short of
    straight behind its shut leaf, and never to a dead point before its open stop."""
    mounting = Mounting.of(ArticulatedArm())
    least, most = mounting.reach(math.radians(92.0))

    def knee(angle: float) -> float:
        squares = 0.30**2 + 0.45**2 - mounting.apart(angle) ** 2
        return math.degrees(math.acos(squares / (2 * 0.30 * 0.45)))

    assert least < 0.0 < math.radians(92.0) < most
    assert knee(least) == pytest.approx(172.0, abs=1e-6)
    assert all(7.999 < knee(least + (most - least) * part / 100) < 172.001 for part in range(101))
    assert knee(0.0) < 160.0
