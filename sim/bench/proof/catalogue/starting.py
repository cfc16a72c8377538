"""What a movement from rest needs before it begins: somebody who asked, a guard test, a warning, a free lock."""

from __future__ import annotations

from typing import Final

from sim.bench.proof.asked import GOES_ON, givens, lead, number, runs, starts
from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.guard_tests import REACTS, fitted, guard_tests
from sim.bench.proof.readings import reads_clear
from sim.bench.proof.record import Record, Row

_MS: Final = 1_000
_SHORT: Final = 100 * _MS
"""What is left to rounding on the grid of scans, and to the pause by the brake before a push [µs]. Ours."""


def _ignores_what_is_only_held(record: Record, bounds: Bounds) -> Breach | None:
    """Every start from rest has somebody who asked for it shortly before, or is the auto-close of the sheet."""
    for run in starts(record):
        if run.asked or (run.way < 0 and record.sheet(run.at).get("auto-close") == "on"):
            continue
        held = [c for c in ("open button", "close button", "step button", "key switch") if run.first.pressed(c)]
        why = f"only {', '.join(held)} is held" if held else "nobody asked for it"
        return Breach(run.at, f"starts from rest, and {why}")
    return None


def _opposites_are_a_halt(record: Record, bounds: Bounds) -> Breach | None:
    """Given together they stop what moves by itself, and start nothing."""
    within = round(bounds["within"] * 1e6)
    for given in givens(record):
        if given.what != "both":
            continue
        for row, until in record.spans():
            late = max(row.at, given.at + within)
            if row.at > given.at + 2 * within or until <= late:
                continue
            if row.driven and row.state != "backing off" and not _by_hand(row):
                return Breach(late, "opening and closing are given together, and it is driven all the same")
    for run in starts(record):
        last = run.asked[-1] if run.asked else None
        if last is not None and last.what == "both":
            return Breach(run.at, f"starts after {last.by} was given against another command")
    return None


def _by_hand(row: Row) -> bool:
    return row.state == "jog" or row.state.startswith("hold-to-run")


def _tests_before_it_starts(record: Record, bounds: Bounds) -> Breach | None:
    for run in starts(record):
        sheet = record.sheet(run.at)
        if sheet.get("guard test") != "on":
            continue
        since = max(run.rested, run.at - lead(sheet))
        tests = [test for test in guard_tests(record) if since <= test.dropped and test.restored <= run.at]
        for beam in fitted(record, run.at):
            if any(test.of(beam) == "passed" for test in tests) or _was_tripped(record, beam, since, run.at):
                continue
            return Breach(run.at, f"starts though the {beam} was not seen to trip and to recover")
    return None


def _was_tripped(record: Record, beam: str, since: int, until: int) -> bool:
    """Whether a beam read tripped with its emitter fed: a guard that is tripped already is no failed test."""
    dark = [(test.dropped, test.restored + REACTS) for test in guard_tests(record)]
    before = record.row_at(since) or record.before
    looked = [row for row in record.rows if since < row.at <= until]
    return any(
        row.outputs.emitter_supply
        and not reads_clear(beam, row.guard_v(beam))
        and not any(dropped < row.at <= over for dropped, over in dark)
        for row in (*([before] if before else []), *looked)
    )


def _no_start_after_a_failed_test(record: Record, bounds: Bounds) -> Breach | None:
    for run in runs(record):
        if not run.from_rest or run.first.state == "jog":
            continue
        for beam in fitted(record, run.at):
            results = [
                test.of(beam)
                for test in guard_tests(record)
                if test.restored + (REACTS if test.of(beam) == "dark" else 0) <= run.at
            ]
            told = [each for each in results if each in ("passed", "silent", "dark")]
            if not told or told[-1] == "passed" or _allowed_in_sight(record, run.first):
                continue
            return Breach(run.at, f"moves by itself though the {beam} failed its last test ({told[-1]})")
    return None


def _allowed_in_sight(record: Record, row: Row) -> bool:
    """Wired hold-to-run, where the survey allows it and somebody holds the control."""
    allowed = record.sheet(row.at).get("hold-to-run after a failed test", "allowed") == "allowed"
    held = any(row.pressed(control) for control in ("open button", "close button", "key switch"))
    return allowed and held and row.state.startswith("hold-to-run")


def _warns_before_it_moves(record: Record, bounds: Bounds) -> Breach | None:
    for run in starts(record):
        wanted = round(number(record.sheet(run.at), "warning before moving") * 1e6)
        lit = run.at - _lit_since(record, run.at)
        if lit < wanted - round(bounds["short by"] * 1e6):
            return Breach(run.at, f"starts after {lit / 1e6:g} s of warning; the sheet asks for {wanted / 1e6:g} s")
    for row in record.rows:
        if row.driven and not row.outputs.lamp:
            return Breach(row.at, "driven with the warning lamp dark")
    return None


def _lit_since(record: Record, at: int) -> int:
    since = at
    for row in reversed([row for row in record.rows if row.at < at]):
        if not row.outputs.lamp:
            break
        since = row.at
    return since


def _frees_the_lock(record: Record, bounds: Bounds) -> Breach | None:
    """A gate that rests shut is only driven open while its lock is driven, or right after its pulse."""
    for run in runs(record):
        sheet = record.sheet(run.at)
        if not run.from_rest or sheet.get("electric lock") != "fitted" or run.way <= 0 or not _shut(record, run.at):
            continue
        late = number(sheet, "relief push") + bounds["after the pulse"]
        pulses = [until for row, until in record.spans() if row.outputs.lock and row.at <= run.at + _SHORT]
        if not pulses or pulses[-1] < run.at - round(late * 1e6):
            return Breach(run.at, "opens from shut though the lock was not driven")
    return None


def _shut(record: Record, at: int) -> bool:
    """Whether both leaves are shut, and the counters say so too: where they don't, nobody at the terminals knows."""
    row = record.row_at(at)
    if row is None or record.before is None:
        return False
    counted = zip(row.inputs.counts, record.before.inputs.counts, strict=True)
    return all(abs(now - then) <= 3 for now, then in counted) and all(
        record.angle_deg(leaf, at) < 1.0 for leaf in (0, 1)
    )


def _pulse_ends(record: Record, bounds: Bounds) -> Breach | None:
    """The lock is never driven longer than its pulse, begun anew where a movement begins while it lasts."""
    since: int | None = None
    begun = [run.at for run in runs(record)]
    for row, until in record.spans():
        if not row.outputs.lock:
            since = None
            continue
        since = row.at if since is None else since
        anew = max([since, *(at for at in begun if since <= at <= row.at)])
        most = round((number(record.sheet(row.at), "lock pulse") + bounds["over by"]) * 1e6)
        if until - anew > most:
            return Breach(anew + most, f"the lock is driven for more than {most / 1e6:g} s")
    return None


def _one_leaf_for_pedestrians(record: Record, bounds: Bounds) -> Breach | None:
    for run in starts(record):
        worth = run.worth
        if not worth or any(each.what != "pedestrian" for each in worth) or run.way <= 0:
            continue
        other = 0 if record.sheet(run.at).get("opens first") == "inactive" else 1
        later = [each.at for each in givens(record) if each.at > worth[-1].at and each.what != "pedestrian"]
        until = min([*later, record.end])
        for row in record.rows:
            if not run.at <= row.at < until:
                continue
            if row.state and row.state not in GOES_ON:
                break
            if row.ways[other] > 0:
                return Breach(row.at, f"the {('active', 'inactive')[other]} leaf opens though one leaf was asked for")
    return None


_WARNING: Final = ("warning before moving", (2.0, 0.0, 0.5, 10.0))

ENTRIES: Final = (
    Property(
        "a command that is only held moves nothing",
        "Every start from rest is asked for shortly before by a command newly given, or is the auto-close of the "
        "sheet; a control held through a halt, a return of power or a cleared guard starts nothing.",
        "The gate sets off at the moment somebody pulls the stop button out, power comes or the way is free, when "
        "nobody expects it.",
        "EN 13241 and EN 12453, no unexpected start, as Facts 2.3 restates it",
        "terminals",
        _ignores_what_is_only_held,
        focus=Focus(
            phrases=("held through a stop", "held past a guard", "hold"),
            first=("held through a stop", "held past a guard"),
        ),
    ),
    Property(
        "opposite commands together are a halt",
        "Opening and closing given together, or one against a control held the other way, stop what moves by itself "
        "and start nothing.",
        "Of two people one is obeyed and the other, who sees the danger, is not.",
        "common practice, no source",
        "terminals",
        _opposites_are_a_halt,
        bounds=(Bound("within", 0.02, "s", "two scans of 10 ms, ours"),),
        focus=Focus(phrases=("both",), first=("both", "begun opening", "whole opening")),
    ),
    Property(
        "tests the guards before it starts",
        "With the guard test on, before each start from rest by command or auto-close the emitters' supply is "
        "dropped, and every beam that read clear is seen to trip and to recover.",
        "A beam that has died unseen protects nobody, and the next movement relies on it.",
        "EN 12453, testing of protective devices of category 2, as Facts 2.2 restates it",
        "terminals",
        _tests_before_it_starts,
        needs=("outer beam",),
        focus=Focus(
            phrases=("nothing", "command", "whole opening"),
            first=("whole opening", "pedestrian"),
            sheet={"auto-close": ("on", "off"), "auto-close after": (5.0,), "guard test": ("on",)},
        ),
    ),
    Property(
        "nothing moves by itself after a failed guard test",
        "After a beam failed its test, until it passes one, nothing is driven from rest, except by hold-to-run at a "
        "wired control in sight where the survey allows it, and except the jog at the panel.",
        "The guard that should stop the gate is dead, and the gate moves on its own.",
        "EN 12453, testing of protective devices of category 2, as Facts 2.2 restates it",
        "terminals",
        _no_start_after_a_failed_test,
        needs=("outer beam",),
        focus=Focus(phrases=("pedestrian", "command", "radio"), first=("bridged",), sheet={"guard test": ("on",)}),
    ),
    Property(
        "warns before it moves",
        "The warning lamp is lit without a break for the warning time of the sheet before each start from rest, and "
        "is lit whenever a leaf is driven.",
        "Nobody steps back in time.",
        "EN 12453 and national rules for warning lamps, as Facts 2.1 restates them",
        "terminals",
        _warns_before_it_moves,
        bounds=(Bound("short by", 0.02, "s", "two scans of 10 ms, ours"),),
        focus=Focus(
            phrases=("command", "nothing", "beam"),
            first=("whole opening", "open then close"),
            sheet=dict([_WARNING, ("auto-close", ("on", "off")), ("auto-close after", (5.0,))]),
        ),
    ),
    Property(
        "frees the lock before it opens",
        "Where an electric lock is fitted, a gate that rests shut is driven open only while the lock is driven or "
        "right after its pulse.",
        "The drive pulls against the bolt, bends it, and one day the gate opens with it in the post.",
        "common practice, no source",
        "terminals",
        _frees_the_lock,
        bounds=(Bound("after the pulse", 0.6, "s", "the pause by the brake after the relief push, ours"),),
        needs=("lock",),
        focus=Focus(
            phrases=("pedestrian", "radio", "command", "jog"),
            first=("pedestrian", "begun opening", "jog"),
            sheet={"electric lock": ("fitted",), "relief push": (0.3, 0.0, 1.0), "lock pulse": (1.5, 0.5, 4.0)},
        ),
    ),
    Property(
        "the lock's pulse ends",
        "The lock is never driven for longer than its pulse on the sheet, counted anew when a movement begins.",
        "A coil made for a pulse burns, and a lock that stays drawn locks nothing.",
        "common practice, no source",
        "terminals",
        _pulse_ends,
        bounds=(Bound("over by", 0.02, "s", "two scans of 10 ms, ours"),),
        needs=("lock",),
        focus=Focus(
            phrases=("stop",),
            first=("begun opening", "pedestrian"),
            sheet={"electric lock": ("fitted",), "lock pulse": (4.0, 0.5), "warning before moving": (2.0, 0.0)},
        ),
    ),
    Property(
        "opens one leaf for pedestrians",
        "After a pedestrian opening was asked for from rest, the leaf that opens second is not driven open until "
        "something else is given.",
        "The second leaf swings where somebody on foot waits beside the first.",
        "common practice, no source",
        "terminals",
        _one_leaf_for_pedestrians,
        needs=("transmitter",),
        focus=Focus(phrases=("pedestrian", "nothing", "beam"), first=("pedestrian",)),
    ),
)
