"""Search for a counterexample to what a controller promises, and tell what was found, reached and not promised."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NoReturn

from trainer import CAUTION
from trainer.cli import printed

if TYPE_CHECKING:
    from sim.bench.proof.crew import Progress as Far
    from sim.bench.proof.entry import Property
    from sim.bench.proof.report import Counterexample, Report

WIDTH: Final = 100

BENCH: Final = "reference_bench.yaml"
"""The gate that is proved on when none is named: everything that can be fitted is fitted."""

WARNING: Final = (
    "No counterexample found is no proof that there is none. This searches a model of a gate; a real one is tested "
    "on itself, guard by guard, with people kept out of the arc."
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed."""

    site: Path | None
    """None for the teaching bench."""
    controller: str | None
    properties: tuple[str, ...]
    examples: int | None
    seed: int
    seconds: float
    beyond: bool
    as_json: bool


def tell(asked: Asked) -> NoReturn:
    """Prove and tell; ends with 0 where nothing was broken, 1 for a counterexample."""
    from sim.bench import foreign
    from sim.bench.proof.order import EXAMPLES, Order
    from sim.bench.proof.report import prove
    from sim.site import load_site
    from trainer.job.library import scenarios_folder

    source = foreign.source(asked.controller) if asked.controller else None
    order = Order(
        load_site(asked.site or scenarios_folder() / "sites" / BENCH),
        source,
        asked.properties,
        EXAMPLES if asked.examples is None else asked.examples,
        asked.seed,
        asked.seconds,
    )
    with _shown(quiet=asked.as_json) as (searching, beyond):
        report = prove(order, searching, beyond, beyond=asked.beyond)
    if asked.as_json:
        printed.as_json(report.as_base_types())
    else:
        _print(report)
    if report.unready:
        raise SystemExit(2)
    raise SystemExit(0 if report.holds else 1)


def list_properties(as_json: bool) -> NoReturn:
    """Every property there is, with its promise, its reason, its source and its bounds."""
    from sim.bench.proof.catalogue import CATALOGUE

    if as_json:
        printed.as_json([_as_base_types(each) for each in CATALOGUE.values()])
        raise SystemExit(0)
    for each in CATALOGUE.values():
        print(f"{each.name} (stated on the {each.stated_on})")
        for head, text in (("promise", each.promise), ("why", each.why), ("source", each.source)):
            print(_row(head, text))
        for bound in each.bounds:
            print(_row("bound", f"{bound.name}: {bound.value:g} {bound.unit} ({bound.source})"))
        print()
    print(f"{len(CATALOGUE)} properties.")
    raise SystemExit(0)


def _as_base_types(each: Property) -> dict[str, Any]:
    return {
        "name": each.name,
        "promise": each.promise,
        "why": each.why,
        "source": each.source,
        "stated on": each.stated_on,
        "promised under": list(each.under),
        "needs": list(each.needs),
        "bounds": [{"name": b.name, "value": b.value, "unit": b.unit, "source": b.source} for b in each.bounds],
    }


@contextmanager
def _shown(*, quiet: bool) -> Iterator[tuple[Any, Any]]:
    """Two listeners that show how far it is, on standard error; silent where JSON is wanted."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        TextColumn("{task.completed:.0f} of {task.total:.0f}"),
        TimeElapsedColumn(),
    )
    with Progress(*columns, console=Console(stderr=True), disable=quiet, transient=True) as shown:
        cases = shown.add_task("cases", total=1)
        faults = shown.add_task("faults beyond what is promised", total=1, visible=False)

        def searching(now: Far) -> None:
            broken = f", {len(now.broken)} broken" if now.broken else ""
            shown.update(cases, completed=now.examples, total=now.planned, description=f"cases{broken}")

        def beyond(_name: str) -> None:
            from sim.faults.catalogue import FAULTS

            shown.update(faults, advance=1, total=len(FAULTS), visible=True)

        yield searching, beyond


def _print(report: Report) -> None:
    print(f"{report.controller} on {report.site}, seed {report.seed}\n")
    if report.unready:
        print(_wrapped(report.unready))
        return
    for each in report.counterexamples:
        _print_counterexample(each)
    _print_looked(report)
    _print_reached(report)
    _print_beyond(report)
    print(_wrapped(WARNING))
    print(CAUTION)


def _print_counterexample(each: Counterexample) -> None:
    print(f"BROKEN: {each.property}  [{each.id}]")
    print(_row("promise", each.promise))
    print(_row("why", each.why))
    for sentence in each.found_as:
        print(_row("found as", sentence))
    for at, sentence in each.told:
        print(_row(at, sentence))
    print(_row(f"{each.at_s:.2f} s", f"BROKEN: {each.said}"))
    print(
        _row("", f"first seen after {each.examples} cases, made shorter with {each.shrinks} more; seed {each.seed}")
    )
    print()


def _print_looked(report: Report) -> None:
    broken = {each.property for each in report.counterexamples}
    rows = []
    for name, times in report.looked.items():
        lacks = report.not_here.get(name, ())
        how = f"not here: the site has no {', no '.join(lacks)}" if lacks else "BROKEN" if name in broken else "held"
        rows.append((name, "" if lacks else str(times), how))
    printed.table(("property", "plays", ""), rows)
    print(
        f"\n{report.examples} cases, {report.simulated_s / 3600.0:.1f} simulated hours, {report.scans} scans, in "
        f"{report.wall_s:.0f} s."
    )
    if report.unfinished:
        print(_wrapped(f"Cut short by the time: {', '.join(dict.fromkeys(report.unfinished))}."))
    print()


def _print_reached(report: Report) -> None:
    if not report.ways:
        print(_row("states seen", ", ".join(report.states) or "none"))
        print()
        return
    every = len(report.ways) + len(report.ways_missed)
    states = len(report.states) + len(report.states_missed)
    print(f"Reached {len(report.states)} of {states} states, {len(report.ways)} of {every} transitions.")
    for state in report.states_missed:
        print(_row("never in", state))
    for trigger, state in report.ways_missed:
        print(_row("never", f"'{trigger}' while {state}"))
    print()


def _print_beyond(report: Report) -> None:
    if report.beyond is None:
        return
    print(f"Not protected against, of {report.beyond.faults} faults that this gate can have:")
    by_fault: dict[str, list[str]] = {}
    for each in report.beyond.not_protected:
        by_fault.setdefault(each.fault, []).append(each.property)
    for fault, broken in by_fault.items():
        print(_row(fault, ", ".join(broken), 44))
    if not by_fault:
        print("  nothing broke in the few plays of each; that is no promise")
    print()


def _row(head: str, text: str, width: int = 14) -> str:
    lines = textwrap.wrap(text, WIDTH - width - 2) or [""]
    lead = f"  {head:<{width}}"
    return "\n".join([lead + lines[0], *(" " * (width + 2) + line for line in lines[1:])])


def _wrapped(text: str) -> str:
    return textwrap.fill(text, WIDTH)
