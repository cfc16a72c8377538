"""The whole plan of force measurement: each opening at each height, three readings a point, on the gate as installed.

A reading is what a person does with the gate's own buttons: bring the gate to where the movement begins, set the
gauge on its rest, press, wait until the leaf has met it, the time that the rules ask for has passed and the gate
rests, read. The mean of three is judged; the worst point decides. Each leaf and direction is measured on a gate of
its own, found learned and shut, so that measuring more of them changes no figure of the others.

A point that is not measured says why, in words. Nothing is ever filled in.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.bench.force_result import Plan, PointResult, ReadingResult, ReversalResult, plan_of
from sim.bench.trial import CLOSERS, OPENERS, as_installed
from sim.errors import Refused
from sim.instruments import measuring_points
from sim.instruments.force_gauge import mean_of, mean_verdict
from sim.instruments.measuring_points import OPENINGS, Point
from sim.instruments.reversal import judge_reversal, reversal
from sim.instruments.rule_sets import EN, ForceRules
from sim.instruments.toolbag import Toolbag
from sim.kernel import compiler
from sim.mechanics.obstacle import GAUGE_NAME
from sim.site import Site, site_digest
from sim.units import LEAVES, SECOND, Direction, LeafName, from_seconds, to_seconds
from sim.world.actions import CATALOGUE, checked
from sim.world.effects.timing import BUSY_WORDS
from sim.world.world import World

PATIENCE: Final = 120 * SECOND
"""How long a movement is waited for [µs]: longer than any run-time limit."""

HELD: Final = SECOND // 2
"""How long a button is held [µs]."""

SPARE_S: Final = 1.0
"""The gauge is left alone for this much longer than the rules ask [s]."""

SETTLE: Final = SECOND
"""A leaf that has come to rest is looked at again after this long [µs]."""

BEFORE_S: Final = 0.05
"""The speed at the contact is the mean over this long before it [s]."""


@dataclass(frozen=True, slots=True)
class Progress:
    """Told after each point."""

    done: int
    """Points done, this one among them."""
    of: int
    point: PointResult


def measure(
    site: Site,
    leaves: Sequence[LeafName] | None = None,
    directions: Sequence[Direction] = ("closing",),
    *,
    rules: ForceRules = EN,
    seed: int = 0,
    openings_mm: Sequence[float] = OPENINGS,
    told: Callable[[Progress], None] | None = None,
) -> Plan:
    """Measure a gate that a good installer left, every leaf that hangs there if none is named; `told` hears of each
    point that is done.

    Raises GudgeonError if the gate can't be found learned and shut, with the controller's own words.
    """
    compiler.load()
    wanted = [(leaf, direction) for leaf in leaves or site.leaves.fitted for direction in directions]
    plan = [measuring_points.points(site, *one, tuple(openings_mm)) for one in wanted]
    of = sum(len(points) for points in plan)
    done: list[PointResult] = []
    for points in plan:
        measured = None
        for point in points:
            why = measuring_points.impossible(site, point)
            if why:
                done.append(PointResult.of(point, rules.at(point.gap_mm), "not measured", why, is_possible=False))
            else:
                measured = measured or Measured(site, rules, seed)
                done.append(measured.point(point))
            if told is not None:
                told(Progress(len(done), of, done[-1]))
    return plan_of(site, site_digest(site), seed, rules, tuple(done))


class Measured:
    """One gate with its gauge, and somebody at its buttons."""

    def __init__(self, site: Site, rules: ForceRules, seed: int) -> None:
        self._rules = rules
        self.world = World(site, seed=seed, bag=lambda world: Toolbag(world, rules), arrival=as_installed(site))
        """The gate, found learned and shut."""
        bag = self.world.bag
        assert isinstance(bag, Toolbag)
        self._bag = bag

    def point(self, point: Point) -> PointResult:
        """All readings at one point, and their mean judged."""
        rules = self._rules.at(point.gap_mm)
        readings: list[ReadingResult] = []
        try:
            for index in range(1, int(rules.repeats.value) + 1):
                readings.append(self._reading(point, index))  # noqa: PERF401 (what was read before a refusal is kept)
        except Refused as why:
            return PointResult.of(point, rules, "not measured", str(why), readings=tuple(readings))
        figures = [reading.figures for reading in readings]
        verdict = mean_verdict(figures, rules)
        if verdict.outcome == "not judged":
            return PointResult.of(point, rules, "not measured", verdict.because, readings=tuple(readings))
        said = str(verdict).partition(": ")[2]
        return PointResult.of(point, rules, verdict.outcome, said, mean=mean_of(figures), readings=tuple(readings))

    # -- one reading -----------------------------------------------------------------------------------

    def _reading(self, point: Point, index: int) -> ReadingResult:
        """One reading; raises Refused, and leaves no gauge behind."""
        world, leaf = self.world, LEAVES.index(point.leaf)
        opens = point.direction == "opening"
        self.bring(fully_open=not opens)
        world.run_to(world.now + CATALOGUE["place force gauge"].takes)
        self._bag.place_gauge(leaf, point.gap_mm, point.height_mm, "rigid rest", point.direction)
        try:
            began = world.now
            contact = self._run_into_gauge(point, OPENERS if opens else CLOSERS)
            self._bag.read_gauge()
        finally:
            self._bag.remove_gauge()
        record = self._bag.records[-1]
        time, onward = self._movement(leaf, began, 1.0 if opens else -1.0)
        found = reversal(time, onward, contact)
        speed = float(np.diff(np.interp([contact - BEFORE_S, contact], time, onward))[0]) / BEFORE_S
        return ReadingResult(
            index=index,
            figures=record.figures,
            edge_speed_m_s=speed / 1000.0,
            reversal=ReversalResult.of(found, judge_reversal(found)),
            controller=self._says(),
            time_s=tuple(record.time_s.tolist()),
            force_n=tuple(record.force_n.tolist()),
        )

    def _run_into_gauge(self, point: Point, controls: Sequence[str]) -> float:
        """Press, and wait until the leaf has met the gauge and all is at rest; the instant of the contact [s]."""
        world, seen = self.world, len(self.world.events)

        def met() -> float | None:
            for event in world.events[seen:]:
                if event.kind == "contact" and event.data["body"] == GAUGE_NAME:
                    return to_seconds(event.at)
            return None

        self._press(controls)
        world.run_to(world.now + PATIENCE, lambda: met() is not None or self._is_done())
        contact = met()
        if contact is None:
            leaf = LEAVES.index(point.leaf)
            stands = math.degrees(world.plant.angle(leaf))
            gauge = math.degrees(
                measuring_points.touch_angle(world.site, leaf, point.direction, point.gap_mm / 1000.0)
            )
            raise Refused(
                f"the {point.leaf} leaf did not reach the gauge at {gauge:.1f}°, it stands at {stands:.1f}°: "
                f"{self._says()}"
            )
        world.run_to(world.now + from_seconds(self._rules.at(point.gap_mm).residual_time.value + SPARE_S))
        self._let_rest()
        return contact

    def _movement(self, leaf: int, since: int, sign: float) -> tuple[list[float], list[float]]:
        """(time [s], place of the closing edge along its way [mm]) as the plant recorded it."""
        recorded = self.world.plant.recording()
        angle = (recorded.active_angle, recorded.inactive_angle)[leaf]
        width_mm = self.world.site.leaves.pair[leaf].width_m * 1000.0
        late = recorded.time_us >= since
        return (recorded.time_us[late] / SECOND).tolist(), (sign * width_mm * angle[late]).tolist()

    # -- the gate's own buttons ------------------------------------------------------------------------

    def bring(self, *, fully_open: bool) -> None:
        """Have the gate stand fully open, or shut, by its own buttons; raises Refused if it won't.

        If it doesn't come there at once it is run to the other stop and back, twice at most: a controller that took
        something else for its stop finds its place again at a real one.
        """
        self._let_rest()
        said = ""
        for aim in (fully_open, not fully_open, fully_open, not fully_open, fully_open):
            if self.world.stands(fully_open=fully_open):
                return
            self._press(OPENERS if aim else CLOSERS)
            self._let_rest()
            said = self._says() if aim == fully_open else said
        if not self.world.stands(fully_open=fully_open):
            leaves = range(len(self.world.site.leaves.fitted))
            angles = " and ".join(f"{math.degrees(self.world.plant.angle(leaf)):.1f}°" for leaf in leaves)
            wanted = "fully open" if fully_open else "shut"
            stand = "its leaves stand" if len(leaves) > 1 else "its leaf stands"
            raise Refused(f"the gate can't be brought {wanted}, {stand} at {angles}: {said}")

    def _press(self, choices: Sequence[str]) -> None:
        world = self.world
        control = next((name for name in choices if name in world.site.controls), None)
        if control is None:
            raise Refused(f"this gate has none of these controls: {', '.join(choices)}")
        world.do(checked("press", {"control": control}))
        world.run_to(world.now + HELD)
        world.do(checked("release", {"control": control}))

    def _let_rest(self) -> None:
        """Wait until all is done, and a little longer: a leaf that swings out at its stop stands for moments only."""
        end = self.world.now + PATIENCE
        while self.world.now < end:
            if self._is_done():
                self.world.run_to(self.world.now + SETTLE)
                if self._is_done():
                    return
            self.world.run_to(end, self._is_done)

    def _is_done(self) -> bool:
        """Whether nothing moves and the controller has nothing more to do."""
        return self.world.rests() and self.world.controller.panel().state not in BUSY_WORDS

    def _says(self) -> str:
        panel = self.world.controller.panel()
        return panel.message if panel.message.startswith(panel.state) else f"{panel.state}: {panel.message}"
