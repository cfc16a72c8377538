"""Places of a leaf that somebody waits for: they end a run at a scan instant and change nothing else."""

from __future__ import annotations

import math

from sim.mechanics.plant import DriveNetwork, Mark, Plant, Reason
from sim.site import Site
from sim.units import SCAN, SECOND, Us

AT = math.radians(30.0)


def test_a_mark_ends_the_run_at_the_first_scan_instant_at_which_the_leaf_is_there(
    plant: Plant, net: DriveNetwork
) -> None:
    """Named, on the 10 ms grid, and not one instant later."""
    plant.set_network(net)
    plant.set_marks([Mark("active leaf at 30°", 0, AT, True)])
    plant.command(0, 0.5)
    stop = plant.run_to(Us(20 * SECOND))
    assert (stop.reason, stop.culprit) == (Reason.MARK, "active leaf at 30°")
    assert stop.time % SCAN == 0
    assert plant.angle(0) >= AT
    assert plant.angle(0) - abs(plant.speed(0)) * 0.0101 < AT


def test_marks_and_their_keyframe_change_no_movement(site: Site, net: DriveNetwork) -> None:
    """A run with marks, kept and restored on its way, ends in the same bits as one without."""
    plain, marked = Plant(site), Plant(site)
    for each in (plain, marked):
        each.set_network(net)
        each.command(0, 0.6)
    marked.set_marks([Mark("there", 0, AT, True)])
    assert marked.run_to(Us(20 * SECOND)).reason is Reason.MARK
    marked.set_marks([Mark("back", 0, AT / 2.0, False)])
    again = Plant(site)
    again.restore(marked.keyframe())
    for each in (plain, again):
        each.run_to(Us(12 * SECOND))
        each.command(0, -0.6)
    assert again.run_to(Us(40 * SECOND)).reason is Reason.MARK
    assert again.angle(0) <= AT / 2.0
    plain.run_to(again.now)
    assert again.physical() == plain.physical()


def test_a_leaf_at_rest_costs_no_stop(plant: Plant, net: DriveNetwork) -> None:
    """A mark that nobody passes lets an hour pass in one go."""
    plant.set_network(net)
    plant.set_marks([Mark("there", 0, AT, True)])
    stop = plant.run_to(Us(3600 * SECOND))
    assert stop.reason is Reason.REACHED
