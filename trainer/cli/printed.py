"""What the commands print: tables for people, JSON for programs, progress and errors beside both."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from trainer import CAUTION

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sim.bench.trial import Result
    from trainer.session.desk import JobCard
    from trainer.session.lookback import CompetenceView, OverruledView
    from trainer.session.view import DebriefView
    from trainer.session.worth import WorthView


def stop(sentence: str, code: int = 2) -> NoReturn:
    """End the command with a sentence on standard error."""
    print(sentence, file=sys.stderr)
    raise SystemExit(code)


def writable(file: Path) -> None:
    """End the command with a sentence if a file can't be written, before work is done for it; it keeps its text."""
    new = not file.exists()
    try:
        with file.open("a", encoding="utf-8"):
            pass
        if new:
            file.unlink()
    except OSError as error:
        stop(f"{file}: can't be written ({error.strerror})")


def note(line: str) -> None:
    """A word about progress: on standard error, so that a result on standard output stays clean."""
    print(line, file=sys.stderr, flush=True)


@contextmanager
def progress(total: int) -> Iterator[tuple[Callable[[str], None], Callable[[int], None]]]:
    """Two listeners that show on standard error what is done now and how many of all are done; silent where that is
    no terminal."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = TextColumn("{task.description}"), BarColumn(), TextColumn("{task.completed:.0f} of {task.total:.0f}")
    console = Console(stderr=True)
    hidden = not console.is_terminal
    with Progress(*columns, TimeElapsedColumn(), console=console, disable=hidden, transient=True) as shown:
        task = shown.add_task("", total=total)
        yield lambda words: shown.update(task, description=words), lambda count: shown.update(task, completed=count)


def as_json(data: object) -> None:
    """Data as JSON, two spaces, words as they are."""
    print(json.dumps(data, indent=2, ensure_ascii=False))


def table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> None:
    """A table without frames, as wide as the terminal."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    made = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for head in heads:
        made.add_column(Text(head), overflow="fold")
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    Console().print(made)


def jobs(cards: Sequence[JobCard]) -> None:
    """The list of jobs."""
    rows = [
        (
            card.name,
            card.title + (" (unfinished)" if card.unfinished else ""),
            card.grade,
            f"{card.minutes:g}",
            "" if card.best is None else f"{card.best:.0f}",
            card.about.strip(),
        )
        for card in cards
    ]
    table(("job", "title", "grade", "minutes", "best", "what is asked"), rows)


def debrief(job: str, seed: int, result: DebriefView) -> None:
    """A graded result: every finding with the lines of the journal that show it."""
    computed = " (computed)" if result.overruled is not None else ""
    print(f"{job}, seed {seed}: {result.result}, {result.score:.0f} of 100{computed}")
    if result.overruled is not None:
        overruled(result.overruled)
    for question, answer in result.lines:
        print(f"{question} {answer}")
    table(("part", "points", "of"), [(part, f"{got:g}", f"{of:g}") for part, got, of in result.parts])
    rows = [
        (
            f"{finding.outcome}, grave" if finding.grave else finding.outcome,
            finding.title,
            finding.what,
            ", ".join(str(line) for line, _, _ in finding.evidence),
        )
        for finding in result.findings
    ]
    table(("", "finding", "what was seen", "journal lines"), rows)
    competences(result.competences)
    if result.worth is not None:
        worth(result.worth)


def worth(view: WorthView) -> None:
    """What each measurement told against the best there was then, and how likely the cause of each repair was."""
    from trainer.session.worth import MADE_HEADS, MEANING, MENDED_HEADS

    print(MEANING)
    table(MADE_HEADS, [one.cells for one in view.made])
    if view.repaired:
        table(MENDED_HEADS, [one.cells for one in view.repaired])


def overruled(view: OverruledView) -> None:
    """The mark after an instructor's rulings, and each of them; the computed mark stands above."""
    print(f"Overruled by an instructor: {view.result}, {view.score:g} of 100")
    words = {"skipped": "not judged", "": ""}
    rows = [
        (
            ruling.title,
            words.get(ruling.was, ruling.was) or "added",
            words.get(ruling.now, ruling.now) + (", grave" if ruling.grave else ""),
            "" if ruling.points is None else f"{ruling.points:g}",
            ruling.by,
            ruling.when[:10],
            ruling.reason,
        )
        for ruling in view.rulings
    ]
    table(("finding", "computed", "overruled", "points lost", "by", "on", "reason"), rows)


def competences(views: Sequence[CompetenceView]) -> None:
    """How the competences of a college's list stand."""
    if views:
        table(("competence", "", "why"), [(view.name, view.state, view.why) for view in views])


def trial(result: Result, trace: Path | None) -> None:
    """What came of running a gate."""
    print(f"{result.site}, {result.controller}, {result.reached_s:g} s, asked {result.scans} times")
    print(f"Weather: {result.weather}.")
    if result.begins:
        print(f"The gate is found {result.begins}.")
    if result.unready:
        print(f"No installer could get it ready. The controller said: {result.unready}")
        print("So somebody starts travel learning first.")
    if result.happened:
        table(("time", "what happened"), [(f"{h.at_s:8.2f} s", h.text) for h in result.happened])
    if result.leaves:
        rows = [
            (
                leaf.name,
                f"{leaf.angle_deg:.1f}°",
                f"{leaf.most_open_deg:.1f}°",
                f"{leaf.most_tip_m_s:.3f} m/s",
                f"{leaf.most_motor_a:.1f} of {leaf.limit_a:.1f} A" if leaf.limit_a > 0.0 else "not driven",
                f"{leaf.most_braking_a:.1f} A",
                f"{leaf.most_contact_n:.0f} N",
                f"{leaf.most_winding_c:.0f} °C",
            )
            for leaf in result.leaves
        ]
        heads = ("leaf", "stands at", "most open", "fastest edge", "driving", "braking", "contact", "winding")
        table(heads, rows)
        for leaf in result.leaves:
            print(f"{leaf.name} leaf, {leaf.duty}")
            for sentence in leaf.why:
                print(f"{leaf.name} leaf {sentence}")
    if result.state:
        print(f"The controller says: {result.state}. {result.message}".rstrip())
    if result.said:
        print(f"The controller failed: {result.said}")
    if result.digest:
        print(f"Digest {result.digest}")
    if trace is not None and result.ended == "finished":
        print(f"Signals are in {trace}.")
    print(CAUTION)
