"""How leaves move: in their order, slowly where it crushes, no longer than they may, and never against themselves."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np

from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record, Row
from sim.bench.proof.stretches import (
    angle_at,
    by_hand,
    spans,
    stop_is_open,
    stretches,
    travelled_mm,
    ways_back,
)
from sim.units import LEAVES
from sim.world.gaps import closing_edge_gap

_TWO_SCANS: Final = Bound("within", 0.02, "s", "two scans of 10 ms, ours")

_UNKNOWN: Final = ("release drive", "engage drive", "push leaf", "learn travel", "isolate", "reset sheet")
"""After one of these the controller doesn't know where its leaves are, or need not."""


def _known_until(record: Record) -> int:
    """Until when both positions were known: nobody moved a leaf by hand, and power never went."""
    acts = [step.at for step in record.done(*_UNKNOWN, "mains voltage", "jog press")]
    lost = [at for at, on in record.power if not on]
    return min([*acts, *lost], default=record.end + 1)


def _never_clash(record: Record, bounds: Bounds) -> Breach | None:
    true = record.sheet(0).get("opens first") in (record.site.opens_first, None)
    for event in record.events:
        if event.kind == "clash" and true and int(event.at) < _known_until(record):
            return Breach(int(event.at), event.text)
    return None


def _run_ends(record: Record, bounds: Bounds) -> Breach | None:
    """A run is a time in which any leaf is driven the one way, or the other waits for its delay."""
    began: int | None = None
    way = 0
    for row, until in spans(record):
        now = max(row.ways, key=abs)
        if now == 0 or now != way or by_hand(row) or _seeks(row):
            began, way = (row.at, now) if now and not by_hand(row) and not _seeks(row) else (None, 0)
        if began is None:
            continue
        limit = float(record.sheet(row.at).get("run-time limit", bounds["unstated"])) + bounds["late"]
        if until - began > limit * 1e6:
            return Breach(began + round(limit * 1e6), f"a movement lasts longer than {limit:.1f} s")
    return None


def _seeks(row: Row) -> bool:
    return row.state in ("travel learning", "finding its position")


def _slow_in_the_zones(record: Record, bounds: Bounds) -> Breach | None:
    known = _known_until(record)
    held, back = list(spans(record)), ways_back(record, bounds["back off"])
    shut = record.rows[0].inputs.counts if record.rows else (0, 0)
    for (row, until), (after, _) in pairwise(held):
        for leaf in (0, 1):
            travel, way = record.travel[leaf], row.ways[leaf]
            if travel is None or way == 0 or until > known or after.at != until:
                continue
            sheet = record.sheet(row.at)
            frees = any(s.leaf == leaf and s.start <= row.at < s.end for s in back)
            slow = max(float(sheet.get("slow speed", 100.0)), frees * bounds["freeing"]) / 100.0
            zone = float(sheet.get("slow zone before stop", 0.0)) / 100.0 * travel
            position = after.inputs.counts[leaf] - shut[leaf]
            left = travel - position if way > 0 else position
            deep = zone - bounds["tolerance"] * travel
            if abs(row.drive(leaf).duty) > slow + 1e-6 and left < deep:
                share = 100 * abs(row.drive(leaf).duty)
                return Breach(until, f"{LEAVES[leaf]} leaf is driven at {share:.0f} % with {left:.0f} counts left")
    return None


NO_CLOSING: Final = ("backing off", "freeing the lock")
"""The short way back after an opening met something, and the push that takes the load off a bolt."""


_SAMPLED: Final = 10_000
"""Angles are written down this often while a leaf moves [µs]."""


def _slow_where_it_crushes(record: Record, bounds: Bounds) -> Breach | None:
    taken = record.trace
    sampled = taken.time_us % _SAMPLED == 0  # a row between two of these only says which contact changed
    times = taken.time_us[sampled]
    for leaf, name in enumerate(LEAVES):
        width = record.site.leaves.pair[leaf].width_m
        open_stop = np.radians(record.site.leaves.pair[leaf].open_stop_deg)
        angle = np.radians(taken[f"{name} leaf angle"][sampled])
        speed = np.gradient(angle, times / 1e6) * width if len(angle) > 1 else angle
        for place in np.flatnonzero(-speed > bounds["speed"]):
            at = int(times[place])
            row, sheet = record.row_at(at), record.sheet(at)
            near = closing_edge_gap(record.site, leaf, float(angle[place])) < bounds["gap"]
            zone = float(sheet.get("slow zone before stop", 0.0)) / 100.0 * open_stop
            wide = closing_edge_gap(record.site, leaf, zone) >= bounds["gap"] + bounds["room"]
            stated = wide and float(sheet.get("slow speed", 100.0)) <= bounds["slow"]
            drives = row is not None and row.ways[leaf] < 0 and not by_hand(row) and row.state not in NO_CLOSING
            if near and stated and drives and at < _known_until(record):
                return Breach(
                    at, f"{name} leaf closes at {-speed[place]:.2f} m/s with less than {bounds['gap']:g} m left"
                )
    return None


# held controls, the stop circuit, isolation


def _let_go_stops(record: Record, bounds: Bounds) -> Breach | None:
    """The controls that are held: while none is, nothing is driven that only a held control drives."""
    late = round(bounds["within"] * 1e6)
    since: int | None = None
    jogged = _jogged(record)
    for row, until in spans(record):
        held = any(row.pressed(name) for name in ("open button", "close button", "key switch"))
        held = held or any(a <= row.at < b for a, b in jogged)
        if not row.driven or not by_hand(row) or held:
            since = None
            continue
        since = row.at if since is None else since
        if until - since > late:
            return Breach(since + late, "a leaf is driven by hand and nobody holds a control")
    return None


def _jogged(record: Record) -> list[tuple[int, int]]:
    """(from, to) of each time in which somebody held a jog button."""
    found, since = [], None
    for step in record.done("jog press", "jog release"):
        if step.act == "jog press":
            since = step.at if since is None else since
        elif since is not None:
            found.append((since, step.at))
            since = None
    return [*found, *([(since, record.end)] if since is not None else [])]


def _overtravel(record: Record, bounds: Bounds) -> Breach | None:
    for row, after in pairwise(record.rows):
        if not by_hand(row) or not row.driven or after.driven or after.at + 2_000_000 > record.end:
            continue
        for leaf in (0, 1):
            far = abs(travelled_mm(record, leaf, after.at, after.at + 2_000_000))
            again = any(r.driven for r in record.rows if after.at < r.at <= after.at + 2_000_000)
            if row.ways[leaf] and not again and far > bounds["overtravel"]:
                return Breach(after.at, f"{LEAVES[leaf]} leaf goes {far:.0f} mm further after it was let go")
    return None


def _stops_within(record: Record, bounds: Bounds) -> Breach | None:
    known, window = _known_until(record), round(bounds["watched"] * 1e6)
    for before, row in pairwise(record.rows):
        opened = stop_is_open(record, row) and not stop_is_open(record, before)
        if not opened or not before.driven or row.at + window > min(record.end, known):
            continue
        for leaf in (0, 1):
            far = abs(travelled_mm(record, leaf, row.at, row.at + window))
            if far > bounds["far"]:
                return Breach(row.at, f"{LEAVES[leaf]} leaf moves {far:.0f} mm after the stop circuit opened")
    return None


def _dead_when_isolated(record: Record, bounds: Bounds) -> Breach | None:
    late = round(bounds["within"] * 1e6)
    currents = [np.abs(record.trace[f"{name} motor current"]) for name in LEAVES]
    for since, until in _isolated(record):
        times = record.trace.time_us
        inside = (times > since + late) & (times < until)
        for name, current in zip(LEAVES, currents, strict=True):
            if bool((current[inside] > bounds["current"]).any()):
                return Breach(
                    since + late, f"the motor of the {name} leaf carries current though both sources are off"
                )
    return None


def _isolated(record: Record) -> list[tuple[int, int]]:
    """(from, to) of each time in which the isolator is off and no battery is linked, by what was done."""
    mains, link = True, record.site.supply.battery is not None
    found, since = [], None
    acts = {"isolate": (False, None), "restore": (True, None), "remove battery link": (None, False)}
    for step in record.done(*acts, "fit battery link"):
        on, linked = acts.get(step.act, (None, True))
        mains, link = mains if on is None else on, link if linked is None else linked
        if not mains and not link and since is None:
            since = step.at
        elif (mains or link) and since is not None:
            found.append((since, step.at))
            since = None
    return [*found, *([(since, record.end)] if since is not None else [])]


# what is said, and what is asked of a drive


def _closed_is_shut(record: Record, bounds: Bounds) -> Breach | None:
    for before, row in pairwise(record.rows):
        if row.state != "closed" or before.state == "closed":
            continue
        for leaf, name in enumerate(LEAVES):
            angle = angle_at(record, leaf, row.at)
            if angle > bounds["shut"]:
                return Breach(row.at, f"says 'closed' with the {name} leaf {angle:.0f}° open")
    return None


def _pauses_before_it_turns(record: Record, bounds: Bounds) -> Breach | None:
    for row in record.rows:
        for leaf in (0, 1):
            if row.drive(leaf).brake and row.drive(leaf).duty:
                return Breach(row.at, f"{LEAVES[leaf]} leaf is braked and driven at once")
    for one in stretches(record):
        if one.before == -one.way and one.pause < bounds["pause"] * 1e6:
            return Breach(one.start, f"{LEAVES[one.leaf]} leaf is driven the other way after {one.pause / 1e6:.2f} s")
    return None


ENTRIES: Final = (
    Property(
        "leaves never clash",
        "Where the sheet is true about which leaf opens first and both positions are known, the leaves never meet in "
        "the wrong order, whatever interrupts them.",
        "The strip bends, and the gate that is to be shut stands jammed.",
        "design of the gate's behaviour, leaf order; Facts 6.6, common practice",
        "gate",
        _never_clash,
        needs=("two leaves",),
        focus=Focus(phrases=("command", "stop"), first=("to and fro",), sheet={"leaf delay, opening": (0.0, 2.0)}),
    ),
    Property(
        "the run-time limit ends every run",
        "No movement that is not a slow run for its stops lasts longer than the run-time limit on the sheet.",
        "A drive that slips runs until it burns, and a gate that never arrives is never at rest.",
        "Facts 2.5, common practice",
        "terminals",
        _run_ends,
        bounds=(
            Bound("late", 0.5, "s", "ours"),
            Bound("unstated", 180.0, "s", "the longest that a sheet may say, ours"),
        ),
        focus=Focus(
            phrases=("command",),
            first=("round trip",),
            sheet={"run-time limit": (20.0,), "run speed": (40.0, 50.0), "slow speed": (30.0,)},
        ),
    ),
    Property(
        "slow in the slow zones",
        "Within the slow zone before its stop no leaf is driven faster than the slow speed on the sheet; on the "
        "short way back from a contact it may be driven as fast as frees it.",
        "The leaf arrives as fast as it ran, where it crushes.",
        "design of the gate's behaviour, motion; Facts 6.6, common practice",
        "gate",
        _slow_in_the_zones,
        bounds=(
            Bound("tolerance", 0.02, "of the travel", "two scans at run speed and the stop's own window, ours"),
            Bound("back off", 4.5, "s", "a back-off's longest time and its pause, ours"),
            Bound("freeing", 50.0, "%", "ours: nobody is freed at a crawl"),
        ),
        focus=Focus(phrases=("command",), first=("round trip", "to and fro")),
    ),
    Property(
        "slow where it crushes",
        "Where the slow zone reaches that far, a closing edge is slow before the gap is less than half a metre, and "
        "stays so; the short way back after an opening met something is no closing, nor is the push that frees a "
        "lock.",
        "Below half a metre a body is crushed and not pushed away.",
        "Facts 1.5 and 6.6, common practice",
        "gate",
        _slow_where_it_crushes,
        bounds=(
            Bound("speed", 0.105, "m/s", "Facts 1.5, 0.1 m/s in the last 500 mm, common practice"),
            Bound("gap", 0.5, "m", "Facts 1.2, below which a leaf crushes"),
            Bound("room", 0.1, "m", "ours: so much before that gap the slow zone must begin"),
            Bound("slow", 45.0, "%", "ours: the slow speed that this promise speaks of"),
        ),
        focus=Focus(phrases=("wait",), first=("round trip",), sheet={"slow zone before stop": (20.0, 25.0)}),
    ),
    Property(
        "stops when it is let go",
        "When the control that is held to run or to jog is let go, nothing is driven from one scan after that.",
        "Whoever lets go because somebody screams sees it go on.",
        "hold-to-run: EN 12453, as Facts 1.5 and 2.1 restate it",
        "terminals",
        _let_go_stops,
        bounds=(_TWO_SCANS,),
        needs=("key switch",),
        focus=Focus(phrases=("command",), first=("runs by hand",), sheet={"key switch": ("hold-to-run open",)}),
    ),
    Property(
        "stands within its overtravel when it is let go",
        "When the control that is held to run or to jog is let go, the leaf's tip stands within the overtravel "
        "allowed.",
        "Whoever watches the gap lets go too late by what the leaf still runs.",
        "Facts 1.5, from memory of EN 12453:2000",
        "gate",
        _overtravel,
        bounds=(Bound("overtravel", 50.0, "mm", "Facts 1.5, the figure for gaps up to 500 mm, from memory"),),
        needs=("key switch",),
        focus=Focus(phrases=("command",), first=("runs by hand",), sheet={"key switch": ("hold-to-run open",)}),
    ),
    Property(
        "stops within a distance",
        "After the stop circuit opens no leaf's tip moves further than a stopping distance and the relief of a "
        "contact.",
        "The person who struck it stands an arm's length away.",
        "common practice, no source",
        "gate",
        _stops_within,
        bounds=(
            Bound(
                "far", 120.0, "mm", "ours: 50 mm to stop, as Facts 1.5 allows in hold-to-run, and 2 % of the travel"
            ),
            Bound("watched", 2.5, "s", "ours"),
        ),
        needs=("stop circuit",),
        focus=Focus(phrases=("stop",), first=("stop on the way",)),
    ),
    Property(
        "nothing is energised while isolated",
        "With the isolator off and no battery linked no motor carries current, once its leaf has run out.",
        "Whoever has proved it dead has his hands in the drive.",
        "five safety rules, Facts 5.8; EU 2023/1230 Annex III, as Facts 2.3 quotes it",
        "gate",
        _dead_when_isolated,
        bounds=(
            Bound("within", 1.0, "s", "ours: a leaf that runs out drives its motor as a generator"),
            Bound("current", 0.05, "A", "what a clamp can show, ours"),
        ),
        focus=Focus(phrases=("command", "power"), first=("isolated on the way",)),
    ),
    Property(
        "closed is never said of an open leaf",
        "When the panel begins to say 'closed' both leaves are shut, though a drive was released by hand.",
        "Whoever trusts the word leaves a gate that anybody can push open.",
        "design of the gate's behaviour, service",
        "gate",
        _closed_is_shut,
        bounds=(Bound("shut", 3.0, "°", "100 mm at the tip of a leaf of 2 m, ours"),),
        focus=Focus(phrases=("command",), first=("released",)),
    ),
    Property(
        "never turns a drive round without a pause",
        "No leaf is driven the other way before it was let go for a moment, and none is braked and driven at once.",
        "A bridge that is reversed under current fails, and a gear that is reversed under load breaks.",
        "common practice, no source",
        "terminals",
        _pauses_before_it_turns,
        bounds=(Bound("pause", 0.2, "s", "common practice, no source"),),
        focus=Focus(phrases=("wait",), first=("beam while closing",), sheet={"outer beam": ("reopen",)}),
    ),
)
