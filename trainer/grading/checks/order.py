"""Leaf order: the leaf that is free to move when the other is shut opens first and closes last."""

from __future__ import annotations

from sim.said import said
from sim.world.history import Event
from trainer.grading.checks.check import Check, failed, not_applicable, not_yet, passed, stale
from trainer.grading.finding import Verdict
from trainer.grading.story import Move, Story, cite, same

SETTINGS = ("opens first", "leaf delay, opening", "leaf delay, closing")

SHUT_DEG = 2.0
"""A leaf at or below this stands shut [°]. Common practice, no source."""


def runs(story: Story, direction: str) -> list[list[Move]]:
    """Automatic runs one way, each the moves of both leaves until something moved the other way.

    A leaf may stand and go on within a run: the second waits outside the lap until the first is home.
    """
    found: list[list[Move]] = []
    open_run = False
    for move in story.moves:
        if move.by != "automatic":
            open_run = False
            continue
        if move.direction != direction:
            open_run = False
            continue
        if not open_run:
            found.append([])
        found[-1].append(move)
        open_run = True
    return found


def _opening_starts(story: Story) -> tuple[Move, Move] | None:
    """First moves of (first leaf, second leaf) of the last automatic opening of both leaves from shut."""
    for run in reversed(runs(story, "open")):
        firsts = {leaf: next((m for m in run if m.leaf == leaf), None) for leaf in story.leaves}
        moves = [m for m in firsts.values() if m is not None]
        if len(moves) == 2 and all(m.from_deg is None or m.from_deg <= SHUT_DEG for m in moves):
            first, second = sorted(moves, key=lambda m: m.start)
            return first, second
    return None


def _closing_arrivals(story: Story) -> tuple[Event, Event] | None:
    """(first leaf home, last leaf home) of the last automatic closing that brought both leaves home."""
    for run in reversed(runs(story, "close")):
        if {m.leaf for m in run} != set(story.leaves):
            continue
        began, ended = min(m.start for m in run), max(m.end for m in run)
        homes: list[Event] = []
        for leaf in story.leaves:
            home = [e for e in story.events("stop reached", leaf=leaf, stop="closed stop") if began <= e.at <= ended]
            home = home or [e for e in story.events("resting", leaf=leaf) if _shut_by(e, began, ended)]
            homes += home[:1]
        if len(homes) == 2:
            homes.sort(key=lambda e: e.at)
            return homes[0], homes[1]
    return None


def _shut_by(event: Event, began: int, ended: int) -> bool:
    angle = event.data.get("angle_deg")
    return began <= event.at <= ended and isinstance(angle, (int, float)) and angle <= SHUT_DEG


def _true(story: Story) -> Verdict:
    standing = story.standing
    if len(story.leaves) == 1:
        return not_applicable("The gate has one leaf.")
    told, free = str(standing.sheet.get("opens first", "not stated")), standing.opens_first_truth
    changes = story.setting_changes(*SETTINGS)
    since = changes[-1].effect_at if changes else 0
    cited = [d.cite for d in story.done("set", setting="opens first")[-1:]]
    if same(told, "not stated"):
        return not_yet("The sheet does not say which leaf opens first.")
    if not same(told, free):
        return failed(
            said(
                "The sheet says the {told} leaf opens first; the cover strip lets the {free} leaf go first.",
                told=told,
                free=free,
            ),
            *cited,
        )
    clashes = [e for e in story.events("clash") if e.at >= since]
    if clashes:
        return failed("The leaves clashed with the order as it stands.", *cited, cite(clashes[-1]))
    starts, arrivals = _opening_starts(story), _closing_arrivals(story)
    if starts is None or arrivals is None:
        return not_yet(
            "No whole automatic opening of both leaves was seen."
            if starts is None
            else "No whole automatic closing of both leaves was seen.",
            *cited,
        )
    shown = [cite(starts[0].event), cite(starts[1].event), cite(arrivals[0]), cite(arrivals[1])]
    if min(starts[0].start, arrivals[0].at) < since:
        return stale("Order or delays were changed after the last whole cycle.", *shown, changes[-1].cite)
    if starts[0].leaf != free or starts[0].start == starts[1].start:
        return failed(said("The {free} leaf did not start first.", free=free), *cited, *shown[:2])
    if arrivals[1].data.get("leaf") != free or arrivals[0].at == arrivals[1].at:
        return failed(said("The {free} leaf was not the last one home.", free=free), *cited, *shown[2:])
    return passed(
        said("The {free} leaf started first and was home last, as the cover strip wants it.", free=free),
        *cited,
        *shown,
    )


CHECKS = (
    Check(
        name="leaf order true",
        part="outcome",
        title="Leaf order true to the cover strip",
        why="In the wrong order the leaves meet at the strip with all the drives' force, and fingers stay in "
        "between.",
        instead="Look which side the strip lies on: the leaf that can move while the other is shut opens first and "
        "closes last. Set the order, then the delays, then watch one whole cycle.",
        judge=_true,
        needs=("travel learned",),
    ),
)
