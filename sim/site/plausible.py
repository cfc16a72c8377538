"""What can't be built is refused with the reason: simple plane geometry, worked out here and nowhere else.

The physics room has its own ram and its own contacts; this one only asks whether the parts fit each other.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from sim.site import one_leaf
from sim.site.drives import ArticulatedArm, RamMounting, Underground
from sim.site.guards import Beam, Edge
from sim.site.motors import InductionMotor

if TYPE_CHECKING:
    from sim.site.models import Site

WIDEST_MEETING_GAP_M: Final = 0.15
"""Above this the leaves don't close the opening [m]. Common practice, no source."""

LEAST_KNEE_DEG: Final = 8.0
"""Nearer than this to straight or folded an arm is at a dead point [°]. Engineering value."""

LEAST_LEVER_M: Final = 0.03
"""With a shorter lever arm a ram or an arm's link pushes through the hinge and bends things [m]. Common practice, no
source."""

RAM_HEAD_M: Final = 0.10
"""Least length of motor, gear and pivots beside the stroke [m]. Engineering value."""


def check(site: Site) -> None:
    """Raise ValueError with every reason why this site can't stand."""
    reasons = one_leaf.contradictions(site)
    if reasons:
        raise ValueError("\n".join(reasons))
    leaves, motors = _leaves(site), _motors(site)
    reasons = [*_widths(site), *leaves, *_drives(site), *motors, *_guards(site), *_walls(site), *_lists(site)]
    if reasons:
        raise ValueError("\n".join(reasons))


def _widths(site: Site) -> list[str]:
    active, strip = site.leaves.active, site.cover_strip
    if strip == one_leaf.NOT_FITTED:
        return _against_post(site)
    inactive = site.leaves.pair[1]
    both = active.width_m + inactive.width_m
    gap = site.opening_width_m - both
    if gap < -1e-9:
        return [
            f"opening_width_m: read {site.opening_width_m:g}, but the leaves are {active.width_m:g} m and "
            f"{inactive.width_m:g} m wide, together {both:g} m: they can't shut between the hinges; "
            f"allowed: {both:g} to {both + WIDEST_MEETING_GAP_M:g}"
        ]
    if gap > WIDEST_MEETING_GAP_M:
        return [
            f"opening_width_m: read {site.opening_width_m:g}, which leaves {gap:.3g} m between the closing edges of "
            f"leaves together {both:g} m wide; allowed: {both:g} to {both + WIDEST_MEETING_GAP_M:g}"
        ]
    shorter = min(active.width_m, inactive.width_m)
    if strip.overlap_m + gap > shorter / 2:
        return [f"cover_strip.overlap_m: read {strip.overlap_m:g}: wider than half a leaf"]
    return []


def _against_post(site: Site) -> list[str]:
    """One leaf fits between its hinge line and the closing post, and closes the opening."""
    width, read = site.leaves.active.width_m, site.opening_width_m
    allowed = f"allowed: {width:g} to {width + WIDEST_MEETING_GAP_M:g}"
    if read < width - 1e-9:
        return [
            f"opening_width_m: read {read:g}, but the leaf is {width:g} m wide: it can't shut before its closing "
            f"post; {allowed}"
        ]
    if read - width > WIDEST_MEETING_GAP_M:
        return [
            f"opening_width_m: read {read:g}, which leaves {read - width:.3g} m between the leaf's closing edge and "
            f"its closing post; {allowed}"
        ]
    return []


def _leaves(site: Site) -> list[str]:
    """What hangs on a leaf or lies under it must be where the leaf is."""
    reasons = []
    for name, leaf in zip(site.leaves.fitted, site.leaves.hung, strict=True):
        place, only = f"leaves.{name}", f"the leaf is only {leaf.width_m:g} m wide"
        if leaf.hinge_offset_m >= leaf.width_m:
            reasons.append(f"{place}.hinge_offset_m: read {leaf.hinge_offset_m:g}: {only}, and none of it is left")
        for index, fitting in enumerate(leaf.fittings):
            if fitting.along_m > leaf.width_m:
                reasons.append(f"{place}.fittings.{index}.along_m: read {fitting.along_m:g}: {only}")
        for index, ridge in enumerate(leaf.ground):
            if ridge.radius_m > leaf.width_m:
                reasons.append(f"{place}.ground.{index}.radius_m: read {ridge.radius_m:g}: {only}")
    return reasons


def _motors(site: Site) -> list[str]:
    """Currents and temperatures that belong together must stand in their order."""
    reasons = []
    for name, drive in zip(site.leaves.fitted, site.drives.fitted, strict=True):
        place, motor, warmth = f"drives.{name}.motor", drive.motor, drive.motor.warmth
        if warmth.cut_out_closes_c >= warmth.cut_out_opens_c:
            reasons.append(
                f"{place}.warmth.cut_out_closes_c: read {warmth.cut_out_closes_c:g}, but the cut-out opens at "
                f"{warmth.cut_out_opens_c:g} °C: it closes again where the winding has cooled; allowed: below that"
            )
        if isinstance(motor, InductionMotor) and motor.stall_a < motor.idle_a:
            reasons.append(
                f"{place}.stall_a: read {motor.stall_a:g}: a motor that is held takes no less than the "
                f"{motor.idle_a:g} A it takes without load; allowed: {motor.idle_a:g} and more"
            )
    return reasons


def ram_length_and_lever(drive: RamMounting, angle_rad: float, opens_inside: bool = True) -> tuple[float, float]:
    """Pivot to pivot [m] and lever arm about the hinge [m, positive when running in opens] at a leaf angle."""
    side = 1.0 if opens_inside else -1.0
    rear = (-drive.post_across_m, side * drive.post_inside_m)
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    along, offset = drive.bracket_along_m, side * drive.bracket_offset_m
    front = (along * cos - offset * sin, along * sin + offset * cos)
    length = math.hypot(front[0] - rear[0], front[1] - rear[1])
    twice_area = front[0] * rear[1] - front[1] * rear[0]
    return length, (twice_area / length if length > 0 else 0.0)


def _drives(site: Site) -> list[str]:
    reasons = []
    for name, leaf, drive in zip(site.leaves.fitted, site.leaves.hung, site.drives.fitted, strict=True):
        place = f"drives.{name}"
        if isinstance(drive, Underground):
            continue
        if drive.bracket_along_m > leaf.width_m:
            reasons.append(
                f"{place}.bracket_along_m: read {drive.bracket_along_m:g}: the leaf is only {leaf.width_m:g} m wide"
            )
            continue
        inside = site.opens_towards == "inside"
        if isinstance(drive, ArticulatedArm):
            reasons.extend(_arm(place, drive, leaf.open_stop_deg, inside))
            continue
        if drive.retracted_m < drive.stroke_m + RAM_HEAD_M:
            reasons.append(
                f"{place}.stroke_m: read {drive.stroke_m:g}: a ram {drive.retracted_m:g} m long run in has room for "
                f"a stroke of {drive.retracted_m - RAM_HEAD_M:g} m at most"
            )
        reasons.extend(_ram(place, drive, leaf.open_stop_deg, inside))
    return reasons


def _ram(place: str, drive: RamMounting, open_stop_deg: float, inside: bool) -> list[str]:
    longest = drive.retracted_m + drive.stroke_m
    steps = max(1, math.ceil(open_stop_deg))
    way = 1.0 if inside else -1.0
    for index in range(steps + 1):
        degrees = open_stop_deg * index / steps
        length, lever = ram_length_and_lever(drive, math.radians(degrees), inside)
        if not drive.retracted_m <= length <= longest:
            return [
                f"{place}: at {degrees:.0f}° its pivots are {length:.3f} m apart, and the ram reaches only from "
                f"{drive.retracted_m:.3f} m (run in) to {longest:.3f} m (run out)"
            ]
        if way * lever < LEAST_LEVER_M:
            return [
                f"{place}: at {degrees:.0f}° its lever arm about the hinge is {way * lever * 1000:.0f} mm; below "
                f"{LEAST_LEVER_M * 1000:.0f} mm it can't turn the leaf (the stop stands at {open_stop_deg:g}°)"
            ]
    return []


def arm_pose(drive: ArticulatedArm, angle_rad: float, opens_inside: bool = True) -> tuple[float, float, float]:
    """Crank axis to leaf pivot [m], angle between crank and link [°], and how far from the hinge the link's line
    passes [m, its sign tells the side] at a leaf angle. Beyond its reach the arm is taken as straight or folded."""
    side = 1.0 if opens_inside else -1.0
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    along, offset = drive.bracket_along_m, side * drive.bracket_offset_m
    front_x, front_y = along * cos - offset * sin, along * sin + offset * cos
    x, y = front_x + drive.axis_across_m, front_y - side * drive.axis_inside_m
    apart = math.hypot(x, y)
    if apart == 0.0:
        return 0.0, 0.0, 0.0
    crank, link = drive.crank_m, drive.link_m
    cosine = max(-1.0, min(1.0, (crank**2 + link**2 - apart**2) / (2.0 * crank * link)))
    at_axis = max(-1.0, min(1.0, (crank**2 + apart**2 - link**2) / (2.0 * crank * apart)))
    out, off = crank * at_axis / apart, side * crank * math.sqrt(1.0 - at_axis**2) / apart
    link_x, link_y = x - (x * out - y * off), y - (y * out + x * off)
    return apart, math.degrees(math.acos(cosine)), (front_x * link_y - front_y * link_x) / link


def _arm(place: str, drive: ArticulatedArm, open_stop_deg: float, inside: bool) -> list[str]:
    """Whether crank and link reach all the way, neither stretch out nor fold up, and can always turn the leaf."""
    longest, shortest = drive.crank_m + drive.link_m, abs(drive.crank_m - drive.link_m)
    steps = max(1, math.ceil(open_stop_deg))
    way = 1.0 if arm_pose(drive, 0.0, inside)[2] >= 0.0 else -1.0
    for index in range(steps + 1):
        degrees = open_stop_deg * index / steps
        apart, knee, lever = arm_pose(drive, math.radians(degrees), inside)
        if not shortest <= apart <= longest:
            return [
                f"{place}: at {degrees:.0f}° crank axis and leaf pivot are {apart:.3f} m apart, and crank and "
                f"link reach only from {shortest:.3f} m to {longest:.3f} m"
            ]
        if not LEAST_KNEE_DEG <= knee <= 180.0 - LEAST_KNEE_DEG:
            return [
                f"{place}: at {degrees:.0f}° crank and link stand at {knee:.0f}° to each other; nearer than "
                f"{LEAST_KNEE_DEG:g}° to straight or folded is a dead point, in which the motor can't turn the leaf"
            ]
        if way * lever < LEAST_LEVER_M:
            return [
                f"{place}: at {degrees:.0f}° its link points past the hinge by {way * lever * 1000:.0f} mm; below "
                f"{LEAST_LEVER_M * 1000:.0f} mm it can't turn the leaf (the stop stands at {open_stop_deg:g}°)"
            ]
    return []


def _guards(site: Site) -> list[str]:
    return [*_edges(site), *_beams(site)]


def _edges(site: Site) -> list[str]:
    """A soft edge ends above where it begins."""
    reasons = []
    for name in ("active edge", "inactive edge"):
        edge = site.guards.device(name)
        if isinstance(edge, Edge) and edge.top_m <= edge.bottom_m:
            reasons.append(
                f"guards.{name.replace(' ', '_')}.top_m: read {edge.top_m:g}, but the profile begins at "
                f"{edge.bottom_m:g} m; allowed: above that"
            )
    return reasons


def _beams(site: Site) -> list[str]:
    reasons = []
    swing = max(leaf.width_m * math.sin(math.radians(min(leaf.open_stop_deg, 90.0))) for leaf in site.leaves.hung)
    for name in ("outer beam", "inner beam"):
        beam = site.guards.device(name)
        if not isinstance(beam, Beam):
            continue
        place = f"guards.{name.replace(' ', '_')}"
        y_m, ends = beam.y_m, sorted((beam.emitter_x_m, beam.receiver_x_m))
        if ends[1] - ends[0] < 0.5:
            reasons.append(
                f"{place}: emitter and receiver stand {ends[1] - ends[0]:g} m apart; at least 0.5 m is needed"
            )
        reasons.extend(_beam_stands(name, place, y_m, swing, site.opens_towards == "inside"))
    return reasons


def _beam_stands(name: str, place: str, y_m: float, swing: float, inside: bool) -> list[str]:
    """A beam stands on its own side, and clear of what the leaves sweep where they open to that side."""
    outer = name == "outer beam"
    out = -y_m if outer else y_m
    swept = outer != inside
    where = "outside" if outer else "inside"
    least = swing if swept else 0.02
    if out >= least:
        return []
    allowed = f"at most {-least:.2f}" if outer else f"{least:.2f} and more"
    because = (
        f"the opening leaves would cut it, they reach {swing:.2f} m {where}"
        if swept
        else f"the {name} stands {where}"
    )
    return [f"{place}.y_m: read {y_m:g}: {because}; allowed: {allowed}"]


def _walls(site: Site) -> list[str]:
    reasons = []
    for name, leaf in zip(site.leaves.fitted, site.leaves.hung, strict=True):
        mirrored = name == "inactive"
        for index, wall in enumerate(site.walls):
            inside = site.opens_towards == "inside"
            mirror = site.opening_width_m if mirrored else None
            place = (wall.x_m, wall.y_m, wall.along_x_m, wall.along_y_m)
            struck = _struck_at(leaf.width_m, leaf.open_stop_deg, place, mirror, inside)
            if struck is not None:
                reasons.append(
                    f"walls.{index}: the {name} leaf would strike '{wall.name}' at {struck:.0f}°, before its open "
                    f"stop at {leaf.open_stop_deg:g}°"
                )
    return reasons


@lru_cache(maxsize=64)
def _struck_at(
    width_m: float,
    open_stop_deg: float,
    wall: tuple[float, float, float, float],
    mirror_about: float | None,
    inside: bool,
) -> float | None:
    """Leaf angle [°] at which a leaf's line first enters a wall (x, y, along x, along y [m]), or None.

    The inner tenth near the hinge is free. Kept: a site changes often, and its walls seldom.
    """
    left, near, along_x, along_y = wall
    steps = max(1, math.ceil(open_stop_deg))
    for index in range(steps + 1):
        degrees = open_stop_deg * index / steps
        cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        for part in range(2, 21):
            along = width_m * part / 20
            x = along * cos if mirror_about is None else mirror_about - along * cos
            y = along * sin if inside else -along * sin
            if left < x < left + along_x and near < y < near + along_y:
                return degrees
    return None


def _lists(site: Site) -> list[str]:
    reasons = []
    for index, row in enumerate(site.hazards):
        missing = [answer for answer in row.covers if answer not in row.choices]
        if missing:
            reasons.append(
                f"hazards.{index}.choices: the right answer '{missing[0]}' is not among the answers offered"
            )
        if not site.right_answers()[row.hazard]:
            reasons.append(f"hazards.{index}.covers: nothing that stands on this site protects '{row.hazard}'")
    listed: tuple[tuple[str, list[str]], ...] = (
        ("hazards", [row.hazard for row in site.hazards]),
        ("transmitters", [item.tag for item in site.transmitters]),
        ("controls", [*site.controls]),
    )
    for key, values in listed:
        twice = sorted({value for value in values if values.count(value) > 1})
        if twice:
            reasons.append(f"{key}: '{twice[0]}' is listed twice")
    return reasons
