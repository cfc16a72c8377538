"""What a radio word may move."""

from __future__ import annotations

import math
from typing import Final

from sim.bench.proof.asked import Run, number, starts
from sim.bench.proof.entry import Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record


def _moved_by(record: Record, what: str, said: str) -> Breach | None:
    """A start before which nothing of worth was given, but this was."""
    for run in starts(record):
        given = [each for each in run.asked if each.what == what]
        if given and not run.worth and not _is_due_to_close(record, run):
            return Breach(run.at, said.format(by=given[-1].by))
    return None


def _is_due_to_close(record: Record, run: Run) -> bool:
    """Whether auto-close is on and has waited for as long as it waits: then the gate closes, whatever was sent.

    A controller that shows no settings has none that is known of.
    """
    sheet = record.sheet(run.at)
    waits = [number(sheet, name) for name in ("auto-close after", "auto-close after a passage")]
    due = min((seconds for seconds in waits if seconds > 0.0), default=math.inf)
    return run.way < 0 and sheet.get("auto-close") == "on" and run.at - run.rested >= due * 1e6


def _a_stranger_moves_nothing(record: Record, bounds: Bounds) -> Breach | None:
    return _moved_by(record, "stranger", "moves at the word of transmitter {by}, which is not enrolled any more")


def _a_copy_moves_nothing(record: Record, bounds: Bounds) -> Breach | None:
    return _moved_by(record, "old word", "moves at an old word of the transmitter of {by}")


ENTRIES: Final = (
    Property(
        "a transmitter that was deleted moves nothing",
        "A transmitter that is not enrolled, or whose holder was deleted, starts no movement.",
        "Whoever lost the right to come in comes in.",
        "common practice, no source; Facts 5.5 for the code",
        "terminals",
        _a_stranger_moves_nothing,
        needs=("transmitter",),
        focus=Focus(phrases=("deleted", "service"), first=("deleted",)),
    ),
    Property(
        "a copied radio word moves nothing",
        "A word with a rolling code that was received before, or one older than that, starts no movement.",
        "A recorder in the hedge opens the gate.",
        "Facts 5.5, common practice",
        "terminals",
        _a_copy_moves_nothing,
        needs=("transmitter",),
        focus=Focus(phrases=("copied word", "replay"), first=("copied word",)),
    ),
)
