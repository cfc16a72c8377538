"""Force readings as a screen sees them: which point of the plan they belong to, and what their mean comes to."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sim.instruments.force_gauge import Reading
from sim.instruments.force_stand import ForceRecord
from sim.instruments.toolbag import Toolbag
from sim.site import load_site
from sim.world.world import World
from trainer.session.force_book import ForceBook, PlanPoint

SITE = Path(__file__).resolve().parents[3] / "scenarios" / "sites" / "orchard_row.yaml"


@pytest.fixture
def world() -> World:
    """A gate as it was built, with a bag."""
    return World(load_site(SITE), seed=0, bag=Toolbag)


def _read(point: PlanPoint, peak_n: float = 300.0, beside_mm: float = 0.0, rest: str = "rigid rest") -> ForceRecord:
    """A reading at a point, or somewhat beside it."""
    figures = Reading(peak_n, 0.3, 60.0, 0.8, 5.0)
    time, force = np.array([0.0, 0.1, 6.0]), np.array([0.0, peak_n, 5.0])
    gap, height = point.gap_mm + beside_mm, point.height_mm + beside_mm
    return ForceRecord(point.leaf, gap, height, rest, time, force, figures, "within limits")


def test_the_plan_is_three_openings_at_three_heights_of_each_leaf(world: World) -> None:
    """Facts 1.4: 50, 300 and 500 mm; 50 mm above the lower edge, half height, 300 mm below the upper edge."""
    plan = ForceBook().plan(world, [], ())
    assert len(plan) == 9 * len(world.site.leaves.fitted)
    leaf = world.site.leaves.pair[0]
    under = leaf.ground_clearance_m * 1000
    high = leaf.height_m * 1000
    heights = sorted({round(point.height_mm, 6) for point in plan if point.leaf == "active"})
    assert heights == pytest.approx([under + 50, under + high / 2, under + min(high - 300, 2500 - under)])
    assert {point.gap_mm for point in plan} == {50.0, 300.0, 500.0}
    assert {(point.readings, point.verdict, point.mean_peak_n) for point in plan} == {((), "", None)}


def test_three_readings_make_a_point_and_their_mean_is_judged(world: World) -> None:
    """Facts 1.3 and 1.4: mean of three, 400 N where a gap closes; nothing is judged before."""
    book = ForceBook()
    point = book.plan(world, [], ())[4]
    records = [_read(point, peak) for peak in (390.0, 420.0)]
    two = book.plan(world, records, (True, True))[4]
    assert (two.counting, two.verdict, two.mean_peak_n) == (2, "not judged", 405.0)
    three = book.plan(world, [*records, _read(point, 420.0)], (True,) * 3)[4]
    assert (three.counting, three.verdict, three.mean_peak_n) == (3, "over the limit", 410.0)
    assert "410" in three.told


def test_what_does_not_count_is_shown_and_not_judged(world: World) -> None:
    """A reading that was outdated stands there, and its mean is gone; the verdict goes with it."""
    book = ForceBook()
    point = book.plan(world, [], ())[0]
    records = [_read(point)] * 3
    assert book.plan(world, records, (True, True, True))[0].verdict == "within limits"
    old = book.plan(world, records, (False, False, False))[0]
    assert (old.readings, old.counting, old.mean_peak_n, old.verdict) == ((0, 1, 2), 0, None, "not judged")


@pytest.mark.parametrize(("beside_mm", "belongs"), [(20.0, True), (26.0, False)])
def test_a_reading_belongs_to_the_point_it_is_near(world: World, beside_mm: float, belongs: bool) -> None:
    """The gauge stands within half its face of the point."""
    book = ForceBook()
    point = book.plan(world, [], ())[0]
    here = book.plan(world, [_read(point, beside_mm=beside_mm)], (True,))
    assert [bool(p.readings) for p in here].count(True) == int(belongs)


def test_what_was_built_is_kept_until_something_changes(world: World) -> None:
    """A look of every frame costs nothing: the same objects come back."""
    book = ForceBook()
    records = [_read(book.plan(world, [], ())[0])]
    curves, plan = book.curves(records), book.plan(world, records, (True,))
    assert book.curves(records) is curves
    assert book.plan(world, records, (True,)) is plan
    records.append(records[0])
    assert book.curves(records)[0] is curves[0]
    assert len(book.curves(records)) == 2
