"""Beams under test: cut while closing at three places, low; and with the receiver unplugged no closing starts."""

from __future__ import annotations

from sim.said import listed, said
from sim.world.history import Event
from trainer.grading.checks.check import Check, failed, not_yet, passed, stale
from trainer.grading.checks.guards import guard_changes
from trainer.grading.finding import Verdict
from trainer.grading.story import BEAMS, Deed, Story, cite, number

PLACES = 3
APART_M = 0.5
"""Places nearer together than this are one place [m]. Common practice, no source."""

ANSWER = 3_000_000
"""A closing leaf that is not opening this long after the beam was cut did not reopen [µs]. Common practice."""


def _body(story: Story, event: Event) -> Deed | None:
    """The test body that cut the beam: the last body placed, None when that was something else."""
    placed = [d for d in story.done("place body") if d.entry.at <= event.at]
    return placed[-1] if placed and placed[-1].of("body") == "test body" else None


def _reopened(story: Story, event: Event) -> bool:
    return any(
        m.direction == "open" and m.by == "automatic" and event.at <= m.start <= event.at + ANSWER
        for m in story.moves
    )


def _three_places(story: Story) -> Verdict:
    cuts = [e for g in BEAMS for e in story.events("guard", guard=g, tripped=True, moving="closing")]
    cuts = sorted((e for e in cuts if number(e.data.get("place")) is not None), key=lambda e: e.at)
    tried = [(e, body) for e in cuts if (body := _body(story, e)) is not None and e.at + ANSWER <= story.end]
    changes = sorted((d for g in BEAMS for d in guard_changes(story, g)), key=lambda d: d.number)
    since = changes[-1].effect_at if changes else 0
    held = [(e, body) for e, body in tried if _reopened(story, e)]
    missed = [e for e, _ in tried if e.at >= since and not _reopened(story, e)]
    if missed:
        return failed("The gate closed on through the cut beam.", *[cite(e) for e in missed])
    fresh = [(e, body) for e, body in held if e.at >= since]
    lacks = _lacks(fresh)
    shown = [cite(e) for e, _ in fresh]
    if not lacks:
        return passed("Cut low and at three places while closing, the gate reopened each time.", *shown)
    if not _lacks(held):
        return stale("A beam was changed after it was tried.", *[cite(e) for e, _ in held], changes[-1].cite)
    return not_yet(said("Still to be tried: {lacks}.", lacks=lacks), *shown)


def _lacks(held: list[tuple[Event, Deed]]) -> str:
    places: list[float] = []
    for event, _ in held:
        place = number(event.data.get("place"))
        if place is not None and all(abs(place - other) >= APART_M for other in places):
            places.append(place)
    lacks = []
    if len(places) < PLACES:
        lacks.append(said("the test body at {more} more places along the beam", more=PLACES - len(places)))
    if not any(body.of("lying") == "True" for _, body in held):
        lacks.append(said("the test body lying low"))
    return listed(lacks)


def _refused(story: Story) -> Verdict:
    tries: list[tuple[str, Deed, Event | None, bool]] = []
    for guard in BEAMS:
        for deed in story.done("unplug", guard=guard):
            span = next((s for s in story.unplugged(guard).spans(True, story.end) if s[0] == deed.effect_at), None)
            if span is None or not story.standing.fitted.get(guard, False) or story.bridge_on(guard).at(span[0]):
                continue
            closed = any(
                m.direction == "close" and m.by == "automatic" and span[0] <= m.start < span[1] for m in story.moves
            )
            told = [e for e in story.events("refused") if span[0] <= e.at <= span[1] and _names(e, guard)]
            if closed or told:
                tries.append((guard, deed, told[-1] if told else None, closed))
    if not tries:
        return not_yet("No movement was asked for with a beam's receiver unplugged.")
    guard, deed, event, closed = tries[-1]
    shown = [deed.cite] + ([cite(event)] if event is not None else [])
    if closed:
        return failed(
            said("The gate closed by itself with the receiver of the {guard} unplugged.", guard=guard), *shown
        )
    changes = [d for d in guard_changes(story, guard) if d.entry.at > deed.entry.at]
    if changes:
        return stale(said("The {guard} was changed after that.", guard=guard), *shown, changes[-1].cite)
    return passed(
        said("With the receiver of the {guard} unplugged the gate refused, and named it.", guard=guard), *shown
    )


def _names(event: Event, guard: str) -> bool:
    return guard in f"{event.data.get('why', '')} {event.text}".lower()


CHECKS = (
    Check(
        name="beam reopens at three places",
        part="outcome",
        title="Beam reopens at three places",
        why="A beam that works in the middle may be blind at a post or over a lying child. It lowers the chance of "
        "contact and never replaces what makes contact safe.",
        instead="While the gate closes by itself, put the test body into the beam from outside the arc, lying low, "
        "near each post and in the middle.",
        judge=_three_places,
        needs=("travel learned",),
    ),
    Check(
        name="unplugged receiver refused",
        part="outcome",
        title="Unplugged receiver keeps the gate still",
        why="A broken wire must be as good as a cut beam. A gate that runs on without its guard runs onto people.",
        instead="With the gate open, pull the receiver's plug, ask for closing, read why it refuses, push the "
        "plug back.",
        judge=_refused,
        needs=("travel learned",),
    ),
)
