"""Closing by itself: what it never does, and what it waits for."""

from __future__ import annotations

from typing import Final

from sim.bench.proof.asked import Run, givens, number, runs, starts
from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.guard_tests import BEAMS, REACTS, guard_tests
from sim.bench.proof.readings import reads_clear
from sim.bench.proof.record import Record, Row
from sim.controller.ports import GUARD_TERMINALS
from sim.controller.settings import Value

_KEEPERS: Final = ("timer contact", "emergency contact")
"""Contacts that keep an open gate open while they are closed."""


def _by_itself(record: Record) -> list[Run]:
    return [run for run in starts(record) if run.way < 0 and run.by_itself]


def _fitted(record: Record, at: int, guard: str) -> bool:
    return record.sheet(at).get(guard, "not fitted") != "not fitted"


def _tripped(record: Record, row: Row) -> list[str]:
    """Guards that are declared and don't read clear, but for beams whose emitters are dark for a test."""
    dark = not row.outputs.emitter_supply or any(
        test.dropped <= row.at <= test.restored + REACTS for test in guard_tests(record)
    )
    return [
        guard
        for guard in GUARD_TERMINALS
        if _fitted(record, row.at, guard)
        and not reads_clear(guard, row.guard_v(guard))
        and not (dark and guard in BEAMS)
    ]


def _halts(record: Record) -> list[tuple[int, str]]:
    """Every instant at which the gate was halted, and by what."""
    found = [(each.at, "opposite commands") for each in givens(record) if each.what == "both"]
    steps = {each.at for each in givens(record) if each.what == "step"}
    driven = False
    for row in record.rows:
        if "stop circuit" in _tripped(record, row):
            found.append((row.at, "the stop circuit"))
        halting = [g for g in _tripped(record, row) if record.sheet(row.at)[g] == "halt"]
        if driven and halting:
            found.append((row.at, f"the {halting[0]}"))
        if driven and row.at in steps:
            found.append((row.at, "the step button"))
        driven = row.driven
    return sorted(found)


def _never_after_a_halt(record: Record, bounds: Bounds) -> Breach | None:
    halts = _halts(record)
    stops = {at for at, _ in halts}
    asks = [each.at for each in givens(record) if each.what != "both" and each.at not in stops]
    for run in _by_itself(record):
        before = [halt for halt in halts if halt[0] <= run.at]
        if before and not any(before[-1][0] < at <= run.at for at in asks):
            return Breach(run.at, f"closes by itself after {before[-1][1]} halted it and nobody gave a command")
    return None


def _never_with_a_guard_tripped(record: Record, bounds: Bounds) -> Breach | None:
    for run in _by_itself(record):
        tripped = _tripped(record, run.first)
        if tripped:
            return Breach(run.at, f"closes by itself though {', '.join(tripped)} is tripped")
    return None


def _never_beyond_its_retries(record: Record, bounds: Bounds) -> Breach | None:
    """Counts the closings that met something: they turned round with nothing given and no guard but edges tripped."""
    given = [each.at for each in givens(record)]
    found = runs(record)
    alone = _by_itself(record)
    met = 0
    since = -1
    for run, after in zip(found, (*found[1:], None), strict=False):
        asked = any(since < at <= run.at for at in given)
        since = run.at
        met = 0 if asked else met
        most = number(record.sheet(run.at), "obstacle retries")
        if run in alone and met > most:
            return Breach(
                run.at, f"closes by itself again after it met something {met} times; the sheet allows {most:g}"
            )
        if run.way < 0 and run.from_rest:
            turned = after is not None and after.way > 0 and not after.from_rest
            met = met + 1 if turned and _met_something(record, run) else 0 if not turned else met
    return None


def _met_something(record: Record, run: Run) -> bool:
    row = record.row_at(run.ends)
    if row is None or any(given.at == row.at for given in givens(record)):
        return False
    return all(guard.endswith("edge") for guard in _tripped(record, row))


def _waits_as_long_as_the_sheet_says(record: Record, bounds: Bounds) -> Breach | None:
    for run in _by_itself(record):
        sheet = record.sheet(run.at)
        since, passed = _undisturbed_since(record, run)
        if record.sheet(since) is not sheet:
            continue
        wait = number(sheet, "auto-close after")
        shorter = number(sheet, "auto-close after a passage")
        wait = min(wait, shorter) if passed and shorter else wait
        waited = (run.at - since) / 1e6 - number(sheet, "warning before moving")
        if waited < wait - bounds["short by"]:
            return Breach(run.at, f"closes by itself after {waited:.2f} s undisturbed; the sheet asks for {wait:g} s")
    return None


def _undisturbed_since(record: Record, run: Run) -> tuple[int, bool]:
    """(since when it stood open and nothing restarted the wait [µs], whether a beam was passed while it stood)."""
    since, passed = run.rested, False
    disturbed: list[str] = []
    for row in record.rows:
        if not run.rested <= row.at <= run.at:
            continue
        tripped = _tripped(record, row)
        passed = passed or any(guard in BEAMS for guard in tripped)
        if disturbed:
            since = row.at
        disturbed = [*tripped, *(name for name in _KEEPERS if row.pressed(name))]
    opened = [each.at for each in givens(record) if each.what in ("open", "pedestrian") and since < each.at <= run.at]
    return max([since, *opened]), passed


def _keeps_open_what_is_open(record: Record, bounds: Bounds) -> Breach | None:
    for run in starts(record):
        kept = [name for name in _KEEPERS if run.first.pressed(name)]
        if kept and run.way < 0:
            return Breach(run.at, f"closes from rest though the {kept[0]} is closed")
        if kept and run.by_itself and run.way >= 0:
            return Breach(run.at, f"opens though the {kept[0]} was closed all the time and nothing was given")
    return None


_SOURCE: Final = "EN 12453, automatic closing, as Facts 2.1 and 2.3 restate it"
_SOON: Final[dict[str, tuple[Value, ...]]] = {
    "auto-close": ("on",),
    "auto-close after": (5.0,),
    "open and close buttons": ("a press is enough",),
    "motor duty": (100.0,),
}

ENTRIES: Final = (
    Property(
        "never closes by itself after a halt",
        "After the stop circuit, a guard that halts, the step button or opposite commands have halted the gate, it "
        "closes by itself only after a new command.",
        "Somebody has stopped the gate because of a danger, walks there, and it closes on its own.",
        _SOURCE,
        "terminals",
        _never_after_a_halt,
        focus=Focus(phrases=("stopped for a while", "both"), first=("whole opening",), sheet=_SOON),
    ),
    Property(
        "never closes by itself against a guard",
        "Closing by itself never begins while any declared guard reads tripped.",
        "Somebody stands in the opening when the wait is over.",
        _SOURCE,
        "terminals",
        _never_with_a_guard_tripped,
        focus=Focus(phrases=("stays in a beam", "edge"), first=("whole opening",), sheet=_SOON),
    ),
    Property(
        "never closes by itself beyond its retries",
        "After a command, closing by itself begins at most as many times after it met something as the sheet allows.",
        "It closes on what lies there again and again.",
        _SOURCE,
        "terminals",
        _never_beyond_its_retries,
        focus=Focus(
            phrases=("nothing",),
            first=("stands in the way",),
            sheet={
                **_SOON,
                "obstacle retries": (0.0, 1.0),
                "active edge": ("reopen",),
                "inactive edge": ("reopen",),
                "warning before moving": (2.0, 0.0),
            },
        ),
    ),
    Property(
        "waits before it closes as long as the sheet says",
        "Closing by itself begins no sooner than the wait of the sheet and its warning after the gate came to rest, "
        "an opening command was given, or a guard or a contact that keeps it open let go; sooner after a passage "
        "only where the sheet says so.",
        "A slow walker, or the second of two, is caught.",
        _SOURCE,
        "terminals",
        _waits_as_long_as_the_sheet_says,
        bounds=(Bound("short by", 0.02, "s", "two scans of 10 ms, ours"),),
        focus=Focus(
            phrases=("passes", "nothing"),
            first=("whole opening", "pedestrian"),
            sheet={**_SOON, "auto-close after": (5.0, 10.0), "auto-close after a passage": (0.0, 2.0)},
        ),
    ),
    Property(
        "a contact that stays closed only keeps open",
        "While the timer contact or the emergency contact is closed no closing begins from rest, and a contact that "
        "reads closed when power comes, or that merely stays closed, opens nothing.",
        "The gate shuts on the traffic that the timer lets in, or a gate that was shut by hand opens at night when "
        "power comes back.",
        "maintained contacts, common practice, no source; Facts 2.3 for the return of power",
        "terminals",
        _keeps_open_what_is_open,
        focus=Focus(
            phrases=("dip", "nothing", "command"),
            first=("timer", "timer without power"),
            sheet={"auto-close": ("on", "off"), "auto-close after": (5.0,)},
        ),
    ),
)
