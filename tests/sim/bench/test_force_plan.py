"""The plan of force measurement: what is read is what the gate did, the worst point decides, nothing is made up."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from sim.bench.force_plan import Measured, Progress, measure
from sim.bench.force_result import Plan, PointResult, worst
from sim.instruments.force_gauge import Reading, evaluate, judge, mean_of
from sim.instruments.measuring_points import points
from sim.instruments.rule_sets import CRUSH, EN, FREE_IMPACT, RESIDUAL_80
from sim.mechanics.yard import Body
from sim.site import Edge, Site, load_site
from sim.units import LEAVES

ROOT = Path(__file__).resolve().parents[3]
SITE = load_site(ROOT / "scenarios/sites/orchard_row.yaml")


def with_guards(**guards: object) -> Site:
    """The reference site with other guards."""
    return SITE.model_copy(update={"guards": SITE.guards.model_copy(update=guards)})


BARE = with_guards(active_edge="not fitted", inactive_edge="not fitted")
"""The same gate without soft edges."""


@pytest.fixture(scope="module")
def told() -> list[Progress]:
    return []


@pytest.fixture(scope="module")
def plan(told: list[Progress]) -> Plan:
    """The whole plan of one leaf that closes, on the gate with its soft edges."""
    return measure(SITE, ["active"], ["closing"], told=told.append)


@pytest.fixture(scope="module")
def bare() -> Plan:
    """The openings of 50 and 700 mm, both directions, without the soft edges."""
    return measure(BARE, ["active"], ["closing", "opening"], openings_mm=(50.0, 700.0))


def place(plan: Plan, direction: str, gap_mm: float, height: str = "middle") -> PointResult:
    """One point of a plan."""
    return next(p for p in plan.points if (p.direction, p.gap_mm, p.height) == (direction, gap_mm, height))


def test_a_leaf_and_a_direction_have_twenty_seven_readings(plan: Plan, told: list[Progress]) -> None:
    """Three openings, three heights, three readings (facts C74), and each point is told as it is done."""
    assert plan.readings == 27
    assert len(plan.points) == 9
    assert [progress.done for progress in told] == list(range(1, 10))
    assert {progress.of for progress in told} == {9}
    assert tuple(progress.point for progress in told) == plan.points


def test_a_sound_gate_with_soft_edges_passes(plan: Plan) -> None:
    """The edge takes the blow and the gate goes back: every point within limits, and reversal as well."""
    assert plan.outcome == "within limits"
    assert plan.is_good
    for point in plan.points:
        assert point.because == "all limits met"
        assert point.reversal == "met"
        for reading in point.readings:
            assert reading.controller == "part way open: active edge reads pressed"


def test_the_mean_of_the_readings_is_judged(plan: Plan, bare: Plan) -> None:
    """The point's figures are the mean of its readings', and its outcome is what the rules say to that mean."""
    for measured in (plan, bare):
        for point in measured.points:
            rules = EN.at(point.gap_mm)
            assert point.rules == rules.name
            assert point.mean == mean_of([reading.figures for reading in point.readings])
            assert judge(point.mean, rules).outcome == point.outcome


def test_figures_are_those_of_the_curve(plan: Plan) -> None:
    """Whoever evaluates the curve that is handed out finds its figures; it is thinned only after the first second."""
    for reading in place(plan, "closing", 300.0).readings:
        again = evaluate(reading.time_s, reading.force_n, CRUSH)
        assert again.peak_n == reading.figures.peak_n
        assert again.above_static_s == pytest.approx(reading.figures.above_static_s, abs=1e-9)
        assert again.is_whole
        assert reading.time_s[-1] >= 5.0


def test_readings_differ_and_are_the_same_again(plan: Plan) -> None:
    """The same seed measures the same to the bit; another seed's gauge reads the same gate a little differently."""
    again = measure(SITE, ["active"], ["closing"], openings_mm=(50.0,))
    assert again.points == tuple(point for point in plan.points if point.gap_mm == 50.0)
    other = measure(SITE, ["active"], ["closing"], openings_mm=(50.0,), seed=5)
    peaks = [[r.figures.peak_n for point in one.points for r in point.readings] for one in (again, other)]
    assert peaks[0] != peaks[1]
    assert len(set(peaks[0])) > 1
    assert max(abs(a - b) / a for a, b in zip(*peaks, strict=True)) < 0.1
    assert all(peak == round(peak) for peak in peaks[0]), "the gauge shows whole newtons (facts 1.3)"


def test_measuring_more_changes_nothing(plan: Plan) -> None:
    """Each leaf and direction has a gate of its own: measured together they read as measured alone."""
    both = measure(SITE, LEAVES, ["closing"], openings_mm=(50.0,))
    assert both.points[:3] == tuple(point for point in plan.points if point.gap_mm == 50.0)
    assert {point.leaf for point in both.points[3:]} == {"inactive"}


def test_without_a_soft_edge_the_worst_point_decides(bare: Plan) -> None:
    """Near the stop the controller takes the gauge for it and goes on pushing: over the limit, and so is the plan."""
    point = place(bare, "closing", 50.0)
    assert point.outcome == "over the limit"
    assert point.reversal == "not met"
    assert point.latest_start_s is None
    assert {reading.controller for reading in point.readings} == {"closed"}
    assert "N after 0.75 s, at most 150 N" in point.because
    assert bare.outcome == "over the limit"
    assert not bare.is_good


def test_a_gap_above_500_mm_is_a_free_impact(bare: Plan) -> None:
    """The rule set goes by the gap: 1400 N where nothing can be crushed (facts 1.2)."""
    assert {point.gap_mm: point.rules for point in bare.points} == {50.0: CRUSH.name, 700.0: FREE_IMPACT.name}
    assert [rules.name for rules in bare.rules] == [CRUSH.name, FREE_IMPACT.name]


def test_the_leaf_is_met_while_it_opens(bare: Plan) -> None:
    """Opening, the gauge stands before the open stop; the leaf comes at its speed, is met, and backs off."""
    point = place(bare, "opening", 700.0)
    assert point.mean is not None
    assert point.mean.peak_n > 100.0
    assert point.reversal == "met"
    for reading in point.readings:
        assert 0.02 < reading.edge_speed_m_s < 0.5
        assert reading.controller.startswith("part way open: obstacle: active leaf")


def test_an_edge_that_does_not_reach_so_low_does_not_help_there() -> None:
    """The height of the gauge is the height that is met: below a soft edge the leaf is hard, above it is not."""
    fitted = with_guards(active_edge=Edge(bottom_m=0.4))
    found = measure(fitted, ["active"], ["closing"], openings_mm=(300.0,))
    low, middle, high = (point.mean.peak_n for point in found.points if point.mean is not None)
    assert low > 2.0 * middle
    assert high == pytest.approx(middle, rel=0.1)


def test_the_residual_limit_is_a_parameter_that_is_told(bare: Plan) -> None:
    """Under 80 N the same curves are judged by 80 N; the plan says which limit was used and where it comes from."""
    other = measure(BARE, ["active"], ["closing"], openings_mm=(50.0,), rules=EN.with_residual(RESIDUAL_80))
    assert (bare.residual.limit_n, bare.residual.other_n) == (25.0, 80.0)
    assert (other.residual.limit_n, other.residual.other_n) == (80.0, 25.0)
    assert "EN 16005" in other.residual.origin
    assert other.points[0].rules == "EN, crush zone, residual 80 N"
    for one, two in zip(place(bare, "closing", 50.0, "low").readings, other.points[0].readings, strict=True):
        assert one.force_n == two.force_n
        assert one.figures.above_residual_s > two.figures.above_residual_s


def test_what_the_gate_does_not_have_is_not_measured() -> None:
    """A point that can't be is said in words, has no figures, and decides nothing."""
    leaf = SITE.leaves.active.model_copy(update={"open_stop_deg": 50.0})
    site = SITE.model_copy(update={"leaves": SITE.leaves.model_copy(update={"active": leaf, "inactive": leaf})})
    found = measure(site, ["active"], ["opening"], openings_mm=(2000.0, 300.0))
    gone, there = found.points[:3], found.points[3:]
    for point in gone:
        assert (point.outcome, point.is_possible, point.mean, point.readings) == ("not measured", False, None, ())
        assert point.because == "the opening is only 1690 mm with the leaf shut"
    assert all(point.readings for point in there)
    assert found.outcome == worst(there)


def test_a_gate_that_can_not_be_brought_there_says_so() -> None:
    """No button that opens: nothing is measured, each row names what is missing, and that is no pass."""
    silent = SITE.model_copy(update={"controls": ("close button",)})
    found = measure(silent, ["active"], ["opening"], openings_mm=(300.0,))
    assert found.readings == 0
    assert found.outcome == "not measured"
    assert not found.is_good
    assert {point.because for point in found.points} == {
        "this gate has none of these controls: open button, step button"
    }


def test_a_gate_with_one_button_is_measured_with_it() -> None:
    """The single button does what both buttons do, in as many presses as it needs."""
    single = SITE.model_copy(update={"controls": ("step button",)})
    found = measure(single, ["inactive"], ["closing"], openings_mm=(300.0,))
    assert found.outcome == "within limits"
    assert found.readings == 9


def test_a_leaf_that_does_not_come_is_not_measured() -> None:
    """Something stands in the way, the leaf goes back before it meets the gauge: the row says where both stand."""
    measured = Measured(SITE, EN, 0)
    measured.bring(fully_open=True)
    measured.world.people.place(Body("test body", 1.2, 1.0, lying=False))
    row = measured.point(points(SITE, "active", "closing", (300.0,))[0])
    assert (row.outcome, row.mean, row.readings) == ("not measured", None, ())
    assert row.because == (
        "the active leaf did not reach the gauge at 8.5°, it stands at 92.3°: open, after obstacle: active leaf "
        "needed more effort than learned"
    )


def test_the_worst_of_the_points_decides(plan: Plan) -> None:
    """Over the limit beats not measured, that beats marginal; a point the gate doesn't have counts for nothing."""
    good = plan.points[0]
    marginal, missing, over = (replace(good, outcome=one) for one in ("marginal", "not measured", "over the limit"))
    gone = replace(missing, is_possible=False)
    assert worst([good, marginal]) == "marginal"
    assert worst([good, gone]) == "within limits"
    assert worst([good, marginal, missing]) == "not measured"
    assert worst([missing, over, good]) == "over the limit"
    assert worst([gone]) == "not measured"


def test_the_plan_is_base_types(plan: Plan) -> None:
    """Written as JSON and read again it is equal; curves come only when they are asked for."""
    data = plan.as_base_types()
    again = json.loads(json.dumps(data, allow_nan=False))
    assert [list(row) for row in again["rules"][0]["limits"]] == [list(row) for row in plan.rules[0].limits]
    first = again["points"][0]["readings"][0]
    assert "force_n" not in first
    assert Reading(**first["figures"]) == plan.points[0].readings[0].figures
    full = plan.as_base_types(curves=True)["points"][0]["readings"][0]
    assert tuple(full["force_n"]) == plan.points[0].readings[0].force_n


@pytest.mark.slow
@pytest.mark.parametrize("site", sorted(path.stem for path in (ROOT / "scenarios/sites").glob("*.yaml")))
def test_every_shipped_site_can_be_measured(site: str) -> None:
    """Every leaf, both ways, whatever drives it: every point is read three times, and closing is within limits."""
    gate = load_site(ROOT / f"scenarios/sites/{site}.yaml")
    found = measure(gate, gate.leaves.fitted, ["closing", "opening"], openings_mm=(300.0,))
    assert found.readings == 18 * len(gate.leaves.fitted)
    assert {point.outcome for point in found.points if point.direction == "closing"} == {"within limits"}
