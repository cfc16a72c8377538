"""What is written down and what is kept: the event log, a sealed sheet, what learning leaves behind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.bench.proof.asked import GOES_ON, WORTHLESS, follows, givens, runs
from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.guard_tests import BEAMS, REACTS, SCAN, guard_tests
from sim.bench.proof.readings import reads_clear
from sim.bench.proof.record import Record, Row
from sim.controller.ports import GUARD_TERMINALS

KEPT: Final = 400
"""So many notes a log holds at least before the oldest go [notes]. Ours."""

Due = tuple[int, tuple[str, ...], str, str]
"""(when a note is due, of which kinds, about what (empty: whatever), why it is due)."""


def _complete(record: Record, bounds: Bounds) -> Breach | None:
    """Every note that is due stands there, in order, at its time, numbered without a gap."""
    wrong = _in_order(record)
    if wrong is not None:
        return wrong
    late = round(bounds["late by"] * 1e6)
    for at, kinds, what, why in sorted(_due(record)):
        if at > record.end - SCAN:
            continue
        noted = [n for n in record.happenings if n.kind in kinds and at <= n.at <= at + late and what in ("", n.what)]
        if not noted:
            return Breach(at, f"{why}, and the log has no note of it")
    return None


def _in_order(record: Record) -> Breach | None:
    scans = {row.at for row in record.rows}
    number, at = record.first_note, 0
    for note in record.happenings:
        skipped = note.number != number + 1 and not (number == record.first_note and len(record.happenings) >= KEPT)
        if skipped:
            return Breach(note.at, f"note {note.number} follows note {number} in the log")
        if note.at < at or note.at not in scans:
            return Breach(note.at, f"note {note.number} bears a time at which nothing was read")
        number, at = note.number, note.at
    return None


def _due(record: Record) -> Iterator[Due]:
    yield from _due_commands(record)
    yield from _due_guards(record)
    yield from _due_movements(record)
    yield from _due_learning(record)
    for at, on in record.power[1:]:
        if on:
            yield at, ("power",), "", "power came back"
    for at, _ in record.sheets[1:]:
        yield at, ("sheet",), "", "the sheet was changed"


def _due_commands(record: Record) -> Iterator[Due]:
    for given in givens(record):
        if given.what in ("learn", *(WORTHLESS - {"both"})):
            continue
        kinds = ("movement", "refused") if given.what == "jog" else ("command", "refused")
        yield given.at, kinds, "", f"{given.what} was given by {given.by}"
    for row in record.rows:
        for request in row.inputs.requests:
            if request.kind.startswith("delete"):
                yield row.at, ("transmitter", "refused"), "", f"'{request.kind}' was asked at the panel"


def _due_guards(record: Record) -> Iterator[Due]:
    tested = [(test.dropped, test.restored + REACTS + 2 * SCAN) for test in guard_tests(record)]
    dark_until = 0
    for before, row in follows(record):
        if not row.outputs.emitter_supply:
            dark_until = row.at + 2 * REACTS + 2 * SCAN
        if before is None:
            continue
        shut_off = row.at <= dark_until or any(start <= row.at <= end for start, end in tested)
        for guard in _changed(record, before, row):
            if not (shut_off and guard in BEAMS):
                yield row.at, ("guard",), guard, f"the {guard} changed"


def _changed(record: Record, before: Row, row: Row) -> list[str]:
    sheet = record.sheet(row.at)
    return [
        guard
        for guard in GUARD_TERMINALS
        if sheet.get(guard, "not fitted") != "not fitted"
        and reads_clear(guard, row.guard_v(guard)) != reads_clear(guard, before.guard_v(guard))
    ]


def _due_movements(record: Record) -> Iterator[Due]:
    """Where a movement begins from rest and comes to rest; a push that frees a lock is told with what follows."""
    given = {each.at for each in givens(record)}
    found = runs(record)
    for run, after in zip(found, (*found[1:], None), strict=False):
        if run.from_rest and run.first.state != "freeing the lock":
            yield run.at, ("movement", "learning"), "", f"it began: {run.first.state or 'driven'}"
        row = record.row_at(run.ends)
        if row is None or row.at != run.ends:
            continue
        if row.state and row.state not in GOES_ON:
            pushed = ("refused",) if run.first.state == "freeing the lock" else ()
            yield run.ends, ("movement", "learning", *pushed), "", "it came to rest"
        turned = after is not None and run.first.state == "closing" and after.first.state == "opening"
        clear = all(reads_clear(g, row.guard_v(g)) for g in GUARD_TERMINALS)
        if turned and after is not None and not after.from_rest and clear and run.ends not in given:
            yield run.ends, ("obstacle",), "", "it met something and turned round"


def _due_learning(record: Record) -> Iterator[Due]:
    for before, row in follows(record):
        if before is not None and (row.state == "travel learning") != (before.state == "travel learning"):
            yield row.at, ("learning",), "", f"learning {'began' if row.state == 'travel learning' else 'ended'}"


def _sealed_sheet_stays(record: Record, bounds: Bounds) -> Breach | None:
    """Between the note that says sealed and the one that says unsealed the sheet is the same."""
    turns = [(n.at, n.what == "sealed") for n in record.happenings if n.kind == "sheet" and n.what.endswith("sealed")]
    for at, _ in record.sheets[1:]:
        before = [sealed for when, sealed in turns if when < at]
        if before and before[-1]:
            return Breach(at, "the sheet was changed though it is sealed")
    return None


def _learning_that_ends_early_keeps_nothing(record: Record, bounds: Bounds) -> Breach | None:
    begun: int | None = None
    for row in record.rows:
        if row.state == "travel learning":
            begun = row.at if begun is None else begun
            continue
        if begun is None:
            continue
        finished = any(
            n.kind == "learning" and n.detail.startswith("finished") and begun < n.at <= row.at
            for n in record.happenings
        )
        if not finished and any(row.travel):
            return Breach(row.at, f"learning ended early, and a travel of {row.travel} counts is kept")
        if finished:
            begun = None
    return None


ENTRIES: Final = (
    Property(
        "the event log is complete",
        "Every command, change of a guard outside its test, beginning and end of a movement, obstacle, return of "
        "power, learning, change of the sheet and change of a transmitter has its note, at the scan at which it was "
        "read, in order, numbered without a gap.",
        "After an accident the log tells a story that didn't happen.",
        "EN 13241, records of faults, common practice",
        "terminals",
        _complete,
        bounds=(Bound("late by", 0.0, "s", "the scan at which it was read, ours"),),
        focus=Focus(
            phrases=("beam", "edge", "command", "stop", "radio", "service", "dip", "jog", "body"),
            first=("open then close", "begun opening", "pedestrian"),
        ),
    ),
    Property(
        "a sealed sheet stays as it is",
        "Between sealing and unsealing no setting changes.",
        "What was handed over is not what stands there, and nobody knows who changed it.",
        "EN 13241 and EN 12453, the documents of the handed-over gate, as Facts 2.6 restates them",
        "terminals",
        _sealed_sheet_stays,
        focus=Focus(phrases=("sealed", "service"), first=("sealed",)),
    ),
    Property(
        "learning that ends early keeps nothing",
        "Once travel learning has begun, no learned travel is shown until a learning was finished.",
        "It runs at full speed by the stops of another day.",
        "common practice, no source",
        "terminals",
        _learning_that_ends_early_keeps_nothing,
        focus=Focus(phrases=("stop", "edge", "beam", "command"), first=("learns for a while",)),
    ),
)
