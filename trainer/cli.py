"""The command line: parse, one call, print, exit code. Nothing is decided here.

Exit codes: 0 done and good; 1 done, and what was asked about is not good (a job not passed, a file with faults, a
controller that failed); 2 it can't be done as asked. What goes wrong is one sentence on standard error. Rooms are
imported when a command needs them, so that help is quick.
"""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import asdict
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer

from sim.errors import GudgeonError, ScenarioError
from trainer import CAUTION

if TYPE_CHECKING:
    from sim.bench.trial import Result

MAIN_JOB = "first_run"
"""What is carried out headless when there is no display."""

app = typer.Typer(
    name="gudgeon",
    help=f"A simulator of an automated two-leaf swing gate, and the training yard around it.\n\n{CAUTION}",
    pretty_exceptions_enable=False,
    add_completion=False,
    no_args_is_help=False,
)

JsonFlag = Annotated[bool, typer.Option("--json", help="Print the result as JSON.")]
SeedOption = Annotated[int, typer.Option("--seed", min=0, max=2**31, help="What is drawn; 0 is the first pass.")]
OutOption = Annotated[Path, typer.Option("--out", help="Folder for the report and its pictures.")]
OUT = Path("gudgeon-out")


def main() -> None:
    """What the installed command runs."""
    with _told_in_words():
        app()


@contextmanager
def _told_in_words() -> Iterator[None]:
    """An error raised on purpose ends the command with its own sentence and code 2; nothing else is caught."""
    try:
        yield
    except GudgeonError as error:
        _stop(str(error))
    except KeyboardInterrupt:
        _stop("stopped by the keyboard")
    except BrokenPipeError:
        # Whoever read our output has gone (a pager, head): there is nobody left to tell.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise SystemExit(1) from None


def _stop(sentence: str, code: int = 2) -> NoReturn:
    print(sentence, file=sys.stderr)
    raise SystemExit(code)


def _note(line: str) -> None:
    """A word about progress: on standard error, so that a result on standard output stays clean."""
    print(line, file=sys.stderr, flush=True)


def _version(wanted: bool) -> None:
    if wanted:
        try:
            print(f"gudgeon {version('gudgeon')}")
        except PackageNotFoundError:
            print("gudgeon (not installed)")
        raise typer.Exit


# the window, or without one


@app.callback(invoke_without_command=True)
def gudgeon(
    context: typer.Context,
    show_version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
    out: OutOption = OUT,
) -> None:
    """Without a command: open the window with the list of jobs."""
    if context.invoked_subcommand is None:
        _open_window(None, None, None, out)


@app.command()
def start(
    job: Annotated[str | None, typer.Option("--job", help="Go straight to this job.")] = None,
    headless: Annotated[bool, typer.Option("--headless", help="No window: play the job's own solution.")] = False,
    assessed: Annotated[
        bool, typer.Option("--assessed/--practice", help="In an assessed attempt rewind only looks.")
    ] = False,
    seed: Annotated[int | None, typer.Option("--seed", min=0, help="What is drawn; 0 is the first pass.")] = None,
    out: OutOption = OUT,
) -> None:
    """Open the window, with a job or with the list of jobs."""
    if headless:
        _headless(job or MAIN_JOB, seed or 0, out)
    _open_window(job, "assessed" if assessed else "practice", seed, out)


def _open_window(job: str | None, mode: str | None, seed: int | None, out: Path) -> None:
    if not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")):
        print("There is no display here, so the job is carried out without a window.", flush=True)
        _headless(job or MAIN_JOB, seed or 0, out)
    from trainer.window.app import App

    App(_desk()).run(job=job, mode=mode, seed=seed)


def _headless(job: str, seed: int, out: Path) -> NoReturn:
    """Play the job's own solution, print the graded result, write report and pictures."""
    session = _desk().play(job, seed, _note)
    _graded(session, out, as_json=False)


# jobs and drills


@app.command()
def jobs(as_json: JsonFlag = False) -> None:
    """List the jobs."""
    cards = _desk().jobs()
    if as_json:
        _print_json([asdict(card) for card in cards])
        return
    _print_table(
        ("job", "title", "grade", "minutes", "best", "what is asked"),
        [
            (
                card.name,
                card.title + (" (unfinished)" if card.unfinished else ""),
                card.grade,
                f"{card.minutes:g}",
                "" if card.best is None else f"{card.best:.0f}",
                card.about,
            )
            for card in cards
        ],
    )


@app.command()
def play(
    job: Annotated[str, typer.Argument(help="A job's title, its file name, or a path.")],
    solution: Annotated[Path | None, typer.Option("--solution", help="Instead of the job's own solution.")] = None,
    seed: SeedOption = 0,
    as_json: JsonFlag = False,
    out: OutOption = OUT,
) -> None:
    """Play a solution of a job without a window, grade it, and write the report."""
    desk = _desk()
    if solution is None:
        session = desk.play(job, seed, _note)
    else:
        session = desk.start(job, "practice", seed)
    _graded(session, out, as_json)


# the engineer's gate


@app.command()
def run(
    site: Annotated[Path, typer.Argument(help="A site file.")],
    duration: Annotated[str, typer.Option("--for", help="How long to watch: 120, 120s, 2min.")] = "120s",
    trace: Annotated[Path | None, typer.Option("--trace", help="Write the signals as CSV to this file.")] = None,
    controller: Annotated[
        str | None, typer.Option("--controller", help="file.py:Class instead of the reference controller.")
    ] = None,
    seed: SeedOption = 0,
    as_json: JsonFlag = False,
) -> None:
    """Run a gate: open it, close it, watch it for a time, and say what happened.

    A controller of your own runs in a process of its own, which is ended when it stops answering. That contains
    accidents; it is not security: run only code that you trust.
    """
    watched = _microseconds(duration)
    from sim.site import load_site

    found = load_site(site)
    from sim.bench.trial import Order, Trial

    order = Order(found, watched, seed)
    if controller is None:
        trial = Trial(order)
        result = trial.run()
        if trace is not None:
            from sim.traces.export import write_csv

            write_csv(trial.world, trace)
    else:
        from sim.bench import foreign, stranger

        result = stranger.run_apart(stranger.Job(order, foreign.source(controller), trace))
    if as_json:
        _print_json(result.as_base_types())
    else:
        _print_trial(result, trace)
    raise typer.Exit(0 if result.ended == "finished" else 1)


def _microseconds(text: str) -> Any:
    """A duration as people write it, in whole microseconds."""
    from sim.units import from_seconds

    factors = {"": 1.0, "s": 1.0, "min": 60.0, "h": 3600.0}
    found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*([a-z]*)\s*", text)
    if found is None or found[2] not in factors:
        raise typer.BadParameter(f"'{text}' is no duration; allowed: 120, 120s, 2min, 1h", param_hint="--for")
    seconds = float(found[1]) * factors[found[2]]
    if not 0.0 < seconds <= 86_400.0:
        raise typer.BadParameter(f"{text} is {seconds:g} s; allowed: more than 0 to 24h", param_hint="--for")
    return from_seconds(seconds)


# files


@app.command()
def check(path: Annotated[Path, typer.Argument(help="A site, job, solution or drill, or a folder of them.")]) -> None:
    """Read files as the program would, and say everything that is wrong with them."""
    if not path.exists():
        _stop(f"there is no file or folder '{path}'")
    files = sorted(path.rglob("*.yaml")) if path.is_dir() else [path]
    if not files:
        _stop(f"there is no file ending in .yaml under '{path}'")
    bad = 0
    for file in files:
        try:
            print(f"{file}: a good {_read(file)}")
        except ScenarioError as error:
            bad += 1
            print(error)
    raise typer.Exit(1 if bad else 0)


def _read(file: Path) -> str:
    """Read a file by what its key `format` says; the kind of file it is."""
    from sim.site import load_site, read_yaml
    from trainer.job import load_drill, load_job

    readers: dict[str, Callable[[Path], object]] = {
        "site": load_site,
        "job": load_job,
        "solution": _read_solution,
        "drill": load_drill,
    }
    said = read_yaml(file).data.get("format", "")
    kind = str(said).removeprefix("gudgeon-").split("/")[0]
    if kind not in readers:
        allowed = ", ".join(f"gudgeon-{name}/1" for name in readers)
        raise ScenarioError([f"{file} format: read {said!r}; allowed: {allowed}"])
    readers[kind](file)
    return kind


def _read_solution(file: Path) -> object:
    """A solution with what its job draws on the first pass; jobs stand beside the folder `solutions`."""
    from sim.site import read_yaml
    from trainer.job import load_named_job, load_solution, resolve

    above = file.resolve().parent.parent
    job = str(read_yaml(file).data.get("job", ""))
    beside = (above / job, above.parent / "jobs" / job)
    found = next((path for path in beside if path.is_file()), Path(job))
    return load_solution(file, resolve(load_named_job(str(found)), 0).values)


@app.command()
def schema(kind: Annotated[str, typer.Argument(help="site, job, solution or drill")]) -> None:
    """Print the JSON schema of a kind of file, for editors that complete and check while typing."""
    from trainer.job import schemas

    known = schemas()
    if kind not in known:
        raise typer.BadParameter(f"'{kind}' is no kind of file; allowed: {', '.join(known)}", param_hint="KIND")
    _print_json(known[kind])


# printing


def _print_json(data: object) -> None:
    print(json.dumps(data, indent=2, ensure_ascii=False))


def _print_table(heads: tuple[str, ...], rows: list[tuple[str, ...]], title: str | None = None) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(title=title, title_justify="left", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for head in heads:
        table.add_column(head, overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    Console().print(table)


def _print_trial(result: Result, trace: Path | None) -> None:
    print(f"{result.site}, {result.controller}, {result.reached_s:g} s, asked {result.scans} times")
    if result.happened:
        _print_table(("time", "what happened"), [(f"{h.at_s:8.2f} s", h.text) for h in result.happened])
    if result.leaves:
        _print_table(
            ("leaf", "stands at", "most open", "fastest edge", "most current", "most contact"),
            [
                (
                    leaf.name,
                    f"{leaf.angle_deg:.1f}°",
                    f"{leaf.most_open_deg:.1f}°",
                    f"{leaf.most_tip_m_s:.3f} m/s",
                    f"{leaf.most_motor_a:.1f} A",
                    f"{leaf.most_contact_n:.0f} N",
                )
                for leaf in result.leaves
            ],
        )
    if result.state:
        print(f"The controller says: {result.state}. {result.message}".rstrip())
    if result.said:
        print(f"The controller failed: {result.said}.")
    if result.digest:
        print(f"Digest {result.digest}")
    if trace is not None and result.ended == "finished":
        print(f"Signals are in {trace}.")
    print(CAUTION)


def _desk() -> Any:
    from trainer.session.desk import Desk

    return Desk()
