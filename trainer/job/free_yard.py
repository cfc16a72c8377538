"""A free yard: a gate to do with as one likes. It is a job that asks for nothing, written with its site to a folder.

So a free yard is begun, kept, resumed and replayed as any job is, also after the site's own file was changed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sim.bench.fault_readings import handed_over
from sim.faults.catalogue import named
from sim.said import said
from sim.site import Site, dump_site, load_site
from trainer.job.written import arrival_data, as_yaml

JOB: Final = "job.yaml"
SITE: Final = "site.yaml"

TITLE: Final = said("Free yard")
BRIEF: Final = said(
    "Nothing is asked here and nothing is judged. Do with this gate as you like; leave whenever you like."
)
CAUTIONS: Final = (
    said("A training model. It certifies nothing. Real gates crush and kill; follow the standard and local codes."),
)


@dataclass(frozen=True, slots=True)
class FreeYard:
    """What somebody wants to work on."""

    site: Path
    faults: tuple[tuple[str, float], ...] = ()
    """(name in the catalogue, how grave from 0 to 1)."""
    commissioned: bool = True
    """As a good installer leaves it; else as it came out of its box, isolated."""
    seed: int = 0


def write_free_yard(folder: Path, wanted: FreeYard) -> Path:
    """Write the job and its site into a folder, which is made; returns the job's file.

    Raises ScenarioError for a site that can't be used, DataError for a fault that isn't there, OSError.
    """
    site = load_site(wanted.site)
    for name, _share in wanted.faults:
        named(name)
    folder.mkdir(parents=True)
    (folder / SITE).write_text(as_yaml(dump_site(site)), encoding="utf-8")
    path = folder / JOB
    path.write_text(as_yaml(_job(site, wanted)), encoding="utf-8")
    return path


def _job(site: Site, wanted: FreeYard) -> dict[str, Any]:
    return {
        "format": "gudgeon-job/1",
        "title": TITLE,
        "site": SITE,
        "graded": False,
        "brief": BRIEF,
        "points": list(found_with(wanted.faults)),
        "arrival": {**_arrival(site, wanted), "faults": [{"fault": n, "share": s} for n, s in wanted.faults]},
        "teaching": BRIEF,
        "cautions": list(CAUTIONS),
    }


def found_with(faults: Iterable[tuple[str, float]]) -> tuple[str, ...]:
    """What is told of how a free yard is found, from each fault and how grave it is; once written to a file these
    are texts without parts, so whoever shows them says them anew."""
    return tuple(map(_found, faults)) or (said("Found sound."),)


def _found(fault: tuple[str, float]) -> str:
    name, share = fault
    if share in (0.0, 1.0):
        return said("Found with: {fault}, grave." if share else "Found with: {fault}, mild.", fault=name)
    return said("Found with: {fault}, {share:.0f} % of the way from mild to grave.", fault=name, share=share * 100)


def _arrival(site: Site, wanted: FreeYard) -> dict[str, Any]:
    if not wanted.commissioned:
        battery = {"battery_linked": False} if site.supply.battery is not None else {}
        return {"mains": "off", **battery}
    return arrival_data(handed_over(site))
