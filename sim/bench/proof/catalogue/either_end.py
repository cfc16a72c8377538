"""Every setting at both ends of its range."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from sim.bench.proof.draws import NEVER_VARIED
from sim.bench.proof.entry import Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record
from sim.controller.settings import CATALOGUE, Setting, Value

_AS_IT_IS: Final = NEVER_VARIED | {"stop circuit", "motor duty"}
"""What the gate is, what no gate may do without, and what keeps a gate still that has just learned."""


def _ends(entry: Setting) -> tuple[Value, ...]:
    """Every choice; of an amount the default as often as both ends together, so that not all is at an end at once."""
    if entry.choices:
        return tuple(dict.fromkeys((entry.default, *entry.choices)))
    ends = tuple(value for value in (entry.least, entry.most) if value is not None)
    return (entry.default, entry.default, *ends)


def _sheet() -> Mapping[str, tuple[Value, ...]]:
    return {name: _ends(entry) for name, entry in CATALOGUE.items() if name not in _AS_IT_IS}


def at_either_end(others: Sequence[Property]) -> Property:
    """The promise that all others hold whatever the sheet says."""

    def check(record: Record, bounds: Bounds) -> Breach | None:
        broken = [
            (breach.at, each.name, breach)
            for each in others
            if each.promised(record) and (breach := each.look(record)) is not None
        ]
        if not broken:
            return None
        _, name, first = min(broken, key=lambda each: each[0])
        return replace(first, said=f"{name}: {first.said}")

    return Property(
        "every promise holds at either end of every setting",
        "With any setting at either end of its range, and any choice of it, every other promise holds.",
        "The gate is safe as it left the works, and not as it was set.",
        "common practice, no source",
        "terminals",
        check,
        focus=Focus(
            phrases=("command", "beam", "edge", "stop", "pedestrian", "nothing"),
            first=("pedestrian", "open then close"),
            sheet=_sheet(),
        ),
    )
