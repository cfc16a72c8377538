"""The figures beside a close-up: lengths in millimetres, as they are at the present angle."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sim.mechanics.leaf import hinge_gap
from trainer.language import _
from trainer.window.closeup.subject import Subject
from trainer.window.plan.drives import drive_words
from trainer.window.plan.hinges import held_words
from trainer.window.plan.leaves import degrees, leaf_name
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import GapView, LeafView, View

Row = tuple[str, str]
"""(what it is, how much)."""


def millimetres(length_m: float) -> str:
    """A length in whole millimetres."""
    return _("{length} mm").format(length=f"{round(length_m * 1000)}".replace("-", "−"))


def gap_at(gap: GapView, angle_deg: float) -> float:
    """How wide the gap at the hinge is at a leaf angle [m]."""
    return hinge_gap(gap.post_m, gap.heel_along_m, gap.heel_across_m, math.radians(angle_deg))


def narrowest(leaf: LeafView) -> tuple[float, float]:
    """The least width of the gap at the hinge from shut to fully open [m], and the leaf angle there [°].

    The gap is post + R·cos(θ + φ), (R, φ) the heel's corner seen from the hinge: it falls until θ = π − φ.
    """
    gap = leaf.gap
    turning = 180.0 - math.degrees(math.atan2(gap.heel_across_m, gap.heel_along_m))
    angle = min(leaf.open_stop_deg, turning)
    return min((gap_at(gap, each), each) for each in (angle, 0.0))


def between_edges(view: View) -> float:
    """Clear distance from closing edge to closing edge, or to the closing post, as the leaves stand [m]."""
    tips = [leaf.spot(leaf.width_m, 0.0) for leaf in view.leaves]
    other = tips[1] if len(tips) > 1 else (view.opening_m, 0.0)
    return math.dist(tips[0], other)


def when_shut(view: View) -> float:
    """The same with all leaves shut [m]."""
    return view.opening_m - sum(leaf.width_m for leaf in view.leaves)


def figures(view: View, subject: Subject) -> tuple[Row, ...]:
    """What is written beside a close-up."""
    leaf = subject.of(view)
    if subject.kind == "hinge":
        return _of_hinge(leaf)
    if subject.kind == "drive":
        return _of_drive(leaf)
    if subject.kind == "leaf":
        return _of_leaf(leaf)
    return _of_meeting(view)


def _of_hinge(leaf: LeafView) -> tuple[Row, ...]:
    least, angle = narrowest(leaf)
    at = _("{wide} at {angle}°")
    rows = [
        (_("gap now"), at.format(wide=millimetres(leaf.gap.now_m), angle=degrees(leaf.angle_deg))),
        (_("gap with the leaf shut"), millimetres(gap_at(leaf.gap, 0.0))),
        (_("narrowest on its way"), at.format(wide=millimetres(least), angle=degrees(angle))),
    ]
    if leaf.gap.held:
        rows.append((_("held in it"), held_words(leaf)))
    return tuple(rows)


def _of_drive(leaf: LeafView) -> tuple[Row, ...]:
    mounting = leaf.drive.mounting
    rows = [(_("drive"), drive_words(leaf))]
    if len(leaf.drive_xy_m) == 1:
        return (*rows, (_("lever arm"), _("none: it turns the hinge pin itself")))
    ends = (0.0, math.radians(leaf.open_stop_deg))
    shut, opened = (millimetres(mounting.lever(end)) for end in ends)
    now = _("{wide} at {angle}°").format(wide=millimetres(leaf.lever_m), angle=degrees(leaf.angle_deg))
    rows += [
        (_("lever arm now"), now),
        (_("shut, fully open"), _("{shut}, {opened}").format(shut=shut, opened=opened)),
    ]
    if mounting.crank_m:
        told = _("crank {crank}, link {link}")
        rows.append((_("arm"), told.format(crank=millimetres(mounting.crank_m), link=millimetres(mounting.link_m))))
    else:
        rows.append((_("pivot to pivot"), millimetres(mounting.apart(math.radians(leaf.angle_deg)))))
    return tuple(rows)


def _of_leaf(leaf: LeafView) -> tuple[Row, ...]:
    size = _("{wide:.2f} m wide, {high:.2f} m high").format(wide=leaf.width_m, high=leaf.height_m)
    heights = ", ".join(f"{round(height * 1000)}" for height in leaf.gauge_heights_m)
    return (
        (_("leaf"), size),
        (_("clearance to the ground"), _("{wide}, at the hinge").format(wide=millimetres(leaf.clearance_m))),
        (_("force gauge above the ground at"), _("{heights} mm").format(heights=heights)),
    )


def _of_meeting(view: View) -> tuple[Row, ...]:
    rows = [
        (_("between the edges now"), millimetres(between_edges(view))),
        (_("between the edges when shut"), millimetres(when_shut(view))),
    ]
    if not view.strip_carrier:
        return (*rows, (_("cover strip"), _("none")))
    face = _("on the {leaf}, inside face") if view.strip_face == "inside" else _("on the {leaf}, outside face")
    rows.append((_("cover strip"), face.format(leaf=leaf_name(view.strip_carrier))))
    rows.append((_("it reaches over the other leaf"), millimetres(view.strip_overlap_m)))
    if view.mode == "practice":  # in an assessed attempt this is for the person to see
        told = _("the {leaf}; it closes last").format(leaf=leaf_name(view.opens_first))
        rows.append((_("must open first"), told))
    return tuple(rows)


def as_line(row: Row) -> str:
    """A figure as one line."""
    return _("{what}: {value}").format(what=first_upper(row[0]), value=row[1])
