"""A fault on a site: the reference measurement without and with it, and what else of the gate reads otherwise."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any, Final

from sim.bench.fault_readings import CYCLE, Outcome, Pair, figure, gate, in_both, lies_in, played
from sim.errors import Refused
from sim.faults.entry import Band, Fault, Reference, Step
from sim.site import Site, with_changes
from sim.units import SECOND
from sim.world.world import World

TELLS: Final = 0.02
"""A number that differs by less than this part of itself is not worth a line."""

MOST_LINES: Final = 12


@dataclass(frozen=True, slots=True)
class Line:
    """One reading of the gate without the fault and with it, in words."""

    what: str
    healthy: str
    faulty: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """What one fault does on one site."""

    fault: str
    site: str
    share: float
    reference: Line
    healthy_band: str
    faulty_band: str
    healthy_lies_in: bool
    """Whether the healthy reading lies in the bench's healthy band."""
    faulty_lies_in: bool
    others: tuple[Line, ...]
    """Other readings that changed, a handful."""
    note: str = ""
    left_out: tuple[str, ...] = ()
    """Acts of the measurement that make no sense on this gate."""
    comes: str = ""
    """What brings it on, when it isn't always there."""
    on_the_bench: str = ""
    """What the bench it is measured on has otherwise than any gate, with the site's keys; '' when nothing."""

    @property
    def tells(self) -> bool:
        """Whether the two readings of the reference can be told apart."""
        return self.reference.healthy != self.reference.faulty

    def as_base_types(self) -> dict[str, Any]:
        """For JSON."""
        return asdict(self)


def compare(site: Site, fault: Fault, share: float = 1.0, *, seed: int = 0) -> Comparison:
    """Play the reference, and an ordinary opening and closing, on the gate without the fault and with it.

    A fault that comes with the weather is looked at in that weather.
    Raises Refused, in words, if the fault doesn't fit the site, and CannotLearn if the gate can't run at all.
    """
    weather = {key: value for key, value in fault.variant.items() if fault.trigger and key.startswith("weather.")}
    site = with_changes(site, weather) if weather else site
    plain = Fault(**{**{name: getattr(fault, name) for name in fault.__slots__}, "variant": {}})
    learned = gate(site, seed=seed)
    try:
        learned.faults.check(fault.name, share)
    except Refused as refusal:
        raise Refused(f"'{fault.name}' doesn't fit {site.name}: {refusal}{_needs(fault.variant)}") from refusal
    asked = in_both(site, plain, share, lambda world: _asked(world, fault), learned=learned)
    seen = in_both(site, plain, share, _seen, learned=learned)
    reference = fault.reference
    return Comparison(
        fault.name,
        site.name,
        share,
        Line(asked_in_words(reference), shown(asked.healthy, reference), shown(asked.faulty, reference)),
        band_in_words(reference.healthy, asked.healthy.unit),
        band_in_words(reference.faulty, asked.healthy.unit),
        lies_in(asked.healthy, reference, reference.healthy),
        lies_in(asked.faulty, reference, reference.faulty),
        _changed(seen),
        reference.note,
        asked.healthy.left_out,
        trigger_in_words(fault) + (", so this was done in such weather" if weather else ""),
        keys_in_words({key: value for key, value in fault.variant.items() if key not in weather}),
    )


def _asked(world: World, fault: Fault) -> Outcome:
    return played(world, fault.reference.steps, leaving_out=True)


def _needs(variant: Mapping[str, Any]) -> str:
    return f" (on the bench it is shown with {keys_in_words(variant)})" if variant else ""


# -- in words ----------------------------------------------------------------------------------------------


def keys_in_words(variant: Mapping[str, Any]) -> str:
    """Keys of a site and what stands at them."""
    return ", ".join(f"{key} as {value}" for key, value in variant.items())


def step_in_words(step: Step) -> str:
    """An act as one writes it down: `measure: multimeter, ohms, 'one end' and 'the other'`."""
    told = dict(step.arguments)
    instrument = [str(told.pop(key)) for key in ("instrument", "function") if key in told]
    places = [f"'{told.pop(key)}'" for key in ("at", "against", "red", "black") if told.get(key)]
    rest = [
        f"'{value}'" if isinstance(value, str) and "," in value else f"{value}"
        for value in told.values()
        if value != ""
    ]
    words = [*instrument, *([" and ".join(places)] if places else []), *rest]
    return f"{step.kind}: {', '.join(words)}" if words else step.kind


def asked_in_words(reference: Reference) -> str:
    """The last act of the measurement, and which of its figures counts."""
    which = {"value": "", "least": ", the least", "most": ", the most"}[reference.figure]
    return step_in_words(reference.steps[-1]) + which


def shown(outcome: Outcome, reference: Reference) -> str:
    """What the reference came to."""
    if outcome.refused:
        return f"can't be done: {outcome.refused}"
    number = figure(outcome, reference)
    if math.isnan(number) or reference.figure == "value":
        return outcome.text.rpartition(": ")[2] if outcome.unit else outcome.text
    return f"{number:.4g} {outcome.unit}".strip()


def band_in_words(band: Band, unit: str) -> str:
    """A band as one says it."""
    if band.words:
        return " or ".join(f"'{word}'" for word in band.words)
    unit = band.unit or unit
    if band.least is None:
        return f"at most {_amount(band.most, unit)}"
    if band.most is None:
        return f"at least {_amount(band.least, unit)}"
    if band.least == 0.0:
        return f"0 to {_amount(band.most, unit)}"
    least, most = _amount(band.least, unit), _amount(band.most, unit)
    if least.rpartition(" ")[2] == most.rpartition(" ")[2]:
        least = least.rpartition(" ")[0] or least
    return f"{least} to {most}"


PREFIXES: Final = ((1e12, "T"), (1e9, "G"), (1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "µ"))


def _amount(number: float | None, unit: str) -> str:
    """A number with its unit; ohms and farads with the prefix that people say."""
    if number is None:
        return ""
    if unit not in ("Ω", "F") or number == 0.0:
        return f"{number:g} {unit}".strip()
    size, prefix = next((pair for pair in PREFIXES if abs(number) >= pair[0]), PREFIXES[-1])
    return f"{number / size:g} {prefix}{unit}"


SIGNAL_UNITS: Final = {
    "active leaf angle": "°",
    "inactive leaf angle": "°",
    "air temperature": "°C",
    "active winding temperature": "°C",
    "inactive winding temperature": "°C",
    "rain": "mm/h",
    "wind": "m/s",
    "hour": "o'clock",
}


def trigger_in_words(fault: Fault) -> str:
    """What brings an intermittent fault on; empty for one that is always there."""
    trigger = fault.trigger
    if trigger is None:
        return ""
    unit = SIGNAL_UNITS.get(trigger.signal)
    if unit is None:
        return f"now and then, with {trigger.signal}"
    bounds = [
        *([f"above {trigger.above:g} {unit}"] if trigger.above is not None else []),
        *([f"below {trigger.below:g} {unit}"] if trigger.below is not None else []),
    ]
    return f"now and then, with {trigger.signal} {' and '.join(bounds)}"


# -- what else is seen -------------------------------------------------------------------------------------


def _seen(world: World) -> dict[str, tuple[float, str] | str]:
    """Readings of a gate at rest and through an opening and a closing: (number, unit), or words."""
    seen: dict[str, tuple[float, str] | str] = {}
    solved = world.cabinet.netlist.solution()
    for name, terminal in world.cabinet.terminals.items():
        if terminal.net != "mains":
            volts = solved.volts(terminal.node, "board.common")
            seen[f"{name}, at rest"] = "floats" if volts is None else (volts, "V")
    first = len(world.plant.recording().time_us)
    began, start = len(world.events), int(world.now)
    answers = played(world, CYCLE)
    rows = world.plant.recording()
    for leaf, name in enumerate(world.site.leaves.fitted):
        current = (rows.active_current, rows.inactive_current)[leaf][first:]
        angle = (rows.active_angle, rows.inactive_angle)[leaf][first:]
        if len(current):
            seen[f"{name} leaf, most current in a cycle"] = (float(abs(current).max()), "A")
            seen[f"{name} leaf, most open in a cycle"] = (math.degrees(float(angle.max())), "°")
        seen[f"{name} leaf, winding after a cycle"] = (world.plant.winding_c(leaf), "°C")
    if len(rows.supply[first:]):
        seen["board supply, least in a cycle"] = (float(rows.supply[first:].min()), "V")
    for event in world.events[began:]:
        if event.kind == "resting" and f"{event.data['leaf']} leaf, opened after" not in seen:
            seen[f"{event.data['leaf']} leaf, opened after"] = ((int(event.at) - start) / SECOND, "s")
    seen["after the opening command"] = answers.answers[3] if len(answers.answers) > 3 else answers.refused
    seen["after the closing command"] = answers.answers[8] if len(answers.answers) > 8 else answers.refused
    headline = world.headline()
    seen["the controller says"] = f"{headline.state}: {headline.message}" if world.host.on else "no power"
    notes = [text for at, text in world.controller.panel().log if at >= start]
    seen["the controller's log of it"] = "; ".join(notes[:3]) + (
        f"; and {len(notes) - 3} more" if len(notes) > 3 else ""
    )
    return seen


def _changed(seen: Pair) -> tuple[Line, ...]:
    """The readings that differ: words first, then the numbers that differ most."""
    words: list[Line] = []
    numbers: list[tuple[float, Line]] = []
    for what, before in seen.healthy.items():
        after = seen.faulty.get(what, "not seen")
        if isinstance(before, tuple) and isinstance(after, tuple):
            share = abs(after[0] - before[0]) / max(abs(before[0]), abs(after[0]), 1e-9)
            if share > TELLS and abs(after[0] - before[0]) > 0.02:
                numbers.append((share, Line(what, _number(*before), _number(*after))))
        elif before != after:
            words.append(Line(what, _worded(before), _worded(after)))
    numbers.sort(key=lambda pair: -pair[0])
    kept = [line for line in words if not line.what.endswith("at rest")]
    rest = [line for line in words if line.what.endswith("at rest")]
    return tuple([*kept, *(line for _, line in numbers), *rest][:MOST_LINES])


def _number(value: float, unit: str) -> str:
    return f"{value:.4g} {unit}"


def _worded(value: tuple[float, str] | str) -> str:
    return value if isinstance(value, str) else _number(*value)


__all__ = ["Comparison", "Line", "asked_in_words", "band_in_words", "compare", "step_in_words", "trigger_in_words"]
