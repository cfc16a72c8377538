"""A counterexample on file, so that it can be played again by its id: the gate, the case, and of what it is one.

A stranger's controller is held by its digest, never by a path: whoever plays the case again names the file himself.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sim.bench.proof.case import Case
from sim.bench.proof.order import Order
from sim.bench.proof.report import Counterexample
from sim.errors import DataError
from sim.site import Site, dump_site, restore_site

FORMAT: Final = "gudgeon-case/1"

MOST_BYTES: Final = 4 * 1024 * 1024
"""A longer file is refused."""


@dataclass(frozen=True, slots=True)
class Kept:
    """One counterexample as it stands on file."""

    site: Site
    property: str
    case: Case
    seed: int
    controller: str
    controller_digest: str
    """Empty for the reference controller."""
    bounds: Mapping[str, float]
    """Bounds that were set otherwise when it was found."""


def write_case(folder: Path, order: Order, found: Counterexample) -> Path:
    """Write one; returns its file. Raises OSError if it can't be written."""
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / f"{found.id}.json"
    data = {
        "format": FORMAT,
        "property": found.property,
        "seed": found.seed,
        "controller": order.source.name if order.source else "",
        "controller digest": order.source.digest if order.source else "",
        "bounds": dict(order.bounds),
        "case": found.case.as_base_types(),
        "site": dump_site(order.site),
    }
    file.write_text(json.dumps(data, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    return file


def read_case(file: Path) -> Kept:
    """The counterexample in a file. Raises DataError saying what is wrong with it."""
    try:
        if file.stat().st_size > MOST_BYTES:
            raise DataError(f"{file}: longer than {MOST_BYTES} bytes; no case is")
        data: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    except OSError as error:
        raise DataError(f"{file}: can't be read ({error.strerror})") from error
    except (ValueError, RecursionError) as error:
        raise DataError(f"{file}: no case; it is not JSON ({error})") from error
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise DataError(f"{file}: no case; its format is not {FORMAT}")
    try:
        return Kept(
            site=restore_site(data["site"], str(file)),
            property=str(data["property"]),
            case=Case.from_base_types(data["case"]),
            seed=int(data["seed"]),
            controller=str(data["controller"]),
            controller_digest=str(data["controller digest"]),
            bounds={str(name): float(value) for name, value in data["bounds"].items()},
        )
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise DataError(f"{file}: a damaged case ({type(error).__name__}: {error})") from error
