"""What was measured in an attempt, in order: each reading with what it showed, as the world told it."""

from __future__ import annotations

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
        return event.text.removesuffix(f": {shown}"), shown
    value = number(event.data.get("value"))
    return event.text, "" if value is None else f"{value:g} {event.data.get('unit', '')}".strip()


def _force(event: Event) -> tuple[str, str]:
    told = event.data
    where = (
        f"force gauge, {told['leaf']} leaf {told.get('direction', 'closing')}, "
        f"gap {float(told['gap_mm']):.0f} mm, {float(told['height_mm']):.0f} mm up, {told['rest']}"
    )
    shown = (
        f"peak {float(told['peak_n']):.0f} N, {float(told['above_150_s']):.2f} s above 150 N, "
        f"then {float(told['static_n']):.0f} N: {told['verdict']}"
    )
    return where, shown
