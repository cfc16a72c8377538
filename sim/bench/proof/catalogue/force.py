"""How hard a gate may press, and what follows when a leaf has met somebody or something."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.record import Record, Row
from sim.bench.proof.stretches import (
    asked,
    by_hand,
    not_clear,
    spans,
    stretches,
    travelled_mm,
    undisturbed,
    ways_back,
)
from sim.units import LEAVES

_FORCES: Final = ("active leaf contact", "inactive leaf contact")

_RATED: Final = Bound("rated", 8.0, "A", "motor current at full effort, Facts 5.3, common practice")
_BACK_OFF: Final = Bound("back off", 4.5, "s", "a back-off's longest time and its pause, ours")
_LEARNS: Final = "travel learning"
_JOG: Final = "jog"

_UNFED: Final = ("isolate", "remove battery link", "mains voltage", "release drive", "engage drive", "push leaf")
"""A gate without its supply, or in somebody's hands, can free nothing."""


def _efforts(record: Record, bounds: Bounds, most: float) -> Iterator[tuple[Row, float, float]]:
    """(row, limit asked for, limit allowed) [A] of each leaf driven; what frees a contact has all there is."""
    freeing = ways_back(record, bounds["back off"])
    for row in record.rows:
        sheet = record.sheet(row.at)
        for leaf in (0, 1):
            frees = any(s.leaf == leaf and s.start <= row.at < s.end for s in freeing)
            if row.ways[leaf] == 0 or frees:
                continue
            name = "motor effort, opening" if row.ways[leaf] > 0 else "motor effort, closing"
            allowed = min(float(sheet.get(name, 100.0)), most) / 100.0 * bounds["rated"]
            yield row, row.drive(leaf).limit_a, allowed


def _no_harder_than_the_sheet(record: Record, bounds: Bounds) -> Breach | None:
    for row, wanted, allowed in _efforts(record, bounds, 100.0):
        if wanted > allowed + 1e-6:
            return Breach(row.at, f"driven with up to {wanted:.1f} A; the sheet allows {allowed:.1f} A")
    return None


def _learns_gently(record: Record, bounds: Bounds) -> Breach | None:
    for row, wanted, allowed in _efforts(record, bounds, bounds["gentle"]):
        if row.state == _LEARNS and wanted > allowed + 1e-6:
            return Breach(row.at, f"learns with up to {wanted:.1f} A; {allowed:.1f} A is allowed")
    return None


def _learning_ends_on_a_guard(record: Record, bounds: Bounds) -> Breach | None:
    late, back = round(bounds["within"] * 1e6), ways_back(record, bounds["back off"])
    for before, row in pairwise(record.rows):
        new = set(not_clear(record, row)) - set(not_clear(record, before))
        if before.state != _LEARNS or not before.driven or not new:
            continue
        again = next((s.at for s in record.done("learn travel") if s.at >= row.at), record.end)
        said = f"{', '.join(sorted(new))} tripped while it learned, "
        for one in stretches(record):
            frees = one in back
            hand = by_hand(record.rows[one.first])
            if one.end > row.at + late and one.start < again and not frees and not hand:
                return Breach(max(one.start, row.at + late), said + "and a leaf is driven all the same")
        for event in record.events:
            if event.kind == "learned" and row.at <= int(event.at) < again:
                return Breach(int(event.at), said + "and something was kept")
    return None


# what a leaf has met


def _presses(record: Record, leaf: int, least: float) -> Iterator[tuple[int, int]]:
    """(from, to) of each time in which a leaf presses on something with more than `least` [N]."""
    times, so = record.trace.time_us, record.trace[_FORCES[leaf]] > least
    since: int | None = None
    for at, presses in zip(times.tolist(), so.tolist(), strict=True):
        if presses and since is None:
            since = at
        elif not presses and since is not None:
            yield since, at
            since = None
    if since is not None:
        yield since, record.end


def _on_a_body(record: Record, leaf: int, since: int, until: int) -> bool:
    """Whether what is pressed is a body, and not the leaf's own bolt."""
    return any(
        event.kind in ("contact", "struck")
        and event.data["leaf"] == LEAVES[leaf]
        and since - 50_000 <= event.at <= until
        for event in record.events
    )


def _noticed(record: Record, leaf: int, since: int) -> bool:
    """Whether it was the contact that ended the movement, and not somebody who stopped it before it was noticed."""
    before = record.row_at(since - 10_000)
    for row in record.rows:
        if before is None or row.at < since or row.ways[leaf] == before.ways[leaf]:
            continue
        if not_clear(record, row, "back off", "reopen"):
            return True
        return not (not_clear(record, row, "hold", "halt") or row.at in asked(record))
    return False


def _no_lasting_force(record: Record, bounds: Bounds) -> Breach | None:
    unfed = min([step.at for step in record.done(*_UNFED)], default=record.end)
    for least, most in (("residual", "total"), ("static", "dynamic")):
        allowed = round(bounds[most] * 1e6)
        for leaf in (0, 1):
            for since, until in _presses(record, leaf, bounds[least]):
                before = record.row_at(since - 10_000)
                if before is not None and before.state == _JOG:
                    continue
                lasts = until - since > allowed and since + allowed < unfed
                if lasts and _on_a_body(record, leaf, since, until) and _noticed(record, leaf, since):
                    return Breach(since + allowed, f"still presses with more than {bounds[least]:g} N")
    return None


def _goes_back_from_what_it_meets(record: Record, bounds: Bounds) -> Breach | None:
    begins, there = round(bounds["begins within"] * 1e6), round(bounds["there within"] * 1e6)
    for leaf in (0, 1):
        for since, end in _presses(record, leaf, bounds["met"]):
            before = record.row_at(since - 10_000)
            until = since + there
            fed = not any(step.at <= until for step in record.done(*_UNFED))
            quiet = undisturbed(record, since - 10_000, until, "wind", "remove body") and not _stops(
                record, since, until
            )
            if (
                before is None
                or not before.ways[leaf]
                or by_hand(before)
                or until > record.end
                or not fed
                or not quiet
            ):
                continue
            way = before.ways[leaf]
            if before.state not in ("opening", "closing") or not _on_a_body(record, leaf, since, end):
                continue
            back = [(at, -way * travelled_mm(record, leaf, since, at)) for at in range(since, until, 50_000)]
            deepest = min(back, key=lambda each: each[1])
            begun = next((at for at, mm in back if at > deepest[0] and mm > deepest[1] + 2.0), None)
            if begun is None or begun > since + begins:
                return Breach(since + begins, f"has not begun to go back {bounds['begins within']:g} s after it met")
            if back[-1][1] - deepest[1] < bounds["goes back"]:
                return Breach(until, f"went back {back[-1][1] - deepest[1]:.0f} mm only")
    return None


def _stops(record: Record, since: int, until: int) -> bool:
    """Whether a guard that stops the gate, whatever is met, speaks in between."""
    rows = [row for row in record.rows if since - 100_000 <= row.at <= until]
    return any(not_clear(record, row, "hold", "halt") for row in rows)


def _stands_is_let_go(record: Record, bounds: Bounds) -> Breach | None:
    held = list(spans(record))
    for one in stretches(record):
        sheet = record.sheet(one.start)
        allowed = bounds["within"] + float(sheet.get("seating push", 0.0)) + bounds["start"]
        for index in range(one.first, one.last + 1):
            until = held[index][1]
            after = record.row_at(until)
            if after is None or after.at != until:
                continue
            begun = one.start + round(float(sheet.get("soft start", 0.0)) * 1e6)
            stood = min(after.inputs.quiet_us[one.leaf], until - begun)
            if stood > allowed * 1e6:
                return Breach(until, f"driven for {stood / 1e6:.1f} s though the motor stands")
    return None


_CLOSING_ON_A_BODY: Final = {"active edge": ("back off", "reopen"), "inactive edge": ("back off", "reopen")}

ENTRIES: Final = (
    Property(
        "pushes no harder than the sheet says",
        "No leaf is driven with more effort than the sheet sets for its way, but for the short way back from a "
        "contact.",
        "The closing force that was measured and signed is not the one that hits.",
        "design of the gate's behaviour, motion; force limits, Facts 1.2",
        "terminals",
        _no_harder_than_the_sheet,
        bounds=(_RATED, _BACK_OFF),
        focus=Focus(
            phrases=("command",),
            first=("opens a little", "to and fro"),
            sheet={"motor effort, opening": (60.0, 100.0), "motor effort, closing": (40.0, 60.0)},
        ),
    ),
    Property(
        "learning pushes gently",
        "While it learns its travel it drives no leaf with more than a gentle effort, nor with more than the sheet "
        "sets.",
        "Nothing is known yet that would tell an obstacle, so whatever is in the way gets all the force there is.",
        "design of the gate's behaviour, travel learning; the effort is common practice, no source",
        "terminals",
        _learns_gently,
        bounds=(_RATED, _BACK_OFF, Bound("gentle", 60.0, "% of rated", "common practice, no source")),
        focus=Focus(
            phrases=("wait",),
            first=("learns",),
            sheet={"motor effort, closing": (100.0,), "motor effort, opening": (100.0,)},
        ),
    ),
    Property(
        "learning ends on a guard and keeps nothing",
        "When any guard trips while the gate learns, its leaves are let go but for the short way back, nothing of "
        "what was learned is kept, and nothing moves by itself until it has learned again.",
        "A travel that ends at somebody's foot becomes the stop that every closing runs to.",
        "design of the gate's behaviour, travel learning",
        "terminals",
        _learning_ends_on_a_guard,
        bounds=(Bound("within", 0.02, "s", "two scans of 10 ms, ours"), _BACK_OFF),
        needs=("outer beam",),
        focus=Focus(phrases=("command",), first=("learns and guard",)),
    ),
    Property(
        "a contact leaves no lasting force",
        "After a leaf has met something, and that was noticed, the force falls below 150 N within 0.75 s and below "
        "25 N within 5 s, though the stop button is struck while the leaf goes back. A leaf that is jogged stands "
        "where it meets something, and is jogged back by whoever holds the panel.",
        "Whoever is caught stays caught, and cannot be pulled out.",
        "EN 12453 Annex A, as Facts 1.2 restates it",
        "gate",
        _no_lasting_force,
        bounds=(
            Bound("static", 150.0, "N", "Facts 1.2"),
            Bound("dynamic", 0.75, "s", "Facts 1.2"),
            Bound("residual", 25.0, "N", "Facts 1.2"),
            Bound("total", 5.0, "s", "Facts 1.2"),
        ),
        focus=Focus(phrases=("wait",), first=("body then stop",), sheet=_CLOSING_ON_A_BODY),
    ),
    Property(
        "goes back from what it meets",
        "A leaf that meets something on its way begins to go back within a time and goes back far enough to free it, "
        "closing and opening, by its edge or by effort alone.",
        "Whoever is caught stays caught until somebody finds the release.",
        "alternative rule set, Facts 2.6; gate shall retract on contact, Facts 1.2",
        "gate",
        _goes_back_from_what_it_meets,
        bounds=(
            Bound("met", 25.0, "N", "the least that a force gauge shows, Facts 1.3"),
            Bound("begins within", 2.0, "s", "Facts 2.6, reversal starts within 2 s"),
            Bound("goes back", 50.8, "mm", "Facts 2.6, travels back at least 2 in"),
            Bound("there within", 7.0, "s", "ours: a back-off's longest time, and the leaves one after the other"),
        ),
        focus=Focus(
            phrases=("wait",),
            first=("body in the way",),
            sheet={"active edge": ("back off", "not fitted"), "inactive edge": ("back off", "not fitted")},
        ),
    ),
    Property(
        "a motor that stands is let go",
        "No leaf is driven for longer than a moment, and its seating push, while its counter stands.",
        "The motor burns, and whatever holds the leaf is pressed by all the effort there is.",
        "Facts 2.5, motor cut 0.2 s to 1.0 s after stall is seen, common practice",
        "terminals",
        _stands_is_let_go,
        bounds=(
            Bound("within", 1.0, "s", "Facts 2.5, common practice"),
            Bound("start", 0.8, "s", "stall is not judged while a leaf starts, ours"),
        ),
        focus=Focus(phrases=("body", "command"), first=("round trip", "body in the way")),
    ),
)
