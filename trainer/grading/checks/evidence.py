"""Evidence: whether anything that was measured or seen owes itself to the fault that was named or mended.

The same acts on a gate without that fault are played beside it. A reading that comes out otherwise there speaks of
the fault; one that comes out the same says nothing of it. Whoever names the right cause with no such reading has
guessed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from sim.faults.catalogue import FAULTS
from sim.said import listed, said
from sim.units import SECOND, Us
from sim.world.history import Event, History
from trainer.diagnosis.classes import classes
from trainer.grading.checks.check import Check, failed, marginal, not_applicable, not_yet, passed
from trainer.grading.checks.repair import WORK
from trainer.grading.finding import Evidence, Verdict
from trainer.grading.story import Story, cite, number

SHOWN_BY_TRYING: Final = frozenset({"settings", "commissioning"})
"""Families whose faults are found by trying and by reading the sheet: there is nothing to measure."""

SEEN: Final = ("state", "guard", "refused", "clash", "contact")
"""Events that anybody sees who runs the gate and reads its panel."""

NOTICED: Final = Us(3 * SECOND)
"""What comes sooner or later than on a sound gate by this is noticed without a watch [µs]. From memory: people tell
times of some seconds apart when they differ by a good part of them; common practice, no source for the figure."""


def _supported(story: Story) -> Verdict:
    had = [fault for fault in story.standing.had if fault in story.without]
    if not had:
        return not_applicable("There was no fault to show.")
    guessed: list[str] = []
    untold: list[str] = []
    seen: list[Evidence] = []
    stumbled: list[str] = []
    shown: list[Evidence] = []
    for fault in had:
        until = _named_at(story, fault)
        if until is None:
            untold.append(fault)
            continue
        other = story.without[fault](until)
        readings = _otherwise(story.events("reading"), other, until)
        if readings:
            shown.append(cite(readings[-1]))
        elif looked := _seen_otherwise(story, other, until):
            if FAULTS[fault].family in SHOWN_BY_TRYING:
                shown.append(cite(looked))
            elif _mended_nothing(story, until):
                stumbled.append(fault)
            else:
                seen.append(cite(looked))
        elif FAULTS[fault].family in SHOWN_BY_TRYING and (timed := _seen_at_another_time(story, other, until)):
            shown.append(cite(timed))
        else:
            guessed.append(fault)
    if guessed:
        return failed(
            said("Named or mended with nothing before it that showed it: {causes}.", causes=listed(guessed))
        )
    if stumbled:
        return failed(
            said(
                "One repair after the other until it ran, with no reading that showed {causes}.",
                causes=listed(stumbled),
            )
        )
    if untold:
        return not_yet(said("Neither named nor mended: {causes}.", causes=listed(untold)), *shown, *seen)
    if seen:
        return marginal("Seen by trying the gate, and not measured, before it was named.", *seen)
    return passed("What was measured before would have read otherwise on a gate without it.", *shown)


def _mended_nothing(story: Story, until: int) -> bool:
    """Whether somebody mended before what was not broken: who tries a gate after each repair sees it fail each time,
    and that shows no cause."""
    mended = {line for line, _name in story.standing.mended}
    return any(deed.entry.at < until and deed.entry.line not in mended for deed in story.done(*sorted(WORK)))


def _named_at(story: Story, fault: str) -> Us | None:
    """When a fault was first named or mended [µs]; None if neither happened."""
    lines = {line for line, name in story.standing.mended if name == fault}
    deeds = [deed for deed in story.deeds if deed.entry.line in lines]
    deeds += story.done("conclude", cause=fault)
    return min((deed.entry.at for deed in deeds), default=None)


def _otherwise(events: Sequence[Event], other: History, until: int) -> list[Event]:
    """Readings up to an instant that the same act would not have given there."""
    there = dict(_keyed(e for e in other.events if e.kind == "reading"))
    return [
        event for key, event in _keyed(events) if event.at <= until and key in there and _differ(event, there[key])
    ]


def _keyed(events: Iterable[Event]) -> Iterable[tuple[object, Event]]:
    """Each reading with what it was of: the act, the instrument and its places, and which reading of that act."""
    count: dict[object, int] = {}
    for event in events:
        what = tuple(str(event.data.get(name, "")) for name in ("instrument", "function", "red", "black"))
        key = (event.line, *what)
        count[key] = count.get(key, 0) + 1
        yield (key, count[key]), event


def _differ(one: Event, other: Event) -> bool:
    """Whether two readings of the same measurement can be told apart, in what is shown or in the least or the most
    that the instrument remembers."""
    unit = str(one.data.get("unit", ""))
    texts = [str(event.data.get("shown", event.data.get("value", ""))) for event in (one, other)]
    if _apart(texts, unit):
        return True
    for extreme in ("least", "most"):
        figures = [number(event.data.get(extreme)) for event in (one, other)]
        if None not in figures and _apart([f"{figure:.6g} {unit}" for figure in figures], unit):
            return True
    return False


def _apart(texts: Sequence[str], unit: str) -> bool:
    first, second = classes(texts, unit)
    return bool(first != second)


def _seen_otherwise(story: Story, other: History, until: int) -> Event | None:
    """The first thing up to an instant that would not have been seen there; None where all was the same."""
    ours = [e for e in story.history.events if e.kind in SEEN and e.at <= until]
    theirs = [e for e in other.events if e.kind in SEEN and e.at <= until]
    for one, two in zip(ours, theirs, strict=False):
        if (one.kind, str(one.text)) != (two.kind, str(two.text)):
            return one
    if len(ours) != len(theirs):
        longer = max(ours, theirs, key=len)
        return ours[-1] if longer is theirs and ours else longer[-1]
    return None


def _seen_at_another_time(story: Story, other: History, until: int) -> Event | None:
    """The first thing up to an instant that came there as well, noticeably sooner or later; None if nothing did."""
    ours = [e for e in story.history.events if e.kind in SEEN and e.at <= until]
    theirs = [e for e in other.events if e.kind in SEEN and e.at <= until]
    for one, two in zip(ours, theirs, strict=False):
        if abs(one.at - two.at) >= NOTICED:
            return one
    return None


EVIDENCE: Final = Check(
    name="evidence before the repair",
    part="diagnosis",
    title="Evidence before the repair",
    why="A right guess is luck: the next one costs a good part, or leaves a bad one in.",
    instead="Before you name a cause, take the one reading that a sound gate would not give.",
    judge=_supported,
)
