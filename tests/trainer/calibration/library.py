"""Simulated trainees over the library: `python -m tests.trainer.calibration.library [--seeds 1] [--jobs 'it_*']`.

Prints for each of them how the marks lie, by grade of job, and how often two stand in the order in which an
instructor would put them. The first run makes the tables of all sites and takes a quarter of an hour on two cores.
"""

from __future__ import annotations

import argparse
import fnmatch
import json
import statistics
import tempfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from itertools import pairwise
from multiprocessing import get_context
from pathlib import Path
from random import Random

from sim.kernel import compiler
from tests.trainer.calibration.attempt import graded, trainees
from trainer.diagnosis.keeping import Tables
from trainer.job import Resolved, job_files, load_job, resolve

ORDER = tuple(trainees(Tables(), 0))
"""As an instructor would put them, the best first; the first four may well come out alike."""

Row = dict[str, object]


def asked_for_a_cause(path: Path) -> bool:
    """Whether there is anything to be found out: without that all search alike."""
    return "cause found" in load_job(path).acceptance


def one(path: Path, seed: int) -> list[Row]:
    """Every trainee in one job, of which `seed` draws the outcome."""
    rows: list[Row] = []
    for name, plays in trainees(Tables(), seed).items():
        resolved: Resolved = resolve(load_job(path), seed)
        with tempfile.TemporaryDirectory() as folder:
            grade = graded(resolved, Path(folder), plays)
        rows.append(
            {
                "job": path.stem,
                "grade": resolved.job.grade,
                "seed": seed,
                "trainee": name,
                "score": grade.score,
                "result": grade.result,
                "features": grade.features,
                "minutes": grade.features["time_us"] / 60e6,
            }
        )
    return rows


def table(rows: Sequence[Row]) -> str:
    """Marks of each trainee: mean, tenth and ninetieth hundredth, results, minutes."""
    lines = ["trainee              mean   p10   p90   competent  developing  repeat  not yet   minutes"]
    for name in ORDER:
        mine = [row for row in rows if row["trainee"] == name]
        if not mine:
            continue
        marks = sorted(float(str(row["score"])) for row in mine)
        low, high = marks[len(marks) // 10], marks[-1 - len(marks) // 10]
        told = [sum(row["result"] == word for row in mine) for word in RESULTS]
        minutes = statistics.mean(float(str(row["minutes"])) for row in mine)
        lines.append(
            f"{name:19s} {statistics.mean(marks):5.1f} {low:5.1f} {high:5.1f}   "
            f"{told[0]:9d}  {told[1]:10d}  {told[2]:6d}  {told[3]:7d}   {minutes:7.1f}"
        )
    return "\n".join(lines)


RESULTS = ("competent", "developing", "repeat", "not yet competent")


def in_order(rows: Sequence[Row]) -> str:
    """Of each two neighbours, in how many jobs the better one stands higher, as high, or lower."""
    lines = []
    for better, worse in pairwise(ORDER):
        pairs = [
            (float(str(a["score"])), float(str(b["score"])))
            for a in rows
            for b in rows
            if (a["job"], a["seed"]) == (b["job"], b["seed"]) and (a["trainee"], b["trainee"]) == (better, worse)
        ]
        higher, alike = sum(a > b for a, b in pairs), sum(a == b for a, b in pairs)
        lines.append(f"{better} over {worse}: {higher} higher, {alike} alike, {len(pairs) - higher - alike} lower")
    return "\n".join(lines)


def known(file: Path | None) -> list[Row]:
    """Marks that were kept."""
    if file is None or not file.exists():
        return []
    return [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]


def made(pattern: str, seeds: int, done: set[tuple[object, object]]) -> Iterator[Row]:
    """Marks as they come, of what isn't done; the jobs in an order of which any beginning is a fair sample."""
    paths = [path for path in job_files() if fnmatch.fnmatch(path.stem, pattern) and asked_for_a_cause(path)]
    Random(1).shuffle(paths)
    work = [(path, seed) for seed in range(seeds) for path in paths if (path.stem, seed) not in done]
    sites = {load_job(path).site: load_job(path).base_site for path, _ in work}
    for site in sites.values():
        Tables().get(site)
    with ProcessPoolExecutor(mp_context=get_context("spawn"), initializer=compiler.load) as crew:
        for told in as_completed([crew.submit(one, *each) for each in work]):
            rows = told.result()
            print(", ".join([str(rows[0]["job"]), *(f"{row['score']}" for row in rows)]), flush=True)
            yield from rows


def main() -> None:
    """Play, and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seeds", type=int, default=1, help="how many draws of each job")
    asked.add_argument("--jobs", default="*", help="which jobs, by a pattern of their files' names")
    asked.add_argument("--keep", type=Path, help="a file for the marks, one a line; who stops goes on from there")
    told = asked.parse_args()
    compiler.load()
    rows = known(told.keep)
    for row in made(told.jobs, told.seeds, {(row["job"], row["seed"]) for row in rows}):
        rows.append(row)
        if told.keep is not None:
            with told.keep.open("a", encoding="utf-8") as out:
                print(json.dumps(row), file=out)
    for grade in ("learner", "working", "senior", ""):
        print(f"\n{grade or 'all'}\n" + table([row for row in rows if not grade or row["grade"] == grade]))
    print("\n" + in_order(rows))


if __name__ == "__main__":
    main()
