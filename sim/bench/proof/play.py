"""Plays a case on the real gate and writes down everything: the stage is built once, each play is a branch of it."""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any, Final

from sim.bench.branching import CAN_BRANCH, Branch
from sim.bench.proof.case import Case, Step
from sim.bench.proof.record import DECLARED, Done, Record, Row
from sim.bench.trial import as_installed, hand_over
from sim.controller.ports import Controller, Inputs, Scan, headline_of
from sim.controller.reference import ReferenceController
from sim.controller.settings import Value
from sim.errors import ActionError, ControllerError, Refused
from sim.kernel import compiler
from sim.site import Site
from sim.site.files import with_changes
from sim.traces.recorder import trace
from sim.units import LEAVES, SECOND, Us, from_seconds
from sim.world.arrival import Arrival
from sim.world.effects.timing import condition
from sim.world.prompt import do_at_once
from sim.world.world import World

PATIENCE: Final = 90 * SECOND
"""What is waited for is waited for at most this long [µs]."""

HOLDERS: Final = (("step", "first holder"), ("pedestrian", "second holder"))
"""Function and holder of the site's first transmitters, enrolled before the play."""

CONTROLS: Final = ["open button", "close button", "step button", "key switch", "timer contact"]


def everything_wired(site: Site) -> Site:
    """The site with every control wired and no clock of its own: what a play doesn't do, nobody does."""
    return with_changes(site, {"controls": CONTROLS, "access.timer": "not fitted"}, "the stage")


def features(site: Site) -> frozenset[str]:
    """What the site has of what a property may need, in words."""
    guards = {name for name, fitted in site.guards.fitted.items() if fitted}
    return frozenset(
        {
            *guards,
            *site.controls,
            *(("lock",) if site.lock != "not fitted" else ()),
            *(("yard light",) if site.yard_light != "not fitted" else ()),
            *(("battery",) if site.supply.battery is not None else ()),
            *(("transmitter",) if site.transmitters else ()),
            *(("two leaves",) if len(site.leaves.fitted) > 1 else ()),
        }
    )


class Tap(Controller):
    """Between the host and a controller: writes down what is read and what is answered, and changes nothing."""

    def __init__(self, inner: Controller, found: int) -> None:
        self.inner = inner
        self.rows: list[Row] = []
        self._found = found
        self._headline = headline_of(inner)
        self.served: Callable[[], None] = lambda: None
        """Called after a scan at which somebody used the panel."""

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """Ask the controller."""
        answer = self.inner.scan(now, inputs)
        shown = self._headline()
        self.rows.append(Row(int(now) - self._found, inputs, answer.outputs, *shown))
        if inputs.requests:
            self.served()
        return answer

    def power_up(self, now: Us) -> None:
        """The board has power again."""
        self.inner.power_up(now)

    def panel(self) -> Any:
        """What it shows."""
        return self.inner.panel()


@dataclass
class Stage:
    """One gate with one controller, found as a good installer leaves it. Plays begin from here, each in a branch."""

    site: Site
    make: Callable[[], Controller] = ReferenceController
    seed: int = 0
    bare: bool = False
    """Whether the controller gets no set-up: no sheet, no learning, no transmitters. So for a stranger; what is no
    stranger is a kind of the reference controller, and goes on from where that one was when the gate stood ready."""

    ready: Stage | None = None
    """A stage of the same site whose gate stands ready; this one's controller takes over in each copy of it."""

    def __post_init__(self) -> None:
        compiler.load()
        self._world: World | None = None
        self.before: tuple[Row, ...] = ()
        """Scans of a bare gate's controller until the gate stood ready; their `at` is on the gate's clock."""

    def world(self) -> World:
        """The gate as it stands when a play begins. Raises CannotLearn where it can't be made ready."""
        if self._world is None:
            self._world = self._built()
        return self._world

    def _built(self) -> World:
        if self.bare:
            tap = Tap(self.make(), 0)
            world = World(self.site, seed=self.seed, controller=tap, arrival=self.arrival)
            self.before = tuple(tap.rows)
            world.controller = world.host.controller = tap.inner
            world.headline = headline_of(tap.inner)
            return world
        return self._handed_over(World(self.site, seed=self.seed, arrival=self.arrival))

    @property
    def arrival(self) -> Arrival:
        """How the gate is found when a play begins."""
        if self.bare:
            return Arrival()
        enrolled = zip(self.site.transmitters, HOLDERS, strict=False)
        return replace(as_installed(self.site), transmitters=tuple((t.tag, w, what) for t, (what, w) in enrolled))

    def _handed_over(self, world: World) -> World:
        """The gate was made ready by the reference controller; a variant of it takes over what that one knows."""
        if self.make is not ReferenceController:
            taken = self.make()
            assert isinstance(taken, ReferenceController)
            hand_over(world, taken)
        return world

    def in_branch(self, work: Callable[[World], Any], patience_s: float | None = None) -> Any:
        """What `work` makes of a copy of the gate. Raises BranchFailed if it works longer than that [s]."""
        if self.ready is not None:
            return self.ready.in_branch(lambda world: work(self._handed_over(world)), patience_s)
        world = self.world()
        if CAN_BRANCH:
            return Branch(lambda: work(world)).result(patience_s)
        self._world = None
        return work(world)


def play(world: World, case: Case) -> Record:
    """Play a case on a gate that nobody else uses any more, to its end."""
    return _Play(world, case).record()


class _Play:
    """One case under way."""

    def __init__(self, world: World, case: Case) -> None:
        self.world = world
        self.case = case
        self.found = int(world.now)
        self.tap = Tap(world.controller, self.found)
        self.done: list[Done] = []
        self.faults: list[str] = []
        self.sheets: list[tuple[int, Mapping[str, Value]]] = []
        self.failed = ""
        self.taken: set[tuple[str, str]] = set()
        self.before = world.controller.panel()
        self.enrolled = tuple(getattr(world.controller, "enrolled", tuple)())
        self.counters = {each.serial: self._last_count(each.serial) for each in self.enrolled}
        self.standing = self._standing()
        self.twin: Controller | None = None
        self.tap.served = self._note_sheet
        self.power: list[tuple[int, bool]] = [(0, world.host.on)]
        world.host.changed.append(self._note_power)
        world.host.controller = self.tap
        machine = getattr(world.controller, "_machine", None)
        if machine is not None:
            machine.told = lambda trigger, state: self.taken.add((trigger, state.value))

    def record(self) -> Record:
        try:
            self._begin()
            for step in self.case.steps:
                self._step(step)
            self._pass(from_seconds(self.case.tail_s))
        except ControllerError as error:
            self.failed = str(error)
        return self._written()

    # -- acts ------------------------------------------------------------------------------------------

    def _begin(self) -> None:
        for name, value in self.case.sheet:
            self._act("find setting", {"setting": name, "value": value})
        for name, share in self.case.faults:
            self._act("bring fault", {"fault": name, "share": share})
        self._note_sheet()
        with suppress(Exception):  # a stranger's controller may hold what can't be copied
            self.twin = copy.deepcopy(self.tap.inner)

    def _step(self, step: Step) -> None:
        self._act(step.act, dict(step.arguments))
        self._note_sheet()
        if step.wait:
            self._pass(PATIENCE, self._condition(step.wait))
        self._pass(from_seconds(step.seconds))

    def _act(self, act: str, arguments: Mapping[str, Value]) -> None:
        at = int(self.world.now) - self.found
        refused = ""
        try:
            do_at_once(self.world, act, arguments)
        except (Refused, ActionError) as refusal:
            refused = str(refusal)
        if act == "bring fault" and not refused:
            self.faults.append(str(arguments["fault"]))
        self.done.append(Done(at, act, dict(arguments), refused))

    def _pass(self, time: int, enough: Callable[[], bool] | None = None) -> None:
        if enough is None or not enough():
            self.world.run_to(self.world.now + time, enough)

    def _condition(self, what: str) -> Callable[[], bool]:
        if what == "something is met":
            plant, bodies = self.world.plant, self.world.people.bodies
            return lambda: any(plant.touching(leaf) in bodies for leaf in (0, 1))
        if what not in ("it opens", "it closes"):
            return condition(self.world, what)
        way = 1.0 if what == "it opens" else -1.0

        def driven() -> bool:
            outputs = self.world.host.outputs
            return any(drive.duty * way > 0.0 for drive in (outputs.active, outputs.inactive))

        return driven

    def _note_sheet(self) -> None:
        sheet = {**DECLARED, **self.world.controller.panel().settings}
        if not self.sheets or self.sheets[-1][1] != sheet:
            self.sheets.append((int(self.world.now) - self.found if self.sheets else 0, sheet))

    def _last_count(self, serial: str) -> int:
        return int(self.world.controller.last_count(serial))  # type: ignore[attr-defined]

    def _standing(self) -> Row:
        """How the terminals read before anything is done."""
        world, cabinet, drives = self.world, self.world.cabinet, self.world.host.drives
        inputs = Inputs(
            world.plant.supply_v(),
            cabinet.guard_volts(),
            cabinet.command_volts(),
            drives.currents(),
            drives.counts(),
            drives.quiet_us(),
        )
        return Row(-1, inputs, world.host.outputs, *headline_of(world.controller)())

    def _note_power(self) -> None:
        if self.world.host.on != self.power[-1][1]:
            self.power.append((int(self.world.now) - self.found, self.world.host.on))

    # -- what is left ----------------------------------------------------------------------------------

    def _written(self) -> Record:
        world, found = self.world, self.found
        behind = found - int(world.arrived)
        log = world.controller.panel().happenings
        first = self.before.happenings[-1].number if self.before.happenings else 0
        taken = trace(world, LEAVES)
        return Record(
            rows=tuple(self.tap.rows),
            steps=tuple(self.done),
            events=tuple(replace(e, at=Us(int(e.at) - found)) for e in world.events if e.at >= found),
            trace=replace(taken, time_us=taken.time_us - behind),
            sheets=tuple(self.sheets),
            site=world.site,
            happenings=tuple(replace(h, at=Us(int(h.at) - found)) for h in log if h.number > first),
            first_note=first,
            travel=self.before.travel,
            faults=tuple(self.faults),
            power=tuple(self.power),
            found=found,
            enrolled=self.enrolled,
            counters=self.counters,
            before=self.standing,
            twin=self.twin,
            end=int(world.now) - found,
            taken=frozenset(self.taken),
            failed=self.failed,
        )
