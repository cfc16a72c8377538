"""The commands: each parses, makes one call, and says how it ended."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Annotated

import typer

from sim.errors import GudgeonError
from sim.units import Us, from_seconds
from trainer import CAUTION
from trainer.cli import attempt, overrule, printed, records

app = typer.Typer(
    name="gudgeon",
    help=f"A simulator of an automated swing gate, and the training yard around it.\n\n{CAUTION}",
    pretty_exceptions_enable=False,
    add_completion=False,
    no_args_is_help=False,
)

JsonFlag = Annotated[bool, typer.Option("--json", help="Print the result as JSON.")]
SeedOption = Annotated[int, typer.Option("--seed", min=0, max=2**31, help="What is drawn; 0 is the first pass.")]
OutOption = Annotated[Path, typer.Option("--out", help="Folder for the report and its pictures.")]
SolutionOption = Annotated[
    Path | None, typer.Option("--solution", help="A solution file instead of the one that comes with it.")
]
WhoAtWork = Annotated[str, typer.Option("--who", help="Who is at work, for the learning record.")]
CompetencesOption = records.CompetencesOption
OUT = Path("gudgeon-out")

LONGEST_S = 86_400.0
"""A gate is watched for a day at most [s]."""


def main() -> None:
    """What the installed command runs."""
    with _told_in_words():
        app()


INTERRUPTED = 130
"""What a command ends with when the keyboard stops it; the parser makes that of the interrupt."""


@contextmanager
def _told_in_words() -> Iterator[None]:
    """An error raised on purpose ends the command with its own sentence and code 2; nothing else is caught."""
    try:
        yield
    except GudgeonError as error:
        printed.stop(str(error))
    except KeyboardInterrupt:
        printed.stop("stopped by the keyboard", INTERRUPTED)
    except SystemExit as ended:
        if ended.code == INTERRUPTED:
            printed.note("stopped by the keyboard")
        raise
    except BrokenPipeError:
        # Whoever read our output has gone (a pager, head): there is nobody left to tell.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise SystemExit(1) from None


def _version(wanted: bool) -> None:
    if wanted:
        try:
            print(f"gudgeon {version('gudgeon')}")
        except PackageNotFoundError:
            print("gudgeon (not installed)")
        raise typer.Exit


@app.callback(invoke_without_command=True)
def gudgeon(
    context: typer.Context,
    show_version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
    out: Annotated[
        Path | None, typer.Option("--out", help=f"Folder for the report and its pictures, else {OUT}.")
    ] = None,
) -> None:
    """Without a command: open the window with the list of jobs."""
    command = context.invoked_subcommand
    if command is None:
        attempt.open_window(None, "practice", None, out or OUT)
    elif out is not None:
        printed.stop(f"--out comes after the command: `gudgeon {command} ... --out {out}`, where it takes one")


@app.command()
def start(
    job: Annotated[str | None, typer.Option("--job", help="Go straight to this job.")] = None,
    headless: Annotated[bool, typer.Option("--headless", help="No window: play the job's own solution.")] = False,
    assessed: Annotated[
        bool, typer.Option("--assessed/--practice", help="In an assessed attempt rewind only looks.")
    ] = False,
    seed: Annotated[int | None, typer.Option("--seed", min=0, help="What is drawn; 0 is the first pass.")] = None,
    who: WhoAtWork = "",
    competences: CompetencesOption = None,
    out: OutOption = OUT,
) -> None:
    """Open the window, with a job or with the list of jobs."""
    if headless:
        attempt.play(job or attempt.MAIN_JOB, None, seed or 0, out, as_json=False)
    attempt.open_window(job, "assessed" if assessed else "practice", seed, out, who, competences)


@app.command()
def jobs(as_json: JsonFlag = False) -> None:
    """List the jobs."""
    cards = attempt.desk().jobs()
    if as_json:
        printed.as_json([asdict(card) for card in cards])
    else:
        printed.jobs(cards)


@app.command()
def play(
    job: Annotated[str, typer.Argument(help="A job's title, its file name, or a path.")],
    solution: SolutionOption = None,
    seed: SeedOption = 0,
    competences: CompetencesOption = None,
    as_json: JsonFlag = False,
    out: OutOption = OUT,
) -> None:
    """Play a solution of a job without a window, grade it, and write the report."""
    attempt.play(job, solution, seed, out, as_json, competences)


@app.command()
def drill(
    file: Annotated[Path, typer.Argument(help="A drill file.")],
    solution: SolutionOption = None,
    person: Annotated[bool, typer.Option("--person", help="A person works in the window, with no solution.")] = False,
    who: WhoAtWork = "",
    as_json: JsonFlag = False,
    out: OutOption = OUT,
) -> None:
    """Run a scripted drill against its solution, or against a person in the window, and grade it."""
    attempt.drill(file, solution, person, out, as_json, who)


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
    if trace is not None:
        printed.writable(trace)
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
        printed.as_json(result.as_base_types())
    else:
        printed.trial(result, trace)
    raise typer.Exit(0 if result.ended == "finished" else 1)


def _microseconds(text: str) -> Us:
    """A duration as people write it, in whole microseconds."""
    factors = {"": 1.0, "s": 1.0, "min": 60.0, "h": 3600.0}
    found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*([a-z]*)\s*", text)
    if found is None or found[2] not in factors:
        raise typer.BadParameter(f"'{text}' is no duration; allowed: 120, 120s, 2min, 1h", param_hint="--for")
    seconds = float(found[1]) * factors[found[2]]
    if not 0.0 < seconds <= LONGEST_S:
        raise typer.BadParameter(f"{text} is {seconds:g} s; allowed: more than 0 to 24h", param_hint="--for")
    return from_seconds(seconds)


@app.command()
def force(
    site: Annotated[Path, typer.Argument(help="A site file.")],
    leaf: Annotated[str, typer.Option("--leaf", help="active, inactive, or both: every leaf there is")] = "both",
    direction: Annotated[str, typer.Option("--direction", help="closing, opening or both")] = "closing",
    residual: Annotated[
        int, typer.Option("--residual", help="What the force must have fallen to in the end [N]: 25 or 80.")
    ] = 25,
    seed: SeedOption = 0,
    as_json: JsonFlag = False,
    out: Annotated[
        Path | None, typer.Option("--out", help="Write the report and a picture of every point to this folder.")
    ] = None,
) -> None:
    """Measure force on a gate as a good installer leaves it: three openings, three heights, three readings each.

    The mean of three readings is judged and the worst point decides. A training model: on a real gate force is
    measured with a real, calibrated instrument.
    """
    from trainer.cli import force as forces

    forces.measure(site, leaf, direction, residual, seed, as_json, out)


@app.command()
def faults(
    name: Annotated[list[str] | None, typer.Argument(help="A fault by its name; none: list them all.")] = None,
    site: Annotated[
        Path | None, typer.Option("--site", help="Show what it does on this site, beside the gate without it.")
    ] = None,
    share: Annotated[
        float, typer.Option("--share", min=0.0, max=1.0, help="With --site: how grave, 0 mild to 1 grave.")
    ] = 1.0,
    seed: SeedOption = 0,
    as_json: JsonFlag = False,
) -> None:
    """List what can fail; explain a fault; show its readings on a gate with and without it, computed.

    Ends with 1 if the measurement that should tell the fault can't tell it on that gate, and with 2 for a name or a
    file that can't be used.
    """
    from trainer.cli import faults as told

    told.tell(name or (), site, share, seed, as_json)


@app.command()
def settings(
    name: Annotated[list[str] | None, typer.Argument(help="A setting by its name; none: list them all.")] = None,
    as_json: JsonFlag = False,
    as_page: Annotated[bool, typer.Option("--markdown", help="Print it as a page of Markdown.")] = False,
) -> None:
    """List the settings of the controller's sheet; say what one does, what forbids it, and what looks wrong."""
    from trainer.cli import settings as told

    told.tell(name or (), as_json, as_page)


@app.command()
def prove(
    site: Annotated[Path | None, typer.Option("--site", help="A site file; the teaching bench without one.")] = None,
    controller: Annotated[
        str | None, typer.Option("--controller", help="file.py:Class instead of the reference controller.")
    ] = None,
    property: Annotated[list[str] | None, typer.Option("--property", help="Only this one; may be repeated.")] = None,
    examples: Annotated[
        int | None, typer.Option("--examples", min=1, max=100_000, help="Cases for the focus of each property.")
    ] = None,
    seed: SeedOption = 0,
    seconds: Annotated[
        float, typer.Option("--seconds", min=1.0, max=86_400.0, help="No new case is begun after this time.")
    ] = 900.0,
    list_them: Annotated[bool, typer.Option("--list", help="List the properties, and prove nothing.")] = False,
    beyond: Annotated[
        bool, typer.Option("--beyond/--no-beyond", help="Look at every fault beyond what is promised as well.")
    ] = True,
    depth: Annotated[
        int, typer.Option("--depth", min=0, max=9, help="Moves of the exhaustive search; 0 for none of it.")
    ] = 3,
    bound: Annotated[
        list[str] | None, typer.Option("--bound", help="NAME=VALUE instead of a property's own bound.")
    ] = None,
    again: Annotated[
        str | None, typer.Option("--again", help="Play a counterexample once more, by its id or its file.")
    ] = None,
    as_json: JsonFlag = False,
    out: OutOption = OUT,
) -> None:
    """Search for a sequence of acts that breaks what a controller promises, and make it as short as can be.

    Ends with 0 where nothing was broken, 1 for a counterexample, 2 for a name or file that can't be used. A
    controller of your own runs in processes of its own, which are ended when they stop answering. That contains
    accidents; it is not security: run only code that you trust.
    """
    from trainer.cli import prove as proving

    if list_them:
        proving.list_properties(as_json)
    if again is not None:
        proving.again(again, controller, out)
    bounds = proving.bounds(bound or ())
    wanted = tuple(property or ())
    effort = (examples, seed, seconds, beyond, depth)
    proving.tell(proving.Asked(site, controller, wanted, bounds, *effort, as_json, out))


@app.command()
def chart(
    drawing: Annotated[Path | None, typer.Option("--svg", help="Draw it to this file.")] = None,
    mermaid: Annotated[Path | None, typer.Option("--mermaid", help="Write it as a Mermaid chart.")] = None,
) -> None:
    """Show the states of the controller and every way from one to another."""
    from trainer.cli import chart as told

    told.tell(drawing, mermaid)


@app.command()
def check(
    paths: Annotated[list[Path], typer.Argument(help="Scenario files of any kind, or folders of them.")],
    deep: Annotated[
        bool,
        typer.Option(
            "--deep",
            help="Look into each job as well: can what is hidden be found with what is allowed, how long takes it, "
            "does the solution get through, is it safe. About a minute for each site the first time, so it isn't "
            "done without asking; what is known of the same content is kept.",
        ),
    ] = False,
) -> None:
    """Read files as the program would, and say everything that is wrong with them.

    Ends with 0 if all is good, 1 if a file is no good, or with --deep a job that can't be found out, whose solution
    doesn't get through, or whose solution does what is unsafe.
    """
    from trainer.cli import scenario

    raise typer.Exit(1 if scenario.check(paths, deep) else 0)


@app.command()
def schema(kind: Annotated[str, typer.Argument(help="site, job, solution, drill or competences")]) -> None:
    """Print the JSON schema of a kind of file, for editors that complete and check while typing."""
    from trainer.job import schemas

    known = schemas()
    if kind not in known:
        raise typer.BadParameter(f"'{kind}' is no kind of file; allowed: {', '.join(known)}", param_hint="KIND")
    printed.as_json(known[kind])


app.command("record")(records.record)
app.command("regrade")(records.regrade)
app.command("debrief")(overrule.debrief)
app.command("overrule")(overrule.overrule)
