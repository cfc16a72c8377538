"""The page of a measured plan: every point in the table, every curve against its limits, every limit's origin."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sim.bench.force_result import Plan, PointResult, ReadingResult, ReversalResult, plan_of
from sim.instruments.force_gauge import evaluate, mean_of, mean_verdict
from sim.instruments.measuring_points import Point, points
from sim.instruments.reversal import Reversal, judge_reversal
from sim.instruments.rule_sets import EN, RESIDUAL_80, ForceRules
from sim.site import Site, Wall
from trainer import CAUTION
from trainer.reports.force_page import force_html, picture_name, write_force_plan

SITE = Site(name="Larch <Bank>", setting="A & B", walls=(Wall(x_m=-0.6, y_m=1.0),))
BACK = Reversal(1.0, 0.6, 290.0)


def reading(index: int, peak: float, back: Reversal = BACK) -> ReadingResult:
    """A blow, a push and nothing more."""
    time = (0.0, 0.03, 0.09, 0.15, 0.42, 0.5, 6.0)
    force = (0.0, 0.8 * peak, peak, 0.45 * peak, 0.33 * peak, 12.0, 0.0)
    figures = evaluate(time, force, EN.at(300.0))
    told = ReversalResult.of(back, judge_reversal(back))
    return ReadingResult(index, figures, 0.09, told, "part way open: active edge reads pressed", time, force)


def measured(point: Point, peak: float, rules: ForceRules) -> PointResult:
    """A point with three readings about a peak."""
    readings = tuple(reading(n, peak + n) for n in (1, 2, 3))
    figures = [one.figures for one in readings]
    verdict = mean_verdict(figures, rules.at(point.gap_mm))
    assert verdict.outcome != "not judged"
    said = str(verdict).partition(": ")[2]
    return PointResult.of(
        point, rules.at(point.gap_mm), verdict.outcome, said, mean=mean_of(figures), readings=readings
    )


def planned(rules: ForceRules = EN) -> Plan:
    """One leaf closing: one point over the limit, one not measured, the others good; one never goes back."""
    where = points(SITE, "active", "closing")
    rows = [measured(point, 410.0 if place == 4 else 250.0, rules) for place, point in enumerate(where)]
    rows[2] = PointResult.of(where[2], rules.at(50.0), "not measured", "the <leaf> did not come")
    stays = tuple(reading(n, 250.0, Reversal(1.0, None, 4.0)) for n in (1, 2, 3))
    rows[0] = replace(rows[0], readings=stays, reversal="not met")
    return plan_of(SITE, "0" * 8, 3, rules, tuple(rows))


def test_the_page_holds_every_point_and_what_came_of_it(reader: Any) -> None:
    """Each point has its row, its stamp and, where it was measured, a link to its curves; words are text."""
    page = reader(force_html(planned(), EN))
    assert CAUTION in page.words
    assert "with a real, calibrated instrument" in page.words
    assert "Larch <Bank>" in page.words
    assert "Over the limit. 9 points, 24 readings: 1 over the limit, 1 not measured, 7 within limits." in page.words
    assert "the <leaf> did not come" in page.words
    ids = {attributes["id"] for _, attributes in page.tags if attributes.get("id")}
    links = [attributes["href"] for tag, attributes in page.tags if tag == "a"]
    assert len(links) == 8
    assert {link.removeprefix("#") for link in links if link} <= ids
    assert sum(tag == "svg" for tag, _ in page.tags) == 8


def test_a_figure_over_its_limit_is_marked_by_more_than_colour(reader: Any) -> None:
    """The cells that are over stand in a class that the style makes bold as well as red."""
    page = reader(force_html(planned(), EN))
    over = [attributes for tag, attributes in page.tags if tag == "td" and "over" in (attributes.get("class") or "")]
    assert len(over) == 1
    assert "td.over{color:var(--danger);font-weight:700}" in page.style


@pytest.mark.parametrize("rules", [EN, EN.with_residual(RESIDUAL_80)])
def test_every_limit_says_where_it_comes_from(rules: ForceRules, reader: Any) -> None:
    """The residual limit in use, its origin and the alternative stand on the page; so do the rules for going back."""
    words = reader(force_html(planned(rules), rules)).words
    residual = rules.crush.residual
    assert f"at most {residual} after 5 s {residual.origin}" in words
    assert f"The residual limit in use is {residual}. The other that can be chosen is" in words
    assert "begins to go back within 2 s restated on a trade page" in words
    assert "gap under the leaf: more than 101.6 mm and less than 406.4 mm" in words
    assert "It decides nothing above." in words
    assert "active, closing, 50 mm, low never 4" in words
    assert "active, closing, 50 mm, middle 0.60 290" in words


def test_files_are_whole_and_always_the_same(tmp_path: Path) -> None:
    """The page and one picture for each point that was measured, with equal bytes twice; progress counts them."""
    told: list[tuple[int, int]] = []
    plan = planned()
    once = write_force_plan(plan, EN, tmp_path / "a" / "b", lambda done, of: told.append((done, of)))
    twice = write_force_plan(plan, EN, tmp_path / "c")
    assert told == [(n, 8) for n in range(1, 9)]
    assert [path.name for path in once.pictures] == [picture_name(p) for p in plan.points if p.readings]
    assert once.pictures[0].name == "force-active-closing-50mm-low.png"
    for one, two in zip((once.page, *once.pictures), (twice.page, *twice.pictures), strict=True):
        assert one.read_bytes() == two.read_bytes()
    assert all(path.read_bytes().startswith(b"\x89PNG\r\n\x1a\n") for path in once.pictures)


def test_the_drawing_library_is_loaded_for_the_first_picture_and_not_before() -> None:
    """Measuring and printing need no drawing library: it is loaded when a picture is drawn."""
    import subprocess

    program = (
        "import sys\nimport trainer.cli.force, sim.bench.force_plan, trainer.reports.force_page\n"
        "print('matplotlib' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.strip() == "False"
