"""Closing force: three readings at a point, meter on a rigid rest, the mean judged, and nothing changed since."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sim.instruments.rule_sets import CRUSH, rules_at
from sim.said import listed, said
from sim.world.history import Event
from trainer.grading.checks.check import Check, failed, marginal, not_yet, passed, stale
from trainer.grading.finding import Verdict
from trainer.grading.story import GUARDS, Deed, Story, cite, numbers_of

READINGS = int(CRUSH.repeats.value)
"""Readings at each point; their mean is judged."""

ABOVE_150_S = CRUSH.dynamic.value
STATIC_N = CRUSH.static.value
RESIDUAL_S = CRUSH.residual_time.value
"""Limits of the force-time curve that hold at every gap; the peak's depends on it (`rules_at`)."""

NEAR = 0.95
"""Beyond this share of a limit a pass is marginal: the meter itself is good to one in twenty. Facts 1.3, practice."""

SETTINGS = (
    "motor effort, opening",
    "motor effort, closing",
    "run speed",
    "slow speed",
    "slow zone before stop",
    "obstacle margin",
    "active edge",
    "inactive edge",
)
"""A change of one of these outdates the force record. Work on a motor does too."""

Point = tuple[str, float, float]
"""Leaf, gap [mm], height [mm]."""


@dataclass(frozen=True, slots=True)
class Mean:
    """Means over the readings at a point."""

    peak_n: float
    above_150_s: float
    static_n: float
    residual_s: float


def is_valid(story: Story, event: Event) -> bool:
    """Whether a reading counts: at the closing leaf, on a rigid rest, nothing bridged to get it."""
    bridged = any(story.bridge_on(guard).at(event.at) for guard in GUARDS)
    return (
        _is_closing(event) and event.data.get("rest") == "rigid rest" and not bridged and _figures(event) is not None
    )


def counting(story: Story) -> tuple[bool, ...]:
    """For each reading in its order: valid, and nothing was changed since that outdates it."""
    changes = force_changes(story)
    since = changes[-1].effect_at if changes else 0
    return tuple(event.at >= since and is_valid(story, event) for event in story.events("force"))


def _is_closing(event: Event) -> bool:
    return event.data.get("direction", "closing") == "closing"


def points(events: list[Event]) -> dict[Point, list[Event]]:
    """Readings grouped by the point they were taken at."""
    found: dict[Point, list[Event]] = {}
    for event in events:
        where = numbers_of(event.data, "gap_mm", "height_mm")
        if where is not None:
            found.setdefault((str(event.data.get("leaf", "")), where[0], where[1]), []).append(event)
    return found


def force_changes(story: Story) -> list[Deed]:
    """Acts that outdate a force record."""
    return sorted((*story.setting_changes(*SETTINGS), *story.done("swap motor leads")), key=lambda deed: deed.number)


def _figures(event: Event) -> list[float] | None:
    return numbers_of(event.data, "peak_n", "above_150_s", "static_n", "residual_s")


def mean(events: list[Event]) -> Mean:
    """Means over readings that all have their figures."""
    rows = [row for event in events if (row := _figures(event)) is not None]
    return Mean(*(sum(column) / len(rows) for column in zip(*rows, strict=True)))


def _excess(point: Point, found: Mean) -> Iterator[tuple[float, str]]:
    """(share of the limit, in words) for each figure."""
    peak = rules_at(point[1]).peak.value
    yield found.peak_n / peak, said("peak {peak_n:.0f} N of {limit_n:.0f} N", peak_n=found.peak_n, limit_n=peak)
    told = said("{above_s:.2f} s above 150 N of {limit_s} s", above_s=found.above_150_s, limit_s=ABOVE_150_S)
    yield found.above_150_s / ABOVE_150_S, told
    told = said("{force_n:.0f} N after 0.75 s of {limit_n:.0f} N", force_n=found.static_n, limit_n=STATIC_N)
    yield found.static_n / STATIC_N, told
    told = said("{above_s:.1f} s above 25 N of {limit_s:.0f} s", above_s=found.residual_s, limit_s=RESIDUAL_S)
    yield found.residual_s / RESIDUAL_S, told


def _measured(story: Story) -> Verdict:
    valid = [event for event in story.events("force") if is_valid(story, event)]
    changes = force_changes(story)
    since = changes[-1].effect_at if changes else 0
    fresh = {p: e for p, e in points([e for e in valid if e.at >= since]).items() if len(e) >= READINGS}
    if not fresh:
        old = [e for e in points(valid).values() if len(e) >= READINGS]
        if old:
            return stale("Effort, speed, edge or drive changed after it.", cite(old[-1][-1]), changes[-1].cite)
        held = sum(map(_is_closing, story.events("force"))) - len(valid)
        most = max((len(e) for e in points([e for e in valid if e.at >= since]).values()), default=0)
        if held:
            return not_yet(
                said(
                    "{most} of {asked} readings at one point that count; {held} do not count "
                    "(held by hand or bridged).",
                    most=most,
                    asked=READINGS,
                    held=held,
                )
            )
        return not_yet(said("{most} of {asked} readings at one point that count.", most=most, asked=READINGS))
    over, near, told = [], [], ""
    for point, events in fresh.items():
        shares = list(_excess(point, mean(events)))
        told = said(
            "{leaf} leaf, gap {gap_mm:.0f} mm, mean of {readings}: {peak}",
            leaf=point[0],
            gap_mm=point[1],
            readings=len(events),
            peak=shares[0][1],
        )
        over += [text for share, text in shares if share > 1.0]
        near += [text for share, text in shares if NEAR < share <= 1.0]
    cited = [cite(event) for events in fresh.values() for event in events]
    if over:
        return failed(
            said("Over the limit: {figures}. Out of service until it is cured, not turned up.", figures=listed(over)),
            *cited,
        )
    if near:
        return marginal(said("Within the limit, but near it: {figures}.", figures=listed(near)), *cited)
    return passed(said("Within limits: {told}.", told=told), *cited)


CHECKS = (
    Check(
        name="closing force measured",
        part="verification",
        title="Closing force measured",
        why="Only the force-time curve on a calibrated meter proves a force; a current limit proves nothing. "
        "After any "
        "change of force, speed, leaf, edge or drive it is measured again.",
        instead="Meter on a rigid rest, three readings at the point, judge their mean against the limits.",
        judge=_measured,
        needs=("travel learned",),
    ),
)
