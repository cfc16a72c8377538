"""That a controller is settled by what it reads, and that it never gets stuck."""

from __future__ import annotations

import copy
from typing import Final

from sim.bench.proof.asked import number, runs
from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.record import Done, Record
from sim.units import Us

_TAPS: Final = ("press", "release")


def _same_inputs_same_outputs(record: Record, bounds: Bounds) -> Breach | None:
    """A copy from the beginning is fed what was read, and must answer the same to the bit."""
    if record.twin is None:
        return None
    twin = copy.deepcopy(record.twin)
    returns = {at for at, on in record.power[1:] if on}
    for row in record.rows:
        now = Us(row.at + record.found)
        if row.at in returns:
            twin.power_up(now)
        answer = twin.scan(now, row.inputs)
        if answer.outputs != row.outputs:
            return Breach(row.at, f"a copy that read the same answers {answer.outputs}, not {row.outputs}")
    return None


def _no_state_without_an_exit(record: Record, bounds: Bounds) -> Breach | None:
    """After everything was put right the first commands move it; where nothing is learned, the jog does."""
    rights = record.done("put right")
    if not rights or number(record.sheet(record.end), "motor duty", 100.0) < 100.0:
        return None
    right = rights[-1]
    later = [step for step in record.steps if step.at >= right.at and step is not right and not step.refused]
    if any(step.act not in (*_TAPS, "unseal sheet", "jog press", "jog release") for step in later):
        return None
    at = later[0].at if later else right.at
    row = record.row_at(record.end)
    learned = row is None or any(row.travel)
    asked = [step for step in later if step.act == "jog press" or (learned and _is_press(step))]
    moves = [run.at for run in runs(record) if run.ends >= at and not (learned and run.by_hand)]
    within = round(bounds["within"] * 1e6)
    if not asked or moves or record.end < asked[-1].at + within:
        return None
    said = f"{row.state}, {row.message}" if row is not None else "no scan at all"
    return Breach(asked[-1].at + within, f"nothing moves it any more: {said}")


def _is_press(step: Done) -> bool:
    return step.act == "press" and step.arguments["control"] in ("open button", "close button")


ENTRIES: Final = (
    Property(
        "same inputs, same outputs",
        "A copy of the controller as it was at the beginning, fed what was read at each scan, drives the same.",
        "What can't be repeated can't be tested, and what went wrong can't be found.",
        "IEC 61508-3, deterministic software, from memory",
        "terminals",
        _same_inputs_same_outputs,
        focus=Focus(phrases=("command", "beam", "dip", "radio"), first=("begun opening", "pedestrian")),
    ),
    Property(
        "no state without an exit",
        "Whatever was done to the gate, once everything is put right a command newly given moves it, or where "
        "nothing is learned the jog at the panel; only a motor that must rest by the sheet makes it wait longer.",
        "It stands, and only switching it off and on helps; somebody is shut in.",
        "common practice, no source",
        "terminals",
        _no_state_without_an_exit,
        bounds=(Bound("within", 2.0, "s", "a jog needs neither test nor warning, ours"),),
        focus=Focus(
            phrases=("stop", "both", "beam", "edge", "dip", "jog", "learn", "sealed", "body"),
            first=("open then close", "begun opening"),
            last=("put right",),
            sheet={"motor duty": (100.0,)},
        ),
    ),
)
