"""What guards keep a gate from, seen on the terminals: nothing starts and nothing goes on against one."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Final

from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record, Row
from sim.bench.proof.stretches import (
    angle_at,
    by_hand,
    goes_back,
    not_clear,
    spans,
    stop_is_open,
    stretches,
    undisturbed,
    ways_back,
)

_TABLE: Final = "EN 12453 Table 1, detection and force limiting, as Facts 2.1 restates it"
_TWO_SCANS: Final = Bound("within", 0.02, "s", "two scans of 10 ms, ours")
_BACK_OFF: Final = Bound("back off", 4.5, "s", "a back-off's longest time and its pause, ours")


def _longer_than(
    record: Record, late: int, so: Callable[[Row], list[str]], excused: Callable[[Row], bool] = by_hand
) -> tuple[int, list[str]] | None:
    """(when it became too late, what was so) if something was so for longer than `late` [µs], across scans."""
    since: int | None = None
    for row, until in spans(record):
        why = [] if excused(row) else so(row)
        if not why:
            since = None
            continue
        since = row.at if since is None else since
        if until - since > late:
            return since + late, why
    return None


def _never_closes_past_a_reopening_guard(record: Record, bounds: Bounds) -> Breach | None:
    """From one scan after a reopening guard trips, nothing is driven closing; a jog is somebody's own hand."""
    late = round(bounds["within"] * 1e6)
    broken = _longer_than(record, late, lambda row: not_clear(record, row, "reopen") if row.closes else [])
    return broken and Breach(broken[0], f"driven closing though {', '.join(broken[1])} is tripped")


def _against(record: Record, bounds: Bounds, way: int, *reactions: str) -> Breach | None:
    """A leaf driven this way against a guard with one of these reactions; the way back from a contact is excused."""
    late, back = round(bounds["within"] * 1e6), ways_back(record, bounds["back off"])

    def so(row: Row) -> list[str]:
        return not_clear(record, row, *reactions) if way in row.ways and not goes_back(back, row) else []

    broken = _longer_than(record, late, so)
    verb = "opening" if way > 0 else "closing"
    return broken and Breach(broken[0], f"driven {verb} though {', '.join(broken[1])} is tripped")


def _never_closes_past_any_other(record: Record, bounds: Bounds) -> Breach | None:
    return _against(record, bounds, -1, "hold", "halt", "back off")


def _never_opens_past(record: Record, bounds: Bounds) -> Breach | None:
    return _against(record, bounds, 1, "hold", "halt")


def _acts(record: Record, row: Row, way: int) -> list[str]:
    return not_clear(record, row, "hold", "halt", "back off", *(("reopen",) if way < 0 else ()))


def _starts_nothing_against_a_guard(record: Record, bounds: Bounds) -> Breach | None:
    found = stretches(record)
    for one in found:
        row = record.rows[one.first]
        others = any(s is not one and s.start <= one.start < s.end for s in found)
        from_rest = not others and not one.turned and one.pause > round(bounds["rested"] * 1e6)
        against = _acts(record, row, one.way)
        if from_rest and against and not by_hand(row):
            verb = "opening" if one.way > 0 else "closing"
            return Breach(one.start, f"{verb} begins from rest though {', '.join(against)} is tripped")
    return None


def _stops_both_leaves(record: Record, bounds: Bounds) -> Breach | None:
    """When an edge is pressed that acts on both, neither is driven on the way it went, but to take a load off."""
    late, relief = round(bounds["within"] * 1e6), round(bounds["relief"] * 1e6)
    found = stretches(record)
    before: tuple[list[str], tuple[int, int]] | None = None
    for row in record.rows:
        pressed = not_clear(record, row, "reopen", "back off")
        if before is not None:
            was, ways = before
            new = [edge for edge in pressed if edge.endswith("edge") and edge not in was]
            frees = any(s.turned and s.way > 0 and s.start < row.at <= s.end for s in found)
            if new and ways in ((-1, -1), (1, 1)) and not by_hand(row) and not frees:
                acts = ways[0] < 0 or record.sheet(row.at)[new[0]] == "back off"
                eased = [s.start + relief for s in found if s.turned and s.start < row.at <= s.end]
                until = max([row.at + late, *eased])
                later = record.row_at(until)
                if acts and later is not None and until <= record.end and ways[0] in later.ways:
                    return Breach(until, f"a leaf goes on though the {new[0]} is pressed")
        before = pressed, row.ways
    return None


def _stop_beats_everything(record: Record, bounds: Bounds) -> Breach | None:
    """Nothing is driven while the stop circuit is open, but a leaf on its way back from what it touched, shortly."""
    late, relief = round(bounds["within"] * 1e6), round(bounds["relief"] * 1e6)
    back = [s for s in ways_back(record, record.end / 1e6) if _touched(record, s.start)]

    def so(row: Row) -> list[str]:
        return ["the stop circuit"] if row.driven and stop_is_open(record, row) else []

    at_once = _longer_than(record, late, so, lambda row: goes_back(back, row))
    if at_once:
        return Breach(at_once[0], "a leaf is driven though the stop circuit is open, and frees nothing")
    opened: int | None = None
    for row, until in spans(record):
        opened = None if not stop_is_open(record, row) else row.at if opened is None else opened
        if opened is not None and row.driven and until > opened + relief:
            return Breach(opened + relief, f"still driven {bounds['relief']:g} s after the stop circuit opened")
    return None


_RECENT_US: Final = 6_000_000
"""What was touched so long ago may still be freed [µs]: a back-off's longest time and its pause. Ours."""


def _touched(record: Record, at: int) -> bool:
    """Whether something had been touched shortly before: an edge reads so, a force says so, effort was noticed."""
    rows = [row for row in record.rows if at - _RECENT_US <= row.at <= at]
    edges = any(guard.endswith("edge") for row in rows for guard in not_clear(record, row, "reopen", "back off"))
    recent = (record.trace.time_us >= at - _RECENT_US) & (record.trace.time_us <= at)
    pressed = any(bool((record.trace[name][recent] > 0.0).any()) for name in _FORCES)
    noticed = any(h.kind == "obstacle" and at - _RECENT_US <= int(h.at) <= at for h in record.happenings)
    return edges or pressed or noticed


_FORCES: Final = ("active leaf contact", "inactive leaf contact")


def _tripped_is_not_failed(record: Record, bounds: Bounds) -> Breach | None:
    """An opening asked of a gate at rest, with a beam tripped that acts on closing alone."""
    for before, row in pairwise(record.rows):
        pressed = row.pressed("open button") and not before.pressed("open button")
        spared = not_clear(record, row, "reopen")
        others = not_clear(record, row, "hold", "halt", "back off")
        beams = [guard for guard in spared if guard.endswith("beam")]
        if not pressed or not beams or others or beams != spared or not _at_rest_and_shut(record, row):
            continue
        sheet = record.sheet(row.at)
        if float(sheet.get("motor duty", 100.0)) < 100.0:  # motors that rest refuse a start for a reason of their own
            continue
        if sheet.get("open and close buttons") == "hold-to-run":  # a button that is let go asks for nothing any more
            continue
        waits = float(sheet.get("warning before moving", 0.0)) + bounds["ready"]
        until = row.at + round(waits * 1e6)
        if until > record.end or not undisturbed(record, row.at, until, "release", "uncover beam", "wind"):
            continue
        later = [each for each in record.rows if row.at <= each.at <= until]
        failed = [h for h in record.happenings if h.kind == "guard test" and row.at <= int(h.at) <= until]
        if any(h.what in beams and h.detail.startswith("did not") for h in failed):
            return Breach(row.at, f"the {beams[0]} was tripped before the test and is said to have failed it")
        if not any(each.opens for each in later):
            return Breach(until, f"does not open though the {beams[0]} acts on closing alone")
    return None


def _at_rest_and_shut(record: Record, row: Row) -> bool:
    """Whether nothing was driven for two seconds before, both leaves are shut, and the gate knows where they are."""
    rested = all(s.start >= row.at or s.end <= row.at - 2_000_000 for s in stretches(record))
    lost = any(at <= row.at for at, on in record.power if not on)
    unknown = any(
        s.at <= row.at for s in record.done("learn travel", "reset sheet", "release drive", "mains voltage")
    )
    shut = all(angle_at(record, leaf, row.at) < 2.0 for leaf in (0, 1))
    return rested and shut and not lost and not unknown and row.at > 1_000_000


_RELIEF: Final = Bound("relief", 1.5, "s", "the relief of a contact and its pause, ours")

_REOPENING_EDGES: Final = {"active edge": ("back off", "reopen"), "inactive edge": ("back off", "reopen")}

ENTRIES: Final = (
    Property(
        "never closes past a reopening guard",
        "While a guard that reopens is tripped, no leaf is driven closing for longer than one scan.",
        "Somebody stands in the way and is hit.",
        _TABLE,
        "terminals",
        _never_closes_past_a_reopening_guard,
        bounds=(_TWO_SCANS,),
        needs=("outer beam",),
        focus=Focus(
            phrases=("beam", "edge"), first=("open then close",), sheet={"active edge": ("back off", "reopen")}
        ),
    ),
    Property(
        "never closes past any other guard",
        "While a guard that holds, halts or backs off is tripped, no leaf is driven closing for longer than one "
        "scan, but for the short way back after an opening.",
        "Somebody stands on the other side, or is caught already, and is pressed further.",
        _TABLE,
        "terminals",
        _never_closes_past_any_other,
        bounds=(_TWO_SCANS, _BACK_OFF),
        needs=("inner beam",),
        focus=Focus(
            phrases=("beam", "edge"),
            first=("open then close",),
            sheet={"outer beam": ("hold", "halt", "back off"), "inner beam": ("hold", "halt", "back off")},
        ),
    ),
    Property(
        "never opens past a guard that holds or halts",
        "While a guard that holds or halts is tripped, no leaf is driven opening for longer than one scan, but for "
        "the short way back after a closing.",
        "Somebody stands behind the leaf, at a wall or a post, and is crushed by the opening.",
        _TABLE,
        "terminals",
        _never_opens_past,
        bounds=(_TWO_SCANS, _BACK_OFF),
        needs=("inner beam",),
        focus=Focus(phrases=("beam",), first=("opens a little",), sheet={"inner beam": ("hold", "halt")}),
    ),
    Property(
        "starts nothing that a guard acts on",
        "No movement begins from rest while a guard that acts on that way is tripped or can't be read.",
        "A gate that starts although a guard speaks has no guard.",
        "design of the gate's behaviour; a lost device blocks normal running, Facts 2.6, from memory",
        "terminals",
        _starts_nothing_against_a_guard,
        bounds=(Bound("rested", 1.0, "s", "shorter is a reversal, ours"),),
        needs=("inner beam",),
        focus=Focus(phrases=("command",), first=("guard then command",)),
    ),
    Property(
        "a tripped guard is not a failed test",
        "An opening starts though a beam that acts on closing alone is tripped already, and that beam is not said to "
        "have failed its test.",
        "A gate that stays shut because somebody stands outside teaches its users to wedge the beam.",
        "design of the gate's behaviour, guard test",
        "terminals",
        _tripped_is_not_failed,
        bounds=(Bound("ready", 4.0, "s", "the longest guard test, relief push and pause, ours"),),
        needs=("outer beam", "open button"),
        focus=Focus(
            phrases=("wait",),
            first=("beam then opening",),
            sheet={"outer beam": ("reopen",), "inner beam": ("reopen", "hold"), "guard test": ("on",)},
        ),
    ),
    Property(
        "a trip on either leaf acts on both",
        "When the edge of one leaf is pressed, the other is not driven on either; on the way back from a contact "
        "both may go as far as takes its load off.",
        "Whoever is caught by one leaf is struck by the other.",
        "common practice, no source",
        "terminals",
        _stops_both_leaves,
        bounds=(_TWO_SCANS, _RELIEF),
        needs=("active edge", "inactive edge", "two leaves"),
        focus=Focus(phrases=("edge",), first=("edge on the way",), sheet=_REOPENING_EDGES),
    ),
    Property(
        "stop beats everything",
        "From one scan after the stop circuit opens nothing is driven, but a leaf that goes back from what it "
        "touched, and that for a short while.",
        "The person who sees the danger can't stop it.",
        "no block to stopping: EU 2023/1230 Annex III, as Facts 2.3 quotes it; the relief is ours",
        "terminals",
        _stop_beats_everything,
        bounds=(_TWO_SCANS, _RELIEF),
        needs=("stop circuit",),
        focus=Focus(phrases=("stop", "command"), first=("stop on the way",)),
    ),
)
