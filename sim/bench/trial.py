"""Run one gate with one controller for a time, and say what happened.

The script is always the same: a second after the start somebody presses what opens the gate on this site; when the
gate has come to rest, and five seconds have passed, somebody presses what closes it; then time passes. A gate with
the reference controller is found as a good installer leaves it: sheet filled in with the truth, travel learned. A
controller of one's own finds the same gate and gets no set-up: only its terminals.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from typing import Any, Literal

import numpy as np

from sim.bench.foreign import HeldToContract
from sim.controller.ports import Controller
from sim.errors import ControllerError
from sim.kernel import compiler
from sim.mechanics.duty import judge
from sim.site import Site, site_digest
from sim.traces.recorder import trace
from sim.traces.signal import Trace
from sim.units import LEAVES, SECOND, Us, to_seconds
from sim.world.actions import Value, checked
from sim.world.arrival import Arrival
from sim.world.effects.timing import condition
from sim.world.world import World

SLICE = Us(SECOND // 10)
"""How far a trial runs between two words about its progress [µs]."""

OPENERS = ("open button", "step button")
CLOSERS = ("close button", "step button")
"""What the script presses: the first of these that the site has."""

PATIENCE = Us(90 * SECOND)
"""How long the script waits for a movement to end before it goes on [µs]."""

Ended = Literal["finished", "controller failed", "no answer", "process ended"]


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be tried."""

    site: Site
    duration: Us
    """How long the gate is watched [µs], counted from the moment it is found."""
    seed: int = 0


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that the world noticed."""

    at_s: float
    """Since the start of the trial [s]."""
    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class LeafResult:
    """One leaf at the end, and at its most."""

    name: str
    angle_deg: float
    most_open_deg: float
    most_tip_m_s: float
    """Greatest speed of the closing edge [m/s]."""
    most_motor_a: float
    most_contact_n: float
    winding_c: float
    """Winding of its motor at the end [°C]."""
    duty: str
    """How its running keeps to its motor's duty, in words."""


@dataclass(frozen=True, slots=True)
class Result:
    """What came of a trial; base types only, so that it can cross a pipe or be written as JSON."""

    site: str
    site_digest: str
    controller: str
    seed: int
    ended: Ended
    said: str
    """What went wrong with the controller, in words; empty when nothing did."""
    reached_s: float
    scans: int
    happened: tuple[Happened, ...]
    leaves: tuple[LeafResult, ...]
    state: str
    message: str
    digest: str
    """Digest of the world at the end; equal for equal orders on one machine."""

    def as_base_types(self) -> dict[str, Any]:
        """Everything as dictionaries, lists, text and numbers."""
        return asdict(self)

    @classmethod
    def from_base_types(cls, data: Mapping[str, Any]) -> Result:
        """The result that `as_base_types` took apart."""
        rest = {key: value for key, value in data.items() if key not in ("happened", "leaves")}
        return cls(
            happened=tuple(Happened(**row) for row in data["happened"]),
            leaves=tuple(LeafResult(**row) for row in data["leaves"]),
            **rest,
        )


def as_installed(site: Site) -> Arrival:
    """The gate as a good installer leaves it: the sheet tells the truth about the site, the travel is learned."""
    sheet: dict[str, Value] = {
        "leaves fitted": "2",
        "drive kind": site.drives.active.kind,
        "opens first": site.opens_first,
        "leaf delay, opening": 2.0,
        "leaf delay, closing": 3.0,
        "slow zone before stop": 20.0,
    }
    if site.opens_towards == "outside":  # the arc lies before the gate, and so does the beam that guards it
        sheet |= {"outer beam": "hold", "inner beam": "reopen"}
    sheet |= {name: "not fitted" for name, fitted in site.guards.fitted.items() if not fitted}
    return Arrival(sheet=sheet, learned=True)


class Trial:
    """One order being carried out. `run` may be called once; `world` stays to be looked at."""

    def __init__(self, order: Order, controller: Controller | None = None) -> None:
        self.order = order
        self.name = controller.name if isinstance(controller, HeldToContract) else "reference controller"
        compiler.load()
        arrival = Arrival() if controller is not None else as_installed(order.site)
        self.world = World(order.site, seed=order.seed, controller=controller, arrival=arrival)
        self._end = Us(self.world.now + order.duration)

    def run(self, told: Callable[[Us], None] | None = None) -> Result:
        """Carry the script out to the end; `told` hears how far it got [µs], several times a simulated second."""
        try:
            self._script(told)
            return self._result("finished", "")
        except ControllerError as error:
            return self._result("controller failed", str(error))

    def _script(self, told: Callable[[Us], None] | None) -> None:
        self._pass(SECOND, None, told)
        for choices in (OPENERS, CLOSERS):
            control = next((name for name in choices if name in self.order.site.controls), None)
            if control is not None and self._left() > 0:
                self.world.do(checked("press", {"control": control}))
                self._pass(Us(SECOND // 2), None, told)
                self.world.do(checked("release", {"control": control}))
                if self._pass(PATIENCE, "the gate moves", told):
                    self._pass(PATIENCE, "the gate rests", told)
                    self._pass(Us(5 * SECOND), None, told)
        self._pass(self._left(), None, told)

    def _left(self) -> Us:
        return Us(max(0, self._end - self.world.now))

    def _pass(self, duration: int, until: str | None, told: Callable[[Us], None] | None) -> bool:
        """Let time pass, at most to the end of the trial; True if what was waited for came."""
        end = min(self._end, self.world.now + duration)
        enough = condition(self.world, until) if until else None
        while self.world.now < end:
            if self.world.run_to(min(end, self.world.now + SLICE), enough):
                return True
            if told is not None:
                told(Us(self.world.now - self.world.arrived))
        return False

    def _result(self, ended: Ended, said: str) -> Result:
        world = self.world
        panel = ("", "")
        if ended == "finished":
            shown = world.controller.panel()
            panel = (shown.state, shown.message)
        return Result(
            site=self.order.site.name,
            site_digest=site_digest(self.order.site),
            controller=self.name,
            seed=self.order.seed,
            ended=ended,
            said=said,
            reached_s=to_seconds(world.now - world.arrived),
            scans=world.host.scans,
            happened=tuple(Happened(to_seconds(e.at - world.arrived), e.kind, e.text) for e in world.events),
            leaves=tuple(_leaf(world, leaf) for leaf in (0, 1)),
            state=panel[0],
            message=panel[1],
            digest=world.digest() if ended == "finished" else "",
        )


def _leaf(world: World, leaf: int) -> LeafResult:
    """One leaf's end and extremes, from the recording since the gate was found."""
    taken = trace(world)
    name = LEAVES[leaf]
    angle = taken[f"{name} leaf angle"]
    speed = np.abs(np.diff(np.radians(angle))) / np.maximum(np.diff(taken.time_us) / 1e6, 1e-9)
    return LeafResult(
        name=name,
        angle_deg=math.degrees(world.plant.angle(leaf)),
        most_open_deg=float(angle.max(initial=-math.inf)) if len(angle) else math.degrees(world.plant.angle(leaf)),
        most_tip_m_s=float(speed.max(initial=0.0)) * world.site.leaves.pair[leaf].width_m,
        most_motor_a=float(np.abs(taken[f"{name} motor current"]).max(initial=0.0)),
        most_contact_n=float(taken[f"{name} leaf contact"].max(initial=0.0)),
        winding_c=world.plant.winding_c(leaf),
        duty=str(judge(_runs(taken, name), world.site.drives.pair[leaf].motor.warmth.duty_share)),
    )


def _runs(taken: Trace, name: str) -> list[tuple[float, float]]:
    """From when to when one motor carried current [s], as far as the recording tells."""
    time, live = taken.time_us / 1e6, np.abs(taken[f"{name} motor current"]) > 0.0
    edges = np.flatnonzero(np.diff(np.concatenate(([False], live, [False])).astype(int)))
    ends = edges[1::2] - 1
    return [(float(time[start]), float(time[end])) for start, end in zip(edges[::2], ends, strict=True)]
