"""Run one gate with one controller for a time, and say what happened.

The script is always the same: a second after the start somebody presses what opens the gate on this site; when the
gate has come to rest, and five seconds have passed, somebody presses what closes it; then time passes. A gate with
the reference controller is found as a good installer leaves it: sheet filled in with the truth, travel learned. Where
no installer can get it that far, the script begins with travel learning, and what happens there is seen and told. A
controller of one's own whose class is made from the reference controller goes on from where that one is then. Any
other finds the same gate and gets no set-up: only its terminals.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from types import MappingProxyType
from typing import Any, Final, Literal, Protocol

import numpy as np

from sim.bench.evidence import Evidence
from sim.bench.foreign import HeldToContract
from sim.controller.ports import Controller, headline_of
from sim.controller.reference import ReferenceController
from sim.errors import CannotLearn, ControllerError
from sim.kernel import compiler
from sim.mechanics.duty import judge
from sim.mechanics.hanging import weather_words
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

LEARNING = Us(600 * SECOND)
"""How long it waits for travel learning to end [µs]."""

PATIENCE = Us(90 * SECOND)
"""How long the script waits for a movement to end before it goes on [µs]."""

INSTALLED: Final = "as a good installer leaves it: the sheet filled in with the truth, the travel learned"
NOT_LEARNED: Final = "with the sheet filled in with the truth and no travel learned"
NO_SET_UP: Final = "with no set-up: its controller has its terminals only, no sheet and no learned travel"
"""How a trial begins, in words."""

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
    """One thing that the world noticed, or that was seen of a motor's cut-out."""

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
    """Greatest current while the motor drove [A]."""
    most_braking_a: float
    """Greatest current while the leaf turned the motor, which no limit of the board holds back [A]."""
    limit_a: float
    """Most that the board allowed its motor while it drove it, or what a mains motor takes while held [A]; 0 if it
    was never driven."""
    most_contact_n: float
    winding_c: float
    """Winding of its motor at the end [°C]."""
    most_winding_c: float
    """The same, at its most."""
    duty: str
    """How its running keeps to its motor's duty, in words."""
    why: tuple[str, ...]
    """Why it didn't do as it was told, where it didn't; each goes on from `active leaf` or `inactive leaf`."""


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
    weather: str
    """The weather in a line."""
    begins: str
    """How the gate and its controller are found, in words; empty when the controller failed before that."""
    unready: str
    """What the controller said when the gate could not be made ready; empty when it could, or when nobody tried."""
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
            leaves=tuple(LeafResult(**{**row, "why": tuple(row["why"])}) for row in data["leaves"]),
            **rest,
        )


def as_installed(site: Site) -> Arrival:
    """The gate as a good installer leaves it: the sheet tells the truth about the site, the travel is learned."""
    sheet: dict[str, Value] = {
        "leaves fitted": str(len(site.leaves.fitted)),
        "drive kind": site.drives.active.kind,
        "opens first": site.opens_first,
        "leaf delay, opening": 2.0,
        "leaf delay, closing": 3.0,
        "slow zone before stop": 20.0,
    }
    sheet |= _sensed(site)
    if site.lock != "not fitted":
        sheet["electric lock"] = "fitted"
    if site.opens_towards == "outside":  # the arc lies before the gate, and so does the beam that guards it
        sheet |= {"outer beam": "hold", "inner beam": "reopen"}
    sheet |= {name: "not fitted" for name, fitted in site.guards.fitted.items() if not fitted}
    return Arrival(sheet=sheet, learned=True)


_WIRED: Final[Mapping[bool | str, str]] = MappingProxyType(
    {
        True: "in the motor lead",
        "normally closed": "to the board, open when reached",
        "normally open": "to the board, closed when reached",
    }
)
"""How limit switches are wired, as the sheet has it."""


def _sensed(site: Site) -> dict[str, Value]:
    """What the sheet says of motors and sensing where it is another than what it says by itself.

    Leaves that are sensed in different ways are reckoned by running time, which is there for any gate.
    """
    kinds = {drive.motor.kind for drive in site.drives.fitted}
    sheet: dict[str, Value] = {"motor kind": "mains, one speed"} if "mains induction" in kinds else {}
    sensed = {drive.sensing.kind for drive in site.drives.fitted}
    wired = {
        _WIRED[drive.sensing.limits_in_motor_lead or drive.sensing.limit_contact] for drive in site.drives.fitted
    }
    if sensed == {"limit switches"} and len(wired) == 1:
        sheet |= {"position sensing": "limit switches", "limit switches": wired.pop()}
    elif sensed != {"encoder"}:
        sheet["position sensing"] = "running time"
    return sheet


class Heir(Controller, Protocol):
    """A controller that can go on from where the reference controller is."""

    def restore(self, state: dict[str, Any]) -> None:
        """Be as the reference controller was when `state` was taken."""


def hand_over(world: World, heir: Heir) -> None:
    """The gate was made ready by the reference controller: `heir` goes on with what that one knows."""
    ready = world.controller
    assert isinstance(ready, ReferenceController)
    heir.restore(ready.state())
    world.controller = world.host.controller = heir
    world.headline = headline_of(heir)


class Trial:
    """One order being carried out. `run` may be called once; `world` stays to be looked at."""

    def __init__(self, order: Order, controller: Controller | None = None) -> None:
        self.order = order
        self.name = controller.name if isinstance(controller, HeldToContract) else "reference controller"
        compiler.load()
        self.unready = ""
        """What the controller said when the gate could not be made ready: its travel can't be learned."""
        heir = controller if isinstance(controller, HeldToContract) and controller.is_kind_of_ours else None
        self._begin(controller if heir is None else None)
        if heir is not None:
            hand_over(self.world, heir)
        self._evidence = Evidence(self.world)
        self._end = Us(self.world.now + order.duration)

    def _begin(self, stranger: Controller | None) -> None:
        """Find the gate: a stranger's without set-up, ours as a good installer leaves it, or as far as one got."""
        order = self.order
        if stranger is not None:
            self.begins = NO_SET_UP
            self.world = World(order.site, seed=order.seed, controller=stranger, arrival=Arrival())
            return
        arrival = as_installed(order.site)
        try:
            self.begins = INSTALLED
            self.world = World(order.site, seed=order.seed, arrival=arrival)
        except CannotLearn as error:
            self.begins, self.unready = NOT_LEARNED, error.said
            self.world = World(order.site, seed=order.seed, arrival=replace(arrival, learned=False))

    def run(self, told: Callable[[Us], None] | None = None) -> Result:
        """Carry the script out to the end; `told` hears how far it got [µs], several times a simulated second."""
        try:
            self._script(told)
            return self._result("finished", "")
        except ControllerError as error:
            return self._result("controller failed", str(error))

    def _script(self, told: Callable[[Us], None] | None) -> None:
        self._pass(SECOND, None, told)
        if self.unready:
            self.world.do(checked("learn travel", {}))
            self._pass(LEARNING, "learning ends", told)
            self._pass(Us(5 * SECOND), None, told)
        for choices in (OPENERS, CLOSERS):
            control = next((name for name in choices if name in self.order.site.controls), None)
            if control is not None and self._left() > 0:
                self.world.do(checked("press", {"control": control}))
                self._pass(Us(SECOND // 2), None, told)
                self.world.do(checked("release", {"control": control}))
                if self._pass(Us(10 * SECOND) if self.unready else PATIENCE, "the gate moves", told):
                    self._see_it_out(told)
        self._pass(self._left(), None, told)

    def _see_it_out(self, told: Callable[[Us], None] | None) -> None:
        """Wait until the gate rests and stays so: between the push that frees a lock and the opening it rests too."""
        while self._pass(PATIENCE, "the gate rests", told):
            if not self._pass(Us(5 * SECOND), "the gate moves", told):
                return

    def _left(self) -> Us:
        return Us(max(0, self._end - self.world.now))

    def _pass(self, duration: int, until: str | None, told: Callable[[Us], None] | None) -> bool:
        """Let time pass, at most to the end of the trial; True if what was waited for came."""
        end = min(self._end, self.world.now + duration)
        enough = condition(self.world, until) if until else None
        while self.world.now < end:
            came = self.world.run_to(min(end, self.world.now + SLICE), enough)
            self._evidence.look()
            if came:
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
            weather=weather_words(self.order.site.weather, len(self.order.site.leaves.fitted)),
            begins=self.begins,
            unready=self.unready,
            reached_s=to_seconds(world.now - world.arrived),
            scans=world.host.scans,
            happened=self._happened(),
            leaves=tuple(self._leaf(leaf) for leaf in range(len(world.site.leaves.fitted))),
            state=panel[0],
            message=panel[1],
            digest=world.digest() if ended == "finished" else "",
        )

    def _sensed_by(self) -> str:
        is_ours = isinstance(self.world.controller, ReferenceController)
        return str(self.world.settings()["position sensing"]) if is_ours else ""

    def _happened(self) -> tuple[Happened, ...]:
        """What the world noticed, and between it what was seen of the cut-outs, which nobody in the yard notices."""
        world = self.world
        noticed: list[tuple[Us, str, str]] = [(e.at, e.kind, e.text) for e in world.events]
        for name, seen in zip(world.site.leaves.fitted, self._evidence.leaves, strict=True):
            for at, is_open in seen.cut_outs:
                noticed.append(
                    (at, "cut-out", f"cut-out of the {name} leaf's motor {'opens' if is_open else 'closes'}")
                )
        ordered = sorted(noticed, key=lambda row: row[0])
        return tuple(Happened(to_seconds(Us(at - world.arrived)), kind, text) for at, kind, text in ordered)

    def _leaf(self, leaf: int) -> LeafResult:
        """One leaf's end and extremes, from the recording since the gate was found and from what was seen."""
        world, seen = self.world, self._evidence.leaves[leaf]
        taken, name = trace(world), LEAVES[leaf]
        angle = taken[f"{name} leaf angle"]
        turned = np.diff(np.radians(angle))
        speed = np.abs(turned) / np.maximum(np.diff(taken.time_us) / 1e6, 1e-9)
        amps = taken[f"{name} motor current"]
        braking = amps[1:] * turned < 0.0
        now = math.degrees(world.plant.angle(leaf))
        return LeafResult(
            name=name,
            angle_deg=now,
            most_open_deg=float(angle.max(initial=-math.inf)) if len(angle) else now,
            most_tip_m_s=float(speed.max(initial=0.0)) * world.site.leaves.pair[leaf].width_m,
            most_motor_a=float(np.abs(amps[1:][~braking]).max(initial=0.0)),
            most_braking_a=float(np.abs(amps[1:][braking]).max(initial=0.0)),
            limit_a=seen.limit_a,
            most_contact_n=float(taken[f"{name} leaf contact"].max(initial=0.0)),
            winding_c=world.plant.winding_c(leaf),
            most_winding_c=max(seen.most_winding_c, world.plant.winding_c(leaf)),
            duty=str(judge(_runs(taken, name), world.site.drives.pair[leaf].motor.warmth.duty_share)),
            why=self._evidence.why(leaf, self._sensed_by()),
        )


def _runs(taken: Trace, name: str) -> list[tuple[float, float]]:
    """From when to when one motor carried current [s], as far as the recording tells."""
    time, live = taken.time_us / 1e6, np.abs(taken[f"{name} motor current"]) > 0.0
    edges = np.flatnonzero(np.diff(np.concatenate(([False], live, [False])).astype(int)))
    ends = edges[1::2] - 1
    return [(float(time[start]), float(time[end])) for start, end in zip(edges[::2], ends, strict=True)]
