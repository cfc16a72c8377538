"""What a gate does when a guard trips on its way: it goes back, it waits, and it never goes on by itself."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record, Row
from sim.bench.proof.stretches import (
    Stretch,
    angle_at,
    asked,
    by_hand,
    not_clear,
    stretches,
    travelled_mm,
    undisturbed,
    ways_back,
)

_GUARDS_CLEAR: Final = ("uncover beam", "release edge", "wind")
"""What may happen after a trip without being an answer to it."""

STOP_SHARE: Final = 0.05
"""A leaf within this share of its travel from its open stop is open. Ours."""

HARDLY_DEG: Final = 0.3
"""A leaf that has turned by less stands [°]: a braked leaf swings so far in its play, 10 mm at 2 m. Ours."""

_DISTURB: Final = ("place body", "release drive", "mains voltage", "isolate", "remove battery link", "learn travel")
"""After one of these the gate itself is another one than the promise speaks of."""


def _trips(record: Record, way: int, *reactions: str) -> Iterator[tuple[Row, Row]]:
    """(the scan before, the scan that reads it) of each guard that trips while a leaf goes this way by itself."""
    for before, row in pairwise(record.rows):
        new = set(not_clear(record, row, *reactions)) - set(not_clear(record, before, *reactions))
        learns = "learning" in before.state or "finding" in before.state
        if new and way in before.ways and not by_hand(before) and not learns and not _off(record, before.at, row.at):
            yield before, row


def _off(record: Record, since: int, until: int) -> bool:
    return any(since < at <= until for at, _ in record.power)


def _clear_of(record: Record, since: int, until: int, *reactions: str) -> bool:
    rows = [row for row in record.rows if since <= row.at <= until]
    return not any(not_clear(record, row, *reactions) for row in rows)


def _alone(record: Record, since: int, until: int) -> bool:
    """Whether a reopening guard is all that acts on the gate from `since` to `until` [µs]."""
    sound = not any(step.at <= until for step in record.done(*_DISTURB))
    others = _clear_of(record, since, until, "hold", "halt", "back off")
    return sound and others and undisturbed(record, since, until, *_GUARDS_CLEAR)


def _reverses_in_time_and_distance(record: Record, bounds: Bounds) -> Breach | None:
    begins, there = round(bounds["begins within"] * 1e6), round(bounds["there within"] * 1e6)
    for before, row in _trips(record, -1, "reopen"):
        if row.at + there > record.end or not _alone(record, row.at, row.at + there):
            continue
        leaves = _come_some_way(record, before, row)
        if not leaves:
            continue
        low = {leaf: _lowest(record, leaf, row.at, row.at + there) for leaf in leaves}
        far = {leaf: -travelled_mm(record, leaf, row.at, low[leaf]) for leaf in leaves}
        back = {leaf: travelled_mm(record, leaf, low[leaf], row.at + there) for leaf in leaves}
        if max(far.values()) > bounds["stops within"]:
            return Breach(row.at, f"closed {max(far.values()):.0f} mm further after the trip")
        if min(low.values()) > row.at + begins:
            return Breach(row.at + begins, f"no leaf goes back {bounds['begins within']:g} s after the trip")
        if min(back.values()) < bounds["goes back"]:
            return Breach(row.at + there, f"went back {min(back.values()):.0f} mm only")
    return None


def _come_some_way(record: Record, before: Row, row: Row) -> list[int]:
    """Leaves that were closing before a row and have left their open stop by then, as their counters show."""
    found = []
    for one in stretches(record):
        travel = record.travel[one.leaf]
        if one.way < 0 and one.start <= before.at < one.end and travel is not None:
            began = record.rows[one.first].inputs.counts[one.leaf]
            if began - row.inputs.counts[one.leaf] > STOP_SHARE * travel:
                found.append(one.leaf)
    return found


def _lowest(record: Record, leaf: int, since: int, until: int) -> int:
    """The last instant between two at which a leaf is hardly more open than it was at the least."""
    times = record.trace.time_us
    inside = [int(at) for at in times[(times >= since) & (times <= until)]]
    angles = [angle_at(record, leaf, at) for at in inside]
    least = min(angles, default=0.0)
    return max((at for at, angle in zip(inside, angles, strict=True) if angle < least + HARDLY_DEG), default=since)


def _opens_fully(record: Record, bounds: Bounds) -> Breach | None:
    quiet = round(bounds["rests"] * 1e6)
    found = stretches(record)
    for before, row in _trips(record, -1, "reopen"):
        if before.state == "freeing the lock":  # a push that takes the load off a bolt is no closing
            continue
        rest = _rests(record, found, row.at, quiet)
        if rest is None or not _alone(record, row.at, rest):
            continue
        for leaf in (0, 1):
            share = angle_at(record, leaf, rest) / record.site.leaves.pair[leaf].open_stop_deg
            if before.ways[leaf] < 0 and share < bounds["open"]:
                return Breach(rest, f"rests {100 * share:.0f} % open after a reversal")
    return None


def _rests(record: Record, found: list[Stretch], since: int, quiet: int) -> int | None:
    """When nothing has been driven for `quiet` [µs] for the first time after an opening that began after `since`."""
    opened = [s for s in found if s.start >= since and s.way > 0]
    ends = sorted(s.end for s in opened)
    for end in ends:
        goes_on = any(s.start < end + quiet and s.end > end for s in found)
        if not goes_on:
            return end + quiet if end + quiet <= record.end else None
    return None


def _waits_for_nothing(record: Record, bounds: Bounds) -> Breach | None:
    within = round(bounds["within"] * 1e6)
    for before, row in _trips(record, -1, "reopen"):
        until = row.at + within
        if until > record.end or not _alone(record, row.at, until):
            continue
        later = [r for r in record.rows if row.at <= r.at <= until]
        opened = next((r.at for r in later if r.opens), None)
        if before.opens or not _come_some_way(record, before, row):
            continue
        if opened is None:
            return Breach(until, f"no leaf is driven opening {bounds['within']:g} s after the trip")
        if any(not r.outputs.emitter_supply for r in later if r.at <= opened):
            return Breach(opened, "the guards were tested before the reversal")
    return None


def _never_resumes_closing(record: Record, bounds: Bounds) -> Breach | None:
    late, back = round(bounds["within"] * 1e6), ways_back(record, bounds["back off"])
    found, given = stretches(record), asked(record)
    for at in _interruptions(record, given, late):
        for one in found:
            anew = any(at <= when <= one.start for when in given)
            if one.way > 0 or one.start <= at + late or anew:
                continue
            first = record.rows[one.first]
            if by_hand(first) or one in back or first.state == "freeing the lock":
                continue
            if not _may_close_by_itself(record, found, at, one):
                return Breach(one.start, "closes again by itself after its closing was interrupted")
    return None


def _interruptions(record: Record, given: list[int], late: int) -> Iterator[int]:
    """When a closing was ended by a guard, by the loss of power or by a command."""
    yield from (row.at for _, row in _trips(record, -1))
    for at, on in record.power:
        before = record.row_at(at)
        if not on and before is not None and before.closes:
            yield at
    for at in given:
        before, after = record.row_at(at - 1), record.row_at(at + late)
        if before is not None and after is not None and before.closes and not after.closes:
            yield at + 1


def _may_close_by_itself(record: Record, found: list[Stretch], since: int, one: Stretch) -> bool:
    """Whether auto-close is on and the gate opened in between, or had not left its open stop: it closes anew."""
    opened = any(s.way > 0 and s.start > since and s.end <= one.start and s.length > 1_000_000 for s in found)
    # The leaf that closes second belongs to the closing of the first.
    with_it = [s for s in found if s.way < 0 and since < s.start <= one.start <= s.end]
    begun = min([one, *with_it], key=lambda s: s.start)
    return record.sheet(one.start).get("auto-close") == "on" and (opened or _as_open_as_ever(record, begun))


def _as_open_as_ever(record: Record, one: Stretch) -> bool:
    """Whether every leaf stands where it was most open in this play, as its counter shows."""
    counts = [row.inputs.counts for row in record.rows[: one.first + 1]]
    return all(
        travel is None or counts[-1][leaf] >= max(each[leaf] for each in counts) - STOP_SHARE * travel
        for leaf, travel in enumerate(record.travel)
    )


def _held_opening_waits(record: Record, bounds: Bounds) -> Breach | None:
    found, given = stretches(record), asked(record)
    for _, row in _trips(record, 1, "hold"):
        after = next((s for s in found if s.start > row.at and s.way > 0), None)
        if after is None or any(row.at <= at <= after.start for at in given) or _off(record, row.at, after.start):
            continue
        clear = _cleared(record, after.start, "hold")
        warning = float(record.sheet(after.start).get("warning before moving", 0.0))
        if not after.turned and after.start < clear + round((warning - bounds["early"]) * 1e6):
            waited = (after.start - clear) / 1e6
            return Breach(
                after.start, f"opens again {waited:.2f} s after the guard cleared; the warning is {warning:g} s"
            )
    return None


def _cleared(record: Record, before: int, *reactions: str) -> int:
    """The first scan that reads every such guard clear, of those that end at an instant."""
    clear = before
    for row in reversed([row for row in record.rows if row.at <= before]):
        if not_clear(record, row, *reactions):
            break
        clear = row.at
    return clear


def _held_closing_opens(record: Record, bounds: Bounds) -> Breach | None:
    within = round(bounds["within"] * 1e6)
    for before, row in _trips(record, -1, "hold"):
        later = [r for r in record.rows if r.at > row.at]
        clear = next((r.at for r in later if not not_clear(record, r, "hold")), None)
        if clear is None or clear + within > record.end or not _come_some_way(record, before, row):
            continue
        until = clear + within
        sound = not any(step.at <= until for step in record.done(*_DISTURB))
        only = _clear_of(record, row.at, until, "halt", "back off") and _clear_of(record, clear, until, "hold")
        if not sound or not only or not undisturbed(record, row.at, until, *_GUARDS_CLEAR):
            continue
        if not any(r.opens for r in later if clear <= r.at <= until):
            return Breach(until, f"not driven opening {bounds['within']:g} s after the guard cleared")
    return None


_CLOSING: Final = Focus(
    phrases=("wait",),
    first=("beam while closing",),
    sheet={"outer beam": ("reopen",), "inner beam": ("reopen", "hold")},
)

ENTRIES: Final = (
    Property(
        "reverses within a time and a distance",
        "When a guard that reopens trips a closing gate, its leaves stop within a distance, one of them begins to go "
        "back within a time, and all that closed go back far enough to free what was there.",
        "What a beam saw late, or an edge touched, is pressed or stays caught.",
        "alternative rule set, Facts 2.6; the distance to stop: overtravel in hold-to-run, Facts 1.5",
        "gate",
        _reverses_in_time_and_distance,
        bounds=(
            Bound("stops within", 50.0, "mm", "Facts 1.5, overtravel at gaps up to 500 mm, from memory"),
            Bound("begins within", 2.0, "s", "Facts 2.6, reversal starts within 2 s"),
            Bound("goes back", 50.8, "mm", "Facts 2.6, travels back at least 2 in"),
            Bound("there within", 6.0, "s", "ours: leaves in the lap go back one after the other"),
        ),
        needs=("outer beam",),
        focus=_CLOSING,
    ),
    Property(
        "a reversal opens fully",
        "A gate that a reopening guard has turned round opens fully, even if the guard clears meanwhile.",
        "A gate that stops half open is taken for one that stays.",
        "design of the gate's behaviour, reopen",
        "gate",
        _opens_fully,
        bounds=(
            Bound("open", 0.95, "of the open stop's angle", "ours"),
            Bound("rests", 1.5, "s", "longer than any pause of a reversal, ours"),
        ),
        needs=("outer beam",),
        focus=_CLOSING,
    ),
    Property(
        "a reversal waits for nothing",
        "Between the trip of a reopening guard and the opening that follows there is the pause of the drive and "
        "nothing else: no guard test, no warning, no push, no lock pulse.",
        "Whoever stands there is pressed for as long as the gate is polite.",
        "design of the gate's behaviour, what never waits; category 2 tests at demand, Facts 2.3",
        "terminals",
        _waits_for_nothing,
        bounds=(Bound("within", 0.5, "s", "a pause of 0.3 s and two scans, ours"),),
        needs=("outer beam",),
        focus=Focus(
            phrases=("wait",),
            first=("beam while closing",),
            sheet={"outer beam": ("reopen",), "inner beam": ("reopen",), "warning before moving": (2.0, 10.0)},
        ),
    ),
    Property(
        "an interrupted closing never resumes by itself",
        "After a guard, a command or the loss of power has ended a closing, no leaf closes again until somebody "
        "gives something anew, or the gate has opened and closes by its own auto-close.",
        "Whoever stepped in front of a gate that stopped is caught when it goes on.",
        "design of the gate's behaviour, hold and halt; no unexpected start, Facts 2.3",
        "terminals",
        _never_resumes_closing,
        bounds=(
            Bound("within", 0.02, "s", "two scans of 10 ms, ours"),
            Bound("back off", 4.5, "s", "a back-off's longest time and its pause, ours"),
        ),
        needs=("outer beam", "inner beam"),
        focus=Focus(
            phrases=("stop", "beam", "let go"),
            first=("beam while closing", "stop on the way"),
            sheet={"outer beam": ("hold", "reopen")},
        ),
    ),
    Property(
        "a held opening waits for its warning",
        "An opening that a guard holds goes on only when that guard has been clear for the warning time.",
        "Whoever just stepped out of the beam is still within reach of the leaf.",
        "design of the gate's behaviour, hold; a flashing light before each movement, Facts 2.7",
        "terminals",
        _held_opening_waits,
        bounds=(Bound("early", 0.02, "s", "two scans of 10 ms, ours"),),
        needs=("inner beam",),
        focus=Focus(
            phrases=("wait",),
            first=("beam on the way",),
            sheet={"outer beam": ("hold", "reopen"), "warning before moving": (2.0, 5.0)},
        ),
    ),
    Property(
        "a held closing opens again",
        "A closing that a guard holds becomes an opening as soon as that guard is clear.",
        "A gate that stays half shut traps a car, and one that goes on closing hits it.",
        "design of the gate's behaviour, hold",
        "terminals",
        _held_closing_opens,
        bounds=(Bound("within", 1.0, "s", "the pause of the drive and some, ours"),),
        needs=("inner beam",),
        focus=Focus(
            phrases=("wait",),
            first=("beam while closing",),
            sheet={"outer beam": ("hold",)},
        ),
    ),
)
