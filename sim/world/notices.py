"""What the world notices and tells: movements, rests, stops, guards, what the controller says.

Noticing never polls: it happens where drives change, after a scan, at a physical bulletin, or at one queued look
after a movement or a command. Looking changes nothing.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.controller.ports import GUARD_TERMINALS, Outputs
from sim.said import joined, said
from sim.units import LEAVES, SECOND
from sim.world.clock import Phase
from sim.world.gaps import closing_edge_gap

if TYPE_CHECKING:
    from sim.world.world import World

SETTLE = int(0.8 * SECOND)
"""A leaf has come to rest this long after its drive was let go [µs]. CP, no source."""

ANSWER = 4 * SECOND
"""A controller that has not moved by now after a command will not: warning time included [µs]. CP, no source."""


CLASH_N = 30.0
"""Leaves that pass each other out of order press at least this much on the strip [N]. CP, no source."""


POWER: Final = {
    (True, True): said("mains on, battery linked"),
    (True, False): said("mains on, battery not linked"),
    (False, True): said("mains off, battery linked"),
    (False, False): said("mains off, battery not linked"),
}
"""What is told of the supply: of mains and battery."""


class Notices:
    """Turns what happens into events for people and graders."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._started_deg: list[float | None] = [None, None]
        self._rest_token = [0, 0]
        self._said = ("", "")
        self._touching = ["", ""]
        self._tripped: dict[str, bool] = {}
        self._command_token = 0
        self._clashed = False
        self._board: tuple[bool, bool, bool] | None = None
        self.slow_start_gap_m: float | None = None
        """Smallest closing-edge gap at which closing went slow in the last automatic closing [m]."""
        self.travel: tuple[int | None, int | None] = (None, None)

    def forget(self) -> None:
        """Arrival is over: what was said before is nobody's business now."""
        state, message, self.travel = self._world.headline()
        self._said = (state, message) if self._world.host.on else ("no power", "")
        self._board = None
        self.slow_start_gap_m = None

    # -- drives ----------------------------------------------------------------------------------------

    def drives_changed(self, before: Outputs, after: Outputs) -> None:
        """Called by the host when the controller's outputs changed."""
        self._world.faults.look()
        self._clash_looked_at(before)
        self.leaves_looked_at()
        fitted = len(self._world.site.leaves.fitted)
        for leaf, (old, new) in enumerate(list(zip(before.drives, after.drives, strict=True))[:fitted]):
            if new.duty and _way(new.duty) != _way(old.duty):
                self._started(leaf, new.duty)
            elif old.duty and not new.duty:
                self._let_go(leaf)
            elif new.duty < 0.0 and old.duty < 0.0 and abs(new.duty) < abs(old.duty):
                self._went_slow(leaf)

    def _started(self, leaf: int, duty: float) -> None:
        world = self._world
        by = _mover(world.headline().state)
        direction = "open" if duty > 0 else "close"
        self._rest_token[leaf] += 1
        if self._started_deg[leaf] is None:
            self._started_deg[leaf] = self._angle_deg(leaf)
        begins = world.headline().state != self._said[0]  # a leaf that waited for the other goes on with the same one
        if direction == "close" and by == "automatic" and begins:
            self.slow_start_gap_m = None
        world.tell(
            "moving",
            said(
                "{leaf} leaf driven to open, {by}" if duty > 0 else "{leaf} leaf driven to close, {by}",
                leaf=LEAVES[leaf],
                by=by,
            ),
            leaf=LEAVES[leaf],
            direction=direction,
            by=by,
            angle_deg=round(self._angle_deg(leaf), 1),
        )
        world.people.movement_began(by)

    def _let_go(self, leaf: int) -> None:
        self._rest_token[leaf] += 1
        token = self._rest_token[leaf]
        world = self._world
        world.clock.at(world.now + SETTLE, Phase.LOOK, lambda: self._rested(leaf, token), "look at a resting leaf")

    def _rested(self, leaf: int, token: int) -> None:
        if token != self._rest_token[leaf]:
            return
        self.leaves_looked_at()
        angle, started = self._angle_deg(leaf), self._started_deg[leaf]
        self._started_deg[leaf] = None
        self._world.tell(
            "resting",
            said("{leaf} leaf rests at {angle_deg:.1f}°", leaf=LEAVES[leaf], angle_deg=angle),
            leaf=LEAVES[leaf],
            angle_deg=round(angle, 2),
            from_deg=round(started if started is not None else angle, 2),
        )

    def _went_slow(self, leaf: int) -> None:
        world = self._world
        gap = closing_edge_gap(world.site, leaf, world.plant.angle(leaf))
        if _mover(world.headline().state) == "automatic":
            self.slow_start_gap_m = gap if self.slow_start_gap_m is None else min(gap, self.slow_start_gap_m)

    def _angle_deg(self, leaf: int) -> float:
        return math.degrees(self._world.plant.angle(leaf))

    # -- the controller's words, stops and guards ------------------------------------------------------

    def after_scan(self) -> None:
        """Called by the host after each scan, and when the board lost power."""
        world = self._world
        if self._board is not None and world.host.on != self._board[2]:
            self.power_changed()  # it came up, or went down, after whoever switched had looked
        state, message, travel = world.headline()
        state, message = shown = (state, message) if world.host.on else ("no power", "")
        if shown != self._said:
            self._said = shown
            text = said("{state}: {message}", state=state, message=message) if message else state
            world.tell("state", text, state=state, message=message)
        if travel != self.travel:
            self.travel = travel
            counts = {name: each for name, each in zip(world.site.leaves.fitted, travel, strict=False) if each}
            if len(counts) == len(world.site.leaves.fitted):
                each = [said("{leaf} leaf {count}", leaf=name, count=count) for name, count in counts.items()]
                world.tell("learned", said("travel learned: {each} counts", each=joined(each, ", ")), **counts)

    def leaves_looked_at(self) -> None:
        """Tell of stops and of leaves pressing on each other when that changed.

        Called only where something changed for the gate itself, so that how often the controller is asked, which
        it may decide, changes nothing in what is told.
        """
        plant = self._world.plant
        self._clash_looked_at(self._world.host.outputs)
        leaves = self._world.site.leaves
        for leaf, (name, model) in enumerate(zip(leaves.fitted, leaves.hung, strict=True)):
            touching = plant.touching(leaf)
            if touching == self._touching[leaf]:
                continue
            self._touching[leaf] = touching
            if touching in ("open stop", "closed stop"):
                speed = abs(plant.speed(leaf)) * model.width_m
                self._world.tell(
                    "stop reached",
                    said("{leaf} leaf at its {stop}", leaf=name, stop=touching),
                    leaf=name,
                    stop=touching,
                    speed_m_s=round(speed, 3),
                )

    def _clash_looked_at(self, outputs: Outputs) -> None:
        """Tell once when the leaves press on each other out of order, driven by these outputs."""
        force_n, side = self._world.plant.lap_force(), self._world.plant.lap_side()
        against = force_n > CLASH_N and (side < 0 or self._against_the_strip(outputs))
        if against and not self._clashed:
            text = said(
                "the leaves clash at the cover strip with {force_n:.0f} N: the leaf behind the strip came last"
                if side < 0
                else "the leaves clash at the cover strip with {force_n:.0f} N: "
                "the leaf behind the strip pushes first",
                force_n=force_n,
            )
            self._world.tell("clash", text, force_n=round(force_n), side=side)
        self._clashed = against or (self._clashed and force_n > 0.0)

    def _against_the_strip(self, outputs: Outputs) -> bool:
        """Whether the leaf that must open last is driven open, so that it pushes the strip before it."""
        behind = outputs.inactive if self._world.site.opens_first == "active" else outputs.active
        return behind.duty > 0.0

    def guards_changed(self) -> None:
        """Called whenever a device may have tripped or cleared: tells which, and whether the gate was moving."""
        world = self._world
        for guard in GUARD_TERMINALS:
            tripped = world.people.is_tripped(guard)
            if tripped == self._tripped.get(guard, False):
                continue
            self._tripped[guard] = tripped
            world.tell(
                "guard",
                said("{guard} tripped" if tripped else "{guard} clear", guard=guard),
                guard=guard,
                tripped=tripped,
                moving=self.moving(),
                place=round(world.people.beam_cut_at(guard), 2),
            )
        world.level("guards", any(self._tripped.values()))

    def moving(self) -> str:
        """`opening`, `closing` or `` as driven now."""
        outputs = self._world.host.outputs
        fitted = len(self._world.site.leaves.fitted)
        duty = next((drive.duty for drive in outputs.drives[:fitted] if drive.duty), 0.0)
        return "opening" if duty > 0 else "closing" if duty < 0 else ""

    def power_changed(self) -> None:
        """Called when the isolator, the battery link or the board's power may have changed."""
        world = self._world
        power = (world.cabinet.mains_on, world.cabinet.battery_linked, world.host.on)
        if power != self._board:
            self._board = power
            mains, battery, board = power
            world.tell("power", POWER[mains, battery], mains=mains, battery=battery, board=board)

    # -- commands --------------------------------------------------------------------------------------

    def command_given(self, what: str, source: str) -> None:
        """A person pressed something that should move the gate; look later whether it did."""
        world = self._world
        world.tell("command", said("{what} from {source}", what=what, source=source), what=what, source=source)
        self._command_token += 1
        token, seen = self._command_token, len(world.events)
        at_rest = not self.moving()
        if at_rest:
            world.clock.at(
                world.now + ANSWER, Phase.LOOK, lambda: self._answered(what, token, seen), "look for an answer"
            )

    def _answered(self, what: str, token: int, seen: int) -> None:
        world = self._world
        if token != self._command_token or any(e.kind == "moving" for e in world.events[seen:]):
            return
        panel = world.controller.panel()
        why = (
            panel.message or joined(panel.waits_for, "; ") or panel.state
            if world.host.on
            else said("the board has no power")
        )
        world.tell("refused", said("the gate did not move on {what}: {why}", what=what, why=why), what=what, why=why)


def _way(duty: float) -> int:
    return (duty > 0) - (duty < 0)


def _mover(state: str) -> str:
    """Who moves the gate, from the controller's own state in words."""
    if "jog" in state:
        return "jog"
    if "learn" in state:
        return "learning"
    if "hold-to-run" in state:
        return "hold-to-run"
    return "automatic"
