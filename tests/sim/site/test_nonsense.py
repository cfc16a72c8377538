"""A site that makes no sense is refused with the reason, at the line and key that can mend it; a poor one is not."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from sim.site import ArticulatedArm, Site
from sim.site.plausible import arm_pose

Refusals = Callable[[str], list[str]]

SHORT_ARM = "drives:\n  active:\n    {kind: articulated arm, crank_m: 0.2}\n"
DEAD_ARM = """\
leaves: {active: {open_stop_deg: 120}}
drives:
  active: {kind: articulated arm, link_m: 0.429}
"""
PAST_HINGE = """\
leaves: {active: {open_stop_deg: 115}}
drives:
  active:
    {kind: articulated arm, axis_across_m: 0.93, axis_inside_m: 0.13, crank_m: 1.17, link_m: 0.7,
     bracket_along_m: 0.3, bracket_offset_m: 0.25}
"""
CUT_OUT = "drives: {inactive: {motor: {warmth: {cut_out_opens_c: 100, cut_out_closes_c: 110}}}}\n"
HELD = "drives: {active: {kind: underground, motor: {kind: mains induction, idle_a: 2, stall_a: 1}}}\n"
STONE = (
    "leaves:\n  active:\n    ground:\n    - {name: stone, at_deg: 60, reach_deg: 5, height_m: 0.1, radius_m: 2.5}\n"
)
LOCK = "leaves:\n  inactive: {fittings: [{name: lock, mass_kg: 5, along_m: 2.4}]}\n"
NARROW = """\
opening_width_m: 1.02
leaves:
  active: {width_m: 0.5, hinge_offset_m: 0.5}
  inactive: {width_m: 0.5}
drives: {active: {kind: underground}, inactive: {kind: underground}}
"""


@pytest.mark.parametrize(
    ("text", "place", "reason"),
    [
        (
            SHORT_ARM,
            "4:3 drives.active",
            "at 0° crank axis and leaf pivot are 0.728 m apart, and crank and link reach",
        ),
        (DEAD_ARM, "5:3 drives.active", "nearer than 8° to straight or folded is a dead point"),
        (PAST_HINGE, "5:3 drives.active", "its link points past the hinge by"),
        (STONE, "6:62 leaves.active.ground.0.radius_m", "read 2.5: the leaf is only 2 m wide"),
        (LOCK, "4:50 leaves.inactive.fittings.0.along_m", "read 2.4: the leaf is only 2 m wide"),
        (NARROW, "5:26 leaves.active.hinge_offset_m", "the leaf is only 0.5 m wide, and none of it is left"),
        (CUT_OUT, "3:60 drives.inactive.motor.warmth.cut_out_closes_c", "but the cut-out opens at 100 °C"),
        (HELD, "3:80 drives.active.motor.stall_a", "no less than the 2 A it takes without load"),
        (
            "guards: {active_edge: {bottom_m: 1.0, top_m: 0.8}}\n",
            "3:39 guards.active_edge.top_m",
            "begins at 1 m; allowed: above that",
        ),
    ],
)
def test_what_makes_no_sense_is_refused_in_words(refusals: Refusals, text: str, place: str, reason: str) -> None:
    """Each reason names what was read and what is allowed, with file, line, column and key."""
    said = refusals(text)
    assert any(sentence.startswith(f"yard.yaml:{place}: ") and reason in sentence for sentence in said), said


def test_a_key_of_another_kind_of_drive_is_refused(refusals: Refusals) -> None:
    """An underground gear has no crank; the nearest keys it has are not guessed into one."""
    said = refusals("drives: {active: {kind: underground, crank_m: 0.3}}\n")
    assert len(said) == 1
    assert "crank_m" in said[0]
    assert said[0].startswith("yard.yaml:3:38 ")


def test_an_unknown_kind_says_which_there_are(refusals: Refusals) -> None:
    """All four kinds of drive, and both kinds of motor, are named to whoever writes another."""
    said = " ".join(refusals("drives: {active: {kind: chain}}\n"))
    assert all(kind in said for kind in ("linear ram", "hydraulic ram", "articulated arm", "underground"))
    said = " ".join(refusals("drives: {active: {motor: {kind: petrol}}}\n"))
    assert all(kind in said for kind in ("direct current", "mains induction"))


@pytest.mark.parametrize(
    "text",
    [
        "leaves: {active: {hinge_tilt_deg: 5, hinge_tilt_towards_deg: 90, mass_kg: 600}}\n",
        "weather: {wind_class: class 4, gust_intensity: 0.6}\n",
        "leaves: {active: {open_stop_fitted: false, closed_stop_fitted: false}}\n",
        "drives: {active: {motor: {winding_open: true}}}\n",
        "drives: {active: {kind: underground, motor: {kind: mains induction, fitted_uf: 0}}}\n",
        "drives: {active: {key: sheared, sensing: {kind: none}}}\n",
        STONE.replace("2.5", "1.9"),
    ],
)
def test_a_gate_that_cannot_work_is_still_a_site(site_from: Callable[[str], Site], text: str) -> None:
    """What is worn, broken, missing, blocked or too weak may stand there: that is what faults are made of."""
    assert site_from(text).format == "gudgeon-site/1"


def test_the_arm_of_the_example() -> None:
    """Facts 6.5: crank 300, link 450, axis (−100, 200), leaf point at 600 mm: D = 728 mm shut, and a crank that turns
    1.93 times as fast as the leaf, which is the link's distance from the hinge over its distance from the axis."""
    apart, knee, lever = arm_pose(ArticulatedArm(), 0.0)
    assert apart == pytest.approx(math.hypot(0.7, 0.2), abs=1e-12)
    inner = (0.3**2 + 0.45**2 - apart**2) / (2 * 0.3 * 0.45)
    assert knee == pytest.approx(math.degrees(math.acos(inner)), abs=1e-9)
    from_axis = 0.3 * math.sin(math.radians(knee))
    assert abs(lever) / from_axis == pytest.approx(1.93, abs=0.006)


@pytest.mark.parametrize("degrees", [0.0, 20.0, 45.0, 88.0])
def test_an_arm_outside_is_the_mirror_image(degrees: float) -> None:
    """A leaf that opens outwards on an arm inside is a leaf that opens inwards on an arm outside: all lengths alike,
    the link on the other side of the hinge."""
    arm = ArticulatedArm(crank_m=0.35, link_m=0.55)
    apart, knee, lever = arm_pose(arm, math.radians(degrees), opens_inside=False)
    mirrored = arm_pose(arm, -math.radians(degrees), opens_inside=True)
    assert (apart, knee, -lever) == pytest.approx(mirrored, abs=1e-12)
