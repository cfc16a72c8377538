"""A session that is made up: it answers as a real one does, in the simplest way.

Leaves turn at a constant rate and guards act at once. Nothing here is evidence of how a gate behaves.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import numpy as np

from sim.controller.ports import GUARD_TERMINALS
from sim.errors import ActionError
from sim.units import SECOND, Us
from sim.world.actions import checked
from sim.world.notebook import Notebook
from trainer.session.sheet_log import SheetLog
from trainer.session.tools import ReadingView, UseView
from trainer.session.view import Curve, Reply, StripView, View
from trainer.session.wiring import WiringView
from trainer.session.worth import WorthView
from trainer.session.yard_view import BodyView
from trainer.window.canned import cabinet, yard
from trainer.window.canned.acts import refused, take
from trainer.window.canned.view import view_of
from trainer.window.doors import Mode

RATE_DEG_S: Final = 6.0
JOG_DEG_S: Final = 3.0
SAMPLE_S: Final = 0.1
CHANNELS: Final = (
    "active angle",
    "inactive angle",
    "active current",
    "inactive current",
    "supply",
    "guards",
    "commands",
)


class CannedSession:
    """Answers as a session does; each action changes what is seen, in the simplest way."""

    def __init__(self, mode: Mode = "practice", seed: int = 0, *, graded: bool = True) -> None:
        self.mode: Mode = mode
        self.seed = seed
        self.graded = graded
        self.now = 0.0
        self.line = 1
        self.paused = False
        self.pace = 1.0
        self.closed = False
        self.shown: float | None = None
        self.angles = [0.0, 0.0]
        self.wish: tuple[float | None, float | None] = (None, None)
        """Where each leaf is driven to [°]."""
        self.engaged = [True, True]
        self.in_gap = ["", ""]
        """What is held in the gap at each hinge."""
        self.mains = self.battery = True
        self.cordon = False
        self.sealed = False
        self.settings = yard.settings()
        self.sheet_log = SheetLog({name: row.value for name, row in self.settings.items()})
        self.bodies: dict[str, BodyView] = {}
        self.by_hand: set[str] = set()
        self.unplugged: set[str] = set()
        self.bridged: set[str] = set()
        self.swapped: set[str] = set()
        """Blocks whose two cores have changed places."""
        self.held: list[str] = []
        self.jog_ways: dict[str, str] = {}
        self.survey: dict[str, str] = {}
        self.user_group = ""
        self.notebook = Notebook()
        self.asks_cause = False
        """Whether the job is a gate that failed."""
        self.answers: dict[str, str] = {}
        self.enrolled: list[tuple[str, str]] = []
        self.in_place: dict[str, UseView] = {}
        self.readings: dict[str, ReadingView] = {}
        self.gauge: tuple[str, float, float] | None = None
        self.curves: list[Curve] = []
        self.alarms: list[tuple[Us, str]] = []
        self.reply = ""
        self.finished = False
        self.learned = False
        self.marks: list[tuple[Us, str, str]] = []
        self.table: np.ndarray[Any, Any] = np.zeros((256, 1 + len(CHANNELS)))
        self.count = 0
        self.done: list[tuple[str, dict[str, object]]] = []
        """Every action that was accepted, for tests."""
        self._drawn: tuple[object, WiringView] | None = None
        self._sample()

    # -- the door

    def do(self, kind: str, arguments: Mapping[str, object] | None = None) -> Reply:
        """Check against the catalogue, then change what is seen."""
        try:
            action = checked(kind, arguments)
        except ActionError as error:
            self.reply = str(error)
            return Reply(False, str(error))
        why = refused(self, action)
        if why:
            self.reply = why
            return Reply(False, why)
        self.line += 1
        self.done.append((kind, dict(action.arguments)))
        said = take(self, action)
        if kind not in ("wait", "wait until"):
            words = ", ".join(str(v) for v in action.arguments.values())
            self.marks.append((self._us(), "act", f"{kind}: {words}" if words else kind))
        self.reply = said or f"Done: {kind}."
        return Reply(True, self.reply, self.line)

    def tick(self, wall_s: float) -> None:
        """Leaves turn towards where they are driven."""
        if self.paused or self.shown is not None or self.finished:
            return
        self.let_pass(min(wall_s, 0.1) * (min(self.pace, 1.0) if self.held else self.pace))

    def pause(self, on: bool) -> None:
        """Hold time."""
        if on:
            self.release_all()
        self.paused = on

    def set_pace(self, pace: float) -> None:
        """How fast time passes."""
        self.pace = pace

    def look_at(self, when: Us | None) -> None:
        """Show the past."""
        self.shown = None if when is None else max(0.0, min(when / 1e6, self.now))

    def go_on_from(self, when: Us) -> Reply:
        """Forget what came after."""
        if self.mode == "assessed":
            return Reply(False, "in an assessed attempt the past can be looked at, not changed")
        self.now = when / 1e6
        self.count = max(int(np.searchsorted(self.table[: self.count, 0], self.now, "right")), 1)
        self.angles = [float(angle) for angle in self.table[self.count - 1, 1:3]]
        self.marks = [mark for mark in self.marks if mark[0] <= when]
        self.shown, self.wish = None, (None, None)
        return Reply(True, f"Going on from {self.now:.1f} s; what came after is kept as a left branch.")

    def release_all(self) -> None:
        """Let go."""
        if self.held:
            self.done.append(("release all", {}))
        self.held.clear()

    def finish(self) -> None:
        """End as it stands."""
        self.release_all()
        self.finished = True

    def worth(self) -> WorthView | None:
        """Made up too."""
        return yard.WORTH if self.finished else None

    def close(self) -> None:
        """Leave."""
        self.release_all()
        self.closed = True

    # -- a gate of cardboard

    def _us(self) -> Us:
        return Us(round(self.now * SECOND))

    @property
    def powered(self) -> bool:
        """Whether the board has a source."""
        return self.mains or self.battery

    def tripped(self) -> frozenset[str]:
        """Guards that act now."""
        standing = (b for b in self.bodies.values() if b.size_m[2] >= 0.5)
        cut = {"outer beam"} if any(abs(b.y_m + 0.6) <= b.size_m[1] / 2 for b in standing) else set()
        return frozenset(self.by_hand | cut | ({"stop circuit"} if "stop button" in self.held else set()))

    def blocked(self) -> list[str]:
        """Declared guards that keep the gate still."""
        lines = yard.input_lines(self.tripped(), frozenset(self.unplugged - self.bridged), self.declared())
        return [line.name for line in lines if line.blocks and line.name not in self.bridged]

    def declared(self) -> dict[str, str]:
        """What the sheet says of each guard."""
        return {name: self.settings[name].value for name in GUARD_TERMINALS}

    def drive(self, active: float | None, inactive: float | None) -> None:
        """Drive both leaves to angles [°]; None: stay."""
        self.wish = (active, inactive)

    def let_pass(self, seconds: float) -> None:
        """Let simulated time pass [s]."""
        end = self.now + seconds
        while self.now < end - 1e-9:
            step = min(SAMPLE_S, end - self.now)
            self.now += step
            self._move(step)
            if self.now - self.table[self.count - 1, 0] >= SAMPLE_S - 1e-9:
                self._sample()

    def _move(self, step: float) -> None:
        closing = any(w is not None and w < a for w, a in zip(self.wish, self.angles, strict=True))
        if closing and self.tripped() & {"outer beam", "active edge", "inactive edge"} and self.powered:
            self.drive(yard.OPEN_DEG, yard.OPEN_DEG)
            self.marks.append((self._us(), "event", "opening again"))
        jogged = {held.split()[1]: held for held in self.held if held.startswith("jog ")}
        for leaf, name in enumerate(("active", "inactive")):
            to = self.wish[leaf]
            if name in jogged:
                to = yard.OPEN_DEG if self.jog_ways.get(name) == "open" else 0.0
            if to is None or not self.powered or not self.engaged[leaf] or "stop circuit" in self.tripped():
                continue
            rate = (JOG_DEG_S if name in jogged else RATE_DEG_S) * step
            self.angles[leaf] += max(-rate, min(rate, to - self.angles[leaf]))

    def _currents(self) -> tuple[float, float]:
        moving = [w is not None and abs(w - a) > 0.05 for w, a in zip(self.wish, self.angles, strict=True)]
        active, inactive = (
            2.4 + 0.9 * np.sin(a / 14.0) if m else 0.0 for a, m in zip(self.angles, moving, strict=True)
        )
        return float(active), float(inactive)

    def _sample(self) -> None:
        if self.count == len(self.table):
            self.table = np.concatenate((self.table, np.zeros_like(self.table)))
        volts = 27.3 - 0.12 * sum(self._currents()) if self.powered else 0.0
        flags = (float(bool(self.tripped())), float(bool(self.held)))
        self.table[self.count] = (self.now, *self.angles, *self._currents(), volts, *flags)
        self.count += 1

    # -- what is seen

    def observe(self) -> View:
        """Everything to draw."""
        return view_of(self)

    def wiring(self) -> WiringView:
        """The drawing; the same object until something seen of it changed."""
        hands = frozenset(self.unplugged), frozenset(self.bridged), frozenset(self.swapped)
        stands = (self.mains, self.battery, hands)
        if self._drawn is None or self._drawn[0] != stands:
            self._drawn = stands, cabinet.wiring(self.mains, self.battery, *hands)
        return self._drawn[1]

    def strip(self) -> StripView:
        """The recording."""
        table = self.table[: self.count]
        channels = {name: table[:, n + 1] for n, name in enumerate(CHANNELS)}
        return StripView(table[:, 0], channels, tuple(self.marks), self.now, self.shown)

    def shown_angles(self) -> list[float]:
        """Angles now, or at the past instant looked at [°]."""
        if self.shown is None:
            return self.angles
        row = max(int(np.searchsorted(self.table[: self.count, 0], self.shown, "right")) - 1, 0)
        return [float(angle) for angle in self.table[row, 1:3]]
