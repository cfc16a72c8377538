"""A counterexample as a job: the gate goes through what broke a promise; the window opens a moment before that."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sim.said import said
from sim.site import Site, dump_site
from sim.world.arrival import Arrival
from sim.world.lived import LivedAct
from sim.world.played_back import NO_EFFECT, Recorded
from trainer.job.put_out import as_data
from trainer.job.written import arrival_data, as_yaml

BEFORE_S: Final = 1.5
"""How long before it goes wrong the window opens [s]. Ours."""


@dataclass(frozen=True, slots=True)
class Stranger:
    """A controller that the window doesn't run, and what it put out."""

    name: str
    digest: str
    """SHA-256 of its file, hexadecimal."""
    record: Recorded


@dataclass(frozen=True, slots=True)
class Shown:
    """What is to be shown, in words and as data."""

    id: str
    property: str
    promise: str
    why: str
    said: str
    at_s: float
    told: tuple[tuple[str, str], ...]
    """(time, sentence) of what is done."""
    acts: tuple[LivedAct, ...]
    stranger: Stranger | None = None
    """Whose record is played back; None where the reference controller runs the gate itself."""


def write_job(folder: Path, site: Site, arrival: Arrival, shown: Shown) -> Path:
    """Write the job and its site below a folder; returns the job's file, for `gudgeon start --job`.

    `arrival` is how the gate stood when the acts began. Raises OSError if the files can't be written.
    """
    (folder / "sites").mkdir(parents=True, exist_ok=True)
    (folder / "jobs").mkdir(parents=True, exist_ok=True)
    name = f"broken_{shown.id}"
    (folder / "sites" / f"{name}.yaml").write_text(as_yaml(dump_site(site)), encoding="utf-8")
    job = folder / "jobs" / f"{name}.yaml"
    job.write_text(as_yaml(_job(name, arrival, shown)), encoding="utf-8")
    return job


def _job(name: str, arrival: Arrival, shown: Shown) -> dict[str, Any]:
    opens = max(0.0, shown.at_s - BEFORE_S)
    lived: dict[str, Any] = {
        "acts": [{"at_s": a.at / 1e6, "act": a.act, "given": dict(a.arguments)} for a in shown.acts],
        "opens_at_s": opens,
    }
    played = ""
    if shown.stranger is not None:
        lived["record"] = as_data(shown.stranger.name, shown.stranger.digest, shown.stranger.record)
        played = f"This is a played-back record of {lived['record']['controller']}: {NO_EFFECT}. "
    return {
        "format": "gudgeon-job/1",
        "title": f"Broken promise {shown.id}",
        "order": 900,
        "grade": "senior",
        "minutes": 10,
        "site": f"{name}.yaml",
        "brief": f"{played}Broken: {shown.property}. {_sentences(shown.told)}"[:1990],
        "points": [shown.promise[:400], f"{shown.at_s:.2f} s - {shown.said}"[:400], shown.why[:400]],
        "arrival": {**arrival_data(arrival), "lived": lived},
        "teaching": f"{shown.promise} {shown.why}"[:990],
        "cautions": [said("A controller that does this may not run a gate.")],
        "acceptance": ["made safe"],
    }


def _sentences(told: Iterable[tuple[str, str]]) -> str:
    return " ".join(f"{at} {sentence}" for at, sentence in told)
