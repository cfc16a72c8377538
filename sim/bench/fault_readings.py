"""A gate with a fault and the same gate without: the reference measurement in both, and what else reads otherwise."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sim.bench.branching import CAN_BRANCH, Branch
from sim.bench.trial import as_installed
from sim.errors import ActionError, Refused
from sim.faults.catalogue import FAULTS, named
from sim.faults.entry import Band, Fault, Reference, Step, step
from sim.instruments.toolbag import Toolbag
from sim.kernel import compiler
from sim.site import Site, with_changes
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

__all__ = ["FAULTS", "Outcome", "Pair", "figure", "gate", "in_both", "lies_in", "named", "played", "put_back"]

CYCLE: tuple[Step, ...] = (
    step("press", control="open button"),
    step("wait", seconds=0.5),
    step("release", control="open button"),
    step("wait until", what="fully open", at_most_s=60.0),
    step("wait", seconds=2.0),
    step("press", control="close button"),
    step("wait", seconds=0.5),
    step("release", control="close button"),
    step("wait until", what="fully closed", at_most_s=60.0),
    step("wait", seconds=2.0),
)
"""An ordinary opening and closing by command."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of some acts, as plain data."""

    answers: tuple[str, ...]
    value: float = math.nan
    least: float = math.nan
    most: float = math.nan
    unit: str = ""
    text: str = ""
    """What the last act showed or said."""
    refused: str = ""
    """The first act that could not be done, and why."""
    dangers: tuple[str, ...] = ()
    """What was dangerous on the way, in words."""
    left_out: tuple[str, ...] = ()
    """Acts that make no sense on this gate, and why."""


def gate(site: Site, variant: Mapping[str, Any] | None = None, *, seed: int = 0) -> World:
    """A gate as a good installer leaves it: learned, shut, at rest. Raises ScenarioError or CannotLearn."""
    compiler.load()
    fitted = with_changes(site, variant) if variant else site
    return World(fitted, seed=seed, bag=Toolbag, arrival=handed_over(fitted))


def handed_over(site: Site) -> Arrival:
    """As installed, with a holder for every transmitter whose code can't be copied."""
    rolling = (hand.tag for hand in site.transmitters if hand.code == "rolling")
    return replace(as_installed(site), transmitters=tuple((tag, f"holder of the {tag}", "step") for tag in rolling))


def as_found(site: Site, variant: Mapping[str, Any], faults: tuple[tuple[str, float], ...], seed: int = 0) -> World:
    """The same gate with faults that came later. Raises Refused where it has no such part."""
    compiler.load()
    fitted = with_changes(site, variant) if variant else site
    arrival: Arrival = replace(handed_over(fitted), faults=faults)
    return World(fitted, seed=seed, bag=Toolbag, arrival=arrival)


def played(world: World, steps: Sequence[Step], *, leaving_out: bool = False) -> Outcome:
    """Do some acts; stops at the first that can't be done, or leaves it out, as one does on another gate. The last
    act is never left out."""
    began = len(world.events)
    answers: list[str] = []
    left_out: list[str] = []
    refused, before = "", began
    for number, each in enumerate(steps):
        before = len(world.events)
        try:
            said = world.do(checked(each.kind, each.arguments))
        except (Refused, ActionError) as refusal:
            said, refused = "", f"{each.kind}: {refusal}"
            if leaving_out and number < len(steps) - 1:
                left_out.append(refused)
                refused = ""
        if said.startswith(("not done", "stopped before")):
            refused = f"{each.kind}: {said}"
        if refused:
            break
        answers.append(said)
    dangers = tuple(event.text for event in world.events[began:] if event.kind in ("danger", "struck", "clash"))
    outcome = Outcome(tuple(answers), refused=refused, dangers=dangers, left_out=tuple(left_out))
    return outcome if refused else _with_reading(world, outcome, before)


def _with_reading(world: World, outcome: Outcome, before: int) -> Outcome:
    """What the last act read: numbers if an instrument told any, and all its words."""
    text = outcome.answers[-1] if outcome.answers else ""
    told = [event for event in world.events[before:] if event.kind in ("reading", "force")]
    if not told:
        return replace(outcome, text=text)
    data = told[-1].data
    value = float(data.get("value", data.get("peak_n", math.nan)))
    return replace(
        outcome,
        value=value,
        least=float(data.get("least", math.nan)),
        most=float(data.get("most", math.nan)),
        unit=str(data.get("unit", "N" if "peak_n" in data else "")),
        text=text or told[-1].text,
    )


def figure(outcome: Outcome, reference: Reference) -> float:
    """The number that the reference is about."""
    return {"value": outcome.value, "least": outcome.least, "most": outcome.most}[reference.figure]


def lies_in(outcome: Outcome, reference: Reference, band: Band) -> bool:
    """Whether an outcome lies in a band."""
    if outcome.refused:
        return False
    number = figure(outcome, reference)
    return band.holds(None if math.isnan(number) else number, outcome.text)


def put_back(world: World) -> None:
    """Everything in and on again that was taken out for work, and the gate shut by command."""
    for instrument in list(getattr(world.bag, "placed", {})):
        _try(world, step("lift instrument", instrument=instrument))
    for plug in world.cabinet.unplugged:
        _try(world, step("plug in", guard=plug))
    for leaf in world.site.leaves.fitted:
        _try(world, step("engage drive", leaf=leaf))
        _try(world, step("free leaf", leaf=leaf))
    for kind in ("restore", "fit battery link"):
        _try(world, step(kind))
    _try(world, step("wait", seconds=5.0))
    if not world.stands(fully_open=False):
        for each in CYCLE[5:]:
            _try(world, each)


def _try(world: World, act: Step) -> None:
    try:
        world.do(checked(act.kind, act.arguments))
    except (Refused, ActionError):
        return  # what is so already needs no putting back


@dataclass(frozen=True, slots=True)
class Pair:
    """The same acts on the gate without and with a fault."""

    healthy: Any
    faulty: Any


def in_both(
    site: Site, fault: Fault, share: float, work: Callable[[World], Any], *, learned: World | None = None
) -> Pair:
    """Do something on the healthy gate and on the one with the fault; `work` returns plain data.

    `learned` is a gate of this site and this fault's variant to branch from. Raises Refused if the fault can't be
    on this gate.
    """
    if not CAN_BRANCH:
        healthy = gate(site, fault.variant)
        faulty = as_found(site, fault.variant, ((fault.name, share),))
        return Pair(work(healthy), work(faulty))
    world = learned if learned is not None else gate(site, fault.variant)

    def with_fault() -> Any:
        world.faults.bring(fault.name, share)
        world.run_to(world.now + 1_000_000)
        return work(world)

    def without() -> Any:
        world.run_to(world.now + 1_000_000)
        return work(world)

    branches: tuple[Branch[Any], Branch[Any]] = (Branch(without), Branch(with_fault))
    healthy_result, failed = None, None
    try:
        healthy_result = branches[0].result()
    except Exception as error:
        failed = error
    faulty_result = branches[1].result()
    if failed is not None:
        raise failed
    return Pair(healthy_result, faulty_result)
