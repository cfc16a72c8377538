"""Search for a counterexample to what a controller promises, and tell what was found, reached and not promised."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NoReturn

from sim.errors import nearest_right
from sim.units import Us, clock_text
from trainer import CAUTION
from trainer.cli import printed

if TYPE_CHECKING:
    from sim.bench.proof.crew import Progress as Far
    from sim.bench.proof.depth_report import Report as DepthReport
    from sim.bench.proof.entry import Property
    from sim.bench.proof.order import Order
    from sim.bench.proof.record import Done
    from sim.bench.proof.report import Counterexample, Report

WIDTH: Final = 100

FOLDER: Final = "prove"
"""Where counterexamples go, in the folder for results."""

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
    bounds: Mapping[str, float]
    examples: int | None
    seed: int
    seconds: float
    beyond: bool
    depth: int
    """Moves of the exhaustive search on the gate of two counters; 0 for none."""
    as_json: bool
    out: Path
    """Folder for what is found."""


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
        bounds=asked.bounds,
    )
    with _shown(quiet=asked.as_json) as (searching, beyond):
        report = prove(order, searching, beyond, beyond=asked.beyond)
    files = _write(asked.out, order, report)
    deep = _search_deep(asked, order)
    if asked.as_json:
        told = {**report.as_base_types(), "files": {name: list(map(str, f)) for name, f in files.items()}}
        printed.as_json({**told, "depth": {name: _depth_as_base_types(each) for name, each in deep.items()}})
    else:
        _print(report, files, deep)
    if report.unready:
        raise SystemExit(2)
    raise SystemExit(0 if report.holds and not any(each.found for each in deep.values()) else 1)


def _search_deep(asked: Asked, order: Order) -> dict[str, DepthReport]:
    """Every act in every situation, to a depth, for each sheet; for all promises of our own controller only."""
    if not asked.depth or order.source is not None or order.properties:
        return {}
    from sim.bench.proof.depth_report import Bounds
    from sim.bench.proof.depth_sheets import search_sheets

    if not asked.as_json:
        printed.note(f"Every act in every situation, to depth {asked.depth}, on a gate of two counters.")
    return search_sheets(bounds=Bounds(depth=asked.depth))


def _depth_as_base_types(each: DepthReport) -> dict[str, Any]:
    return {
        "finished": each.finished,
        "situations": each.situations,
        "moves": each.moves,
        "scans": each.scans,
        "found": [found.in_words() for found in each.found],
    }


def bounds(typed: Sequence[str]) -> dict[str, float]:
    """Bounds as they are typed, `NAME=VALUE`. Ends the command with a sentence for one that is no bound."""
    from sim.bench.proof.catalogue import CATALOGUE

    known = {bound.name for each in CATALOGUE.values() for bound in each.bounds}
    found = {}
    for text in typed:
        name, sign, value = text.partition("=")
        if name.strip() not in known:
            printed.stop(f"no property has a bound '{name.strip()}'{nearest_right(name.strip(), known)}")
        try:
            found[name.strip()] = float(value)
        except ValueError:
            printed.stop(
                f"--bound {text}: a bound is given as NAME=VALUE, with a number" + ("" if sign else "; no =")
            )
    return found


def again(wanted: str, controller: str | None, out: Path) -> NoReturn:
    """Play a counterexample once more, by its id or its file; ends with 1 if it still breaks its property."""
    from sim.bench import foreign
    from sim.bench.proof.crew import play_again
    from sim.bench.proof.neutral import read_case
    from sim.bench.proof.order import Order

    file = Path(wanted) if wanted.endswith(".json") else out / FOLDER / f"{wanted}.json"
    kept = read_case(file)
    source = foreign.source(controller) if controller else None
    if kept.controller_digest and source is None:
        printed.stop(f"{file} is a case of the controller {kept.controller}: name its file with --controller")
    if source is not None and source.digest != kept.controller_digest:
        printed.note(f"{source.file.name} is not as it was when this was found.")
    outcome = play_again(Order(kept.site, source, (kept.property,), bounds=kept.bounds), kept.case)
    for step in outcome.done:
        print(_row(*told_step(step)))
    breach = outcome.breaches.get(kept.property) or next(iter(outcome.breaches.values()), None)
    if breach is None:
        print(f"It holds now: {kept.property}.")
        raise SystemExit(0)
    print(_row(clock_text(breach.at), f"BROKEN: {kept.property}: {breach.said}"))
    raise SystemExit(1)


def told_step(step: Done) -> tuple[str, str]:
    """(time, sentence) of one step."""
    from sim.bench.proof.telling import told

    return next(iter(told([step])))


def _write(out: Path, order: Order, report: Report) -> dict[str, tuple[Path, ...]]:
    """Every counterexample on file: the case for `--again`, and a job for the window where it can be shown."""
    from sim.bench.proof.neutral import write_case

    files: dict[str, tuple[Path, ...]] = {}
    try:
        for each in report.counterexamples:
            files[each.id] = (write_case(out / FOLDER, order, each),)
            why_not = _not_shown(order, each)
            if why_not:
                printed.note(f"{each.id} has no job for the window: {why_not}.")
            else:
                files[each.id] += (_write_job(out, order, each),)
    except OSError as error:
        printed.note(f"{out / FOLDER}: can't be written ({error.strerror})")
    return files


def _not_shown(order: Order, each: Counterexample) -> str:
    """Why the window can't show it; empty if it can."""
    from sim.bench.proof.entry import NO_ANSWER
    from trainer.job.models import MOST_CHANGES
    from trainer.job.put_out import fits

    if order.source is None:
        return "" if each.done else "nothing was done in it"
    if each.property == NO_ANSWER:
        return "the controller gave no answer, so there is nothing to play back"
    if each.recorded is None:
        return "played once more for its record it did not break: the controller doesn't do the same each time"
    if fits(each.recorded):
        return ""
    return f"what the controller put out changed {len(each.recorded.changes)} times; at most {MOST_CHANGES} are kept"


def _write_job(out: Path, order: Order, each: Counterexample) -> Path:
    """The job in which it is shown: our own controller runs there, a stranger's record is played back."""
    from sim.world.lived import LivedAct
    from trainer.job.counterexample import Shown, Stranger, write_job

    stranger = None
    if order.source is not None and each.recorded is not None:
        stranger = Stranger(order.source.name, order.source.digest, each.recorded)
    acts = tuple(LivedAct(Us(step.at), step.act, step.arguments) for step in each.done)
    words = (each.property, each.promise, each.why, each.said, each.at_s, each.told)
    stage = order.stage()
    return write_job(out / FOLDER, stage.site, stage.arrival, Shown(each.id, *words, acts, stranger))


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


def _print(report: Report, files: Mapping[str, tuple[Path, ...]], deep: Mapping[str, DepthReport]) -> None:
    print(f"{report.controller} on {report.site}, seed {report.seed}\n")
    if report.unready:
        print(_wrapped(report.unready))
        return
    for each in report.counterexamples:
        _print_counterexample(each, files.get(each.id, ()))
    _print_looked(report)
    _print_reached(report)
    _print_deep(deep)
    _print_beyond(report)
    print(_wrapped(WARNING))
    print(CAUTION)


def _print_counterexample(each: Counterexample, files: tuple[Path, ...]) -> None:
    print(f"BROKEN: {each.property}  [{each.id}]")
    print(_row("promise", each.promise))
    print(_row("why", each.why))
    for at, sentence in each.told:
        print(_row(at, sentence))
    print(_row(clock_text(round(each.at_s * 1e6)), f"BROKEN: {each.said}"))
    print(_row("", f"first seen after {each.examples} cases, made shorter with {each.shrinks} more"))
    for head, command, file in zip(("again", "window"), ("prove --again", "start --job"), files, strict=False):
        print(f"  {head:<14}gudgeon {command} {file}")
    print()


def _print_looked(report: Report) -> None:
    rows = [(name, str(times) if times else "", report.how(name)) for name, times in report.looked.items()]
    printed.table(("property", "plays", ""), rows)
    print(
        f"\n{report.examples} cases, {report.simulated_s / 3600.0:.1f} simulated hours, {report.scans} scans, in "
        f"{report.wall_s:.0f} s."
    )
    if report.unfinished:
        least = min((report.drawn.get(name, 0) for name in report.unfinished), default=0)
        print(
            _wrapped(
                f"The time was up before every case was drawn: {len(report.unfinished)} searches had fewer than were "
                f"asked for, none fewer than {least}. `--seconds` gives them longer."
            )
        )
    print()


def _print_reached(report: Report) -> None:
    if not report.ways:
        print(_row("states seen", ", ".join(report.states) or "none"))
        print()
        return
    every = len(report.ways) + len(report.ways_missed)
    states = len(report.states) + len(report.states_missed)
    print(f"Reached {len(report.states)} of {states} states, {len(report.ways)} of {every} transitions.")
    if report.narrow:  # what a search for one property doesn't reach says nothing of the others
        print()
        return
    for state in report.states_missed:
        print(_row("never in", state))
    for trigger, state in report.ways_missed:
        print(_row("never", f"'{trigger}' while {state}"))
    print()


def _print_deep(deep: Mapping[str, DepthReport]) -> None:
    """The exhaustive search: how deep, how many; nothing found to a depth means nothing to that depth."""
    if not deep:
        return
    rows = [
        (name, str(each.finished), str(each.situations), str(each.moves), str(len(each.found)))
        for name, each in deep.items()
    ]
    printed.table(("sheet searched to a depth", "depth finished", "situations", "moves", "broken"), rows)
    for each in deep.values():
        for found in each.found:
            print(found.in_words())
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
