"""Measuring force: the plan on one gate, its table, its report."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Final, NoReturn, TypeVar

import typer

from trainer import CAUTION
from trainer.cli import printed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sim.bench.force_plan import Progress
    from sim.bench.force_result import Plan, PointResult
    from sim.instruments.rule_sets import ForceRules

_Name = TypeVar("_Name", bound=str)

INSTRUMENT: Final = "On a real gate force is measured with a real, calibrated instrument."


def measure(
    file: Path, leaf: str, direction: str, residual: int, seed: int, as_json: bool, out: Path | None
) -> NoReturn:
    """Measure, print, write, and end with an exit code: 0 only if every point was measured and is within limits."""
    from sim.errors import CannotLearn
    from sim.instruments.rule_sets import EN, RESIDUALS
    from sim.units import DIRECTIONS, LEAVES

    chosen = _chosen(leaf, LEAVES, "--leaf")
    directions = _chosen(direction, DIRECTIONS, "--direction")
    if residual not in RESIDUALS:
        allowed = ", ".join(str(limit) for limit in RESIDUALS)
        raise typer.BadParameter(f"{residual} N is no residual limit; allowed: {allowed}", param_hint="--residual")
    rules = EN.with_residual(RESIDUALS[residual])
    from sim.site import load_site

    site = load_site(file)
    leaves = tuple(name for name in chosen if name in site.leaves.fitted)
    if not leaves:
        raise typer.BadParameter(f"{site.name} has one leaf, the active one", param_hint="--leaf")
    if out is not None:
        _make(out)
    from sim.bench import force_plan

    printed.note(f"{site.name}: the gate is made ready as a good installer leaves it.")
    try:
        plan = force_plan.measure(site, leaves, directions, rules=rules, seed=seed, told=_told)
    except CannotLearn as error:
        printed.stop(
            f"{error}\nNothing is measured on a gate that can't run; `gudgeon run {file}` shows why it can't."
        )
    files = _written(plan, rules, out) if out is not None else []
    if as_json:
        printed.as_json({**plan.as_base_types(), "files": [str(path) for path in files]})
    else:
        _print(plan)
        if out is not None:
            print(f"The report and {len(files) - 1} pictures are in {out}.")
        print(f"{CAUTION} {INSTRUMENT}")
    raise SystemExit(0 if plan.is_good else 1)


def _chosen(given: str, allowed: Sequence[_Name], option: str) -> tuple[_Name, ...]:
    """One of what is allowed, or all of it."""
    if given == "both":
        return tuple(allowed)
    if given not in allowed:
        raise typer.BadParameter(f"read '{given}'; allowed: {', '.join(allowed)}, both", param_hint=option)
    return tuple(one for one in allowed if one == given)


def _make(folder: Path) -> None:
    """The folder for the report, before anything is measured for it."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        printed.stop(f"{folder}: no folder can be made here ({error.strerror})")


def _told(progress: Progress) -> None:
    point = progress.point
    peak = f", peak {point.mean.peak_n:.0f} N" if point.mean is not None else ""
    printed.note(f"{progress.done} of {progress.of}: {point.title}: {point.outcome}{peak}")


def _written(plan: Plan, rules: ForceRules, out: Path) -> list[Path]:
    from trainer.reports.force_page import write_force_plan

    try:
        written = write_force_plan(plan, rules, out, lambda done, of: printed.note(f"picture {done} of {of}"))
    except OSError as error:
        printed.stop(f"{error.filename or out}: can't be written ({error.strerror})")
    return [written.page, *written.pictures]


def _print(plan: Plan) -> None:
    """A table for each leaf and direction, and the rules with where they come from."""
    print(f"{plan.site}, seed {plan.seed}, {plan.weather}: {plan.counted}")
    residual = f"{plan.residual.limit_n:g} N"
    heads = (
        "gap\n[mm]",
        "height\n[mm]",
        "peak\n[N]",
        "above\n150 N\n[s]",
        "after\n0.75 s\n[N]",
        f"above\n{residual}\n[s]",
        "after\n5 s\n[N]",
        "goes\nback\n[mm]",
        "begins\nafter\n[s]",
        "verdict",
    )
    for name, points in groupby(plan.points, key=lambda point: f"{point.leaf} leaf, {point.direction}".capitalize()):
        print(f"\n{name}")
        rows = list(points)
        printed.table(heads, [_row(point) for point in rows])
        for why in dict.fromkeys(point.because for point in rows if point.outcome == "not measured"):
            gaps = dict.fromkeys(f"{point.gap_mm:g} mm" for point in rows if point.because == why)
            print(f"Not measured, gap {', '.join(gaps)}: {why}.")
    print()
    for rules in plan.rules:
        print(f"{rules.name} ({rules.applies}): {'; '.join(limit for limit, _ in rules.limits)}.")
    used, other = plan.residual, f"{plan.residual.other_n:g} N ({plan.residual.other_origin})"
    print(f"Residual limit {used.limit_n:g} N: {used.origin}. The other that can be chosen: {other}.")
    back = plan.reversal_rules
    print(f"Going back ({back.name}, decides nothing here): {'; '.join(limit for limit, _ in back.limits)}.")
    _print_places(plan)
    print(f"Result: {plan.outcome}.")


def _print_places(plan: Plan) -> None:
    """Zones, and for the opening direction what stands behind the open leaf."""
    from sim.instruments.rule_sets import WALL_ZONE

    zones = [f"{zone.leaf} leaf, {zone.zone}, {zone.length_mm:.0f} mm" for zone in plan.zones if zone.is_zone]
    named = "; ".join(zones) or "none of those that the site file tells"
    print(f"Zones to be guarded after that family of rules: {named}.")
    if any(point.direction == "opening" for point in plan.points):
        walls = [f"{zone.leaf} {zone.length_mm:.0f} mm" for zone in plan.zones if zone.zone == WALL_ZONE.name]
        told = ", ".join(walls) or "none in the site file"
        print(f"Opening, the gap is to the edge's own place at the open stop; masonry from there: {told}.")


def _row(point: PointResult) -> tuple[str, ...]:
    where = (f"{point.gap_mm:4.0f}", f"{point.height_mm:6.0f}")
    if point.mean is None:
        return (*where, "", "", "", "", "", "", "", point.outcome)
    mean, start = point.mean, point.latest_start_s
    return (
        *where,
        f"{mean.peak_n:4.0f}",
        f"{mean.above_static_s:5.2f}",
        f"{mean.static_n:6.0f}",
        f"{mean.above_residual_s:5.2f}",
        f"{mean.late_n:5.0f}",
        f"{point.shortest_back_mm:4.0f}",
        "never" if start is None else f"{start:6.2f}",
        point.outcome,
    )
