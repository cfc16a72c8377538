"""What was measured in an attempt, in order: each reading with what it showed, as the world told it."""

from __future__ import annotations

from sim.said import Said, said
from sim.world.history import Event
from trainer.grading.story import Story, number
from trainer.session.lookback import MeasuredView


def measured(story: Story) -> tuple[MeasuredView, ...]:
    """Every reading of an instrument, of the spring scale and of the force gauge, by the time it was taken."""
    found = sorted([*story.events("reading"), *story.events("force")], key=lambda event: event.at)
    return tuple(_view(event) for event in found)


def _view(event: Event) -> MeasuredView:
    what, shown = _force(event) if event.kind == "force" else _reading(event)
    return MeasuredView(event.line, event.at, what, shown)


def _reading(event: Event) -> tuple[str, str]:
    shown = str(event.data.get("shown", ""))
    if shown and event.text.endswith(f": {shown}"):
        return _without(event.text, shown), shown
    value = number(event.data.get("value"))
    return event.text, "" if value is None else f"{value:g} {event.data.get('unit', '')}".strip()


def _without(text: str, shown: str) -> str:
    """What was measured, of a text that ends with what was shown; its parts are kept."""
    if isinstance(text, Said):
        sentence, _, gap = text.sentence.rpartition(": ")
        if text.fields.get(gap[1:-1]) == shown:
            return Said(sentence, text.fields)
    return text.removesuffix(f": {shown}")


def _force(event: Event) -> tuple[str, str]:
    told = event.data
    where = said(
        "force gauge, {leaf} leaf {direction}, gap {gap_mm:.0f} mm, {height_mm:.0f} mm up, {rest}",
        leaf=told["leaf"],
        direction=told.get("direction", "closing"),
        gap_mm=float(told["gap_mm"]),
        height_mm=float(told["height_mm"]),
        rest=told["rest"],
    )
    shown = said(
        "peak {peak_n:.0f} N, {above_s:.2f} s above 150 N, then {static_n:.0f} N: {verdict}",
        peak_n=float(told["peak_n"]),
        above_s=float(told["above_150_s"]),
        static_n=float(told["static_n"]),
        verdict=told["verdict"],
    )
    return where, shown
