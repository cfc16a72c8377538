"""That a controller answers at all, and answers what it may."""

from __future__ import annotations

from typing import Final

from sim.bench.proof.entry import NO_ANSWER, Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record


def _answers(record: Record, bounds: Bounds) -> Breach | None:
    return Breach(record.end, record.failed) if record.failed else None


ENTRIES: Final = (
    Property(
        NO_ANSWER,
        "At every scan the controller answers, within its contract and without an error.",
        "A controller that fails leaves its outputs as they were last, with a leaf on its way.",
        "the contract of the terminals, sim.controller.ports",
        "terminals",
        _answers,
        focus=Focus(),
    ),
)
