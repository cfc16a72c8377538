"""Plays a script against a session: waits for each step's moment, then acts. Drills use the same hands."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from sim.errors import GudgeonError
from sim.said import said
from sim.units import LEAVES, SECOND, Us, clock_text
from sim.world.actions import Action, Value
from trainer.job.script import (
    ActionDone,
    After,
    At,
    Condition,
    ControllerSays,
    EventSeen,
    GateIs,
    LeafPasses,
    Moment,
    Step,
)
from trainer.session.session import Session

PATIENCE = Us(600 * SECOND)
"""How long a condition without a limit of its own is waited for [µs]."""

START = Us(0)

SLICE = Us(SECOND // 20)
"""A condition on an angle is looked at this often [µs]; cutting a run into slices changes nothing in it."""


class ScriptFailed(GudgeonError):
    """Raised when a step's act was refused or its condition never came; names the step's place."""


@dataclass(slots=True)
class Hands:
    """Somebody who works through steps in one session."""

    session: Session
    started: Us = field(default=START)
    """Time since arrival at which the script began [µs]."""

    def play(self, steps: Iterable[Step], progress: Callable[[Step], None] | None = None) -> None:
        """Play every step; raises ScriptFailed at the first that can't be done."""
        for step in steps:
            if progress is not None:
                progress(step)
            if not self.wait(step.moment):
                raise ScriptFailed(self._did_not_come(step.place))
            if isinstance(step.act, Action):
                self.act(step.act, step.place)

    def _did_not_come(self, place: str) -> str:
        """Why a wait was given up, with the controller's own last word: it says what it refused."""
        world = self.session.world
        log = world.controller.panel().log if world.host.on else ()
        when = clock_text(self.session.clock_us)
        if not log:
            return said("{place}: what this step waits for did not come by {when}", place=place, when=when)
        return said(
            "{place}: what this step waits for did not come by {when}; the controller's log ends with: {note}",
            place=place,
            when=when,
            note=log[-1][1],
        )

    def act(self, action: Action, place: str) -> None:
        """Do one action; raises ScriptFailed if it was refused or could not be finished."""
        reply = self.session.do(action.kind, action.arguments)
        if not reply.accepted or reply.text.startswith("not done: "):
            raise ScriptFailed(
                said(
                    "{place}: '{kind}' at {when}: {text}",
                    place=place,
                    kind=action.kind,
                    when=clock_text(self.session.clock_us),
                    text=reply.text,
                )
            )

    def wait(self, moment: Moment | None) -> bool:
        """Let time pass until the moment is there; False if it never came."""
        if moment is None:
            return True
        session = self.session
        if isinstance(moment, At):
            session.run_for(Us(max(0, self.started + moment.time - session.clock_us)))
            return True
        if isinstance(moment, After):
            session.run_for(moment.time)
            return True
        return self.until(moment.condition, moment.within if moment.within is not None else PATIENCE)

    def until(self, condition: Condition, within: Us) -> bool:
        """Let time pass until the condition is met; False after `within` [µs]."""
        met = self.test(condition)
        end = self.session.clock_us + within
        while not met():
            if self.session.clock_us >= end:
                return False
            left = Us(end - self.session.clock_us)
            if isinstance(condition, LeafPasses):
                self.session.world.run_to(self.session.world.now + min(SLICE, left))
            else:
                self.session.world.run_to(self.session.world.now + left, met)
        self.session.note_time()
        return True

    def test(self, condition: Condition) -> Callable[[], bool]:
        """A question that is true once the condition is met, counted from now."""
        world = self.session.world
        seen, done = len(world.events), len(world.entries)
        if isinstance(condition, EventSeen):
            return lambda: any(
                e.kind == condition.kind and _among(condition.data, e.data) for e in world.events[seen:]
            )
        if isinstance(condition, ActionDone):
            return lambda: any(
                e.action.kind == condition.kind and _among(condition.arguments, e.action.arguments)
                for e in world.entries[done:]
            )
        if isinstance(condition, ControllerSays):
            wanted = condition.text.lower()
            return lambda: wanted in " ".join(self._said()).lower()
        if isinstance(condition, LeafPasses):
            return self._passes(condition)
        if isinstance(condition, GateIs):
            return (lambda: not world.rests()) if condition.what == "moves" else world.rests
        return lambda: world.stands(fully_open=condition.what == "open")

    def _said(self) -> tuple[str, str]:
        panel = self.session.world.controller.panel()
        return panel.state, panel.message

    def _passes(self, condition: LeafPasses) -> Callable[[], bool]:
        plant, leaf = self.session.world.plant, LEAVES.index(condition.leaf)
        mark = math.radians(condition.deg)
        last = plant.angle(leaf)

        def met() -> bool:
            nonlocal last
            before, last = last, plant.angle(leaf)
            up = before < mark <= last
            down = before > mark >= last
            return (up and condition.going != "close") or (down and condition.going != "open")

        return met


def _among(wanted: Mapping[str, Value], given: Mapping[str, Value]) -> bool:
    return all(name in given and given[name] == value for name, value in wanted.items())
