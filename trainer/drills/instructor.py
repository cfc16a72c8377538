"""The instructor of a drill: waits for each step's moment inside the running gate, and does it.

He stands beside whoever is at work, a person in the window or a solution: his steps come at their own instants, also
in the middle of an act that takes time. He looks when the world tells of something, when a time is due, and while
he waits for an angle twenty times a second; looking changes nothing in a run.

Where what happened is played again (a drill that was left, or gone on with from earlier), he goes through it once
more: what he decided then he decides again at the same instants, but it is done by the journal, and not by him.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from sim.errors import JournalError
from sim.said import said
from sim.units import SCAN, SECOND, Us, next_on_grid
from sim.world.actions import CATALOGUE, Action
from sim.world.clock import Phase
from sim.world.history import Entry, Event
from sim.world.meddling import Meddling, reverse
from trainer.job.script import ActionDone, After, At, Clear, Freeze, Inject, Message, Moment, Step, When
from trainer.session.play import SLICE, Hands, ScriptFailed
from trainer.session.session import Session, next_scan

START = Us(0)

STILL_ASKED = Us(2 * SECOND)
"""Time stands still within a frame after a question; what was asked so shortly before a drill was left has no answer
yet [µs]. Ours."""

Told = Callable[["Done"], None]
Kind = Literal["inject", "clear", "message", "freeze", "waited", "skipped"]


@dataclass(frozen=True, slots=True)
class Done:
    """One step of the drill that is over."""

    at: Us
    """Time since arrival [µs]."""
    kind: Kind
    text: str
    """For `message` and `freeze` what is said to whoever is at work; all else is the instructor's own."""
    place: str

    def as_base_types(self) -> dict[str, object]:
        """For JSON."""
        return {"at_us": int(self.at), "kind": self.kind, "text": self.text, "place": self.place}


class Instructor:
    """Carries the steps of a drill out in one session."""

    def __init__(self, session: Session, steps: tuple[Step, ...], told: Told | None = None) -> None:
        """Be there from now on. Raises ScriptFailed, before anything happens, for a step nobody can carry out."""
        for step in steps:
            _possible(step)
        self.session = session
        self.log: list[Done] = []
        self.frozen = ""
        """What is asked while time should stand still; whoever shows the session pauses it and calls `go_on`."""
        self._steps = steps
        self._told = told or (lambda _done: None)
        self._index = 0
        self._since = session.clock_us
        """Time since arrival at which the step before ended [µs]."""
        self._started = session.clock_us
        self._met: Callable[[], bool] | None = None
        self._before: dict[str, Meddling] = {}
        """What was injected under a name: how it has to be made again to be as it was."""
        self._hands = Hands(session)
        self._world: object = None
        self._recalls = False
        """Whether what happened is being played again."""
        self._decided: list[tuple[Us, Meddling]] = []
        """What he had changed since arrival, in his order: (for which instant [µs of the world], what)."""
        self._froze_at = START
        session.on_anew = self._recall
        self._attend()

    @property
    def finished(self) -> bool:
        """Whether every step is over."""
        return self._index >= len(self._steps)

    @property
    def left(self) -> int:
        """How many steps are still to come."""
        return len(self._steps) - self._index

    @property
    def messages(self) -> tuple[tuple[Us, str], ...]:
        """(when, what was said) for whoever is at work, oldest first."""
        return tuple((done.at, done.text) for done in self.log if done.kind in ("message", "freeze"))

    def _recall(self) -> None:
        """What happened is about to be played again from arrival on: begin anew, but leave doing to the journal."""
        self._recalls = True
        self.frozen = ""
        self.log.clear()
        self._decided.clear()
        self._before.clear()
        self._index, self._since, self._started = 0, START, START
        self._attend()

    def caught_up(self) -> None:
        """What was played again has come to the present: from now on he acts again, and what he had decided and was
        not done yet is done now; what he asked a moment ago he still asks.

        Raises JournalError where the journal holds other changes than his steps make.
        """
        self._recalls = False
        lines = [line.data for line in self.session.journal.living() if line.kind == "meddling"]
        done = [Meddling(each["what"], each["target"], each["on"], each.get("values", {})) for each in lines]
        if [change for _at, change in self._decided[: len(done)]] != done:
            raise JournalError(
                said(
                    "{folder}: the instructor's steps of this drill are other ones by now; it can be read, but not "
                    "gone on with",
                    folder=self.session.journal.folder,
                )
            )
        for due, change in self._decided[len(done) :]:
            self.session.meddle(change, due)
        if self.session.clock_us - self._froze_at > STILL_ASKED:
            self.frozen = ""

    def _attend(self) -> None:
        """Be there in the session's world."""
        self._world = self.session.world
        self._met = None
        self.session.world.listeners.append(self._heard)
        self._look()

    def go_on(self) -> None:
        """Whoever is at work has answered the question that time stood still for."""
        self.frozen = ""

    # -- waiting ---------------------------------------------------------------------------------------

    def _heard(self, _event: Event) -> None:
        self._advance()

    def _look(self) -> None:
        """Advance as far as can be, then come back when the next step may be due."""
        self._advance()
        world = self.session.world
        if self._world is not world or self.finished or world.ended:
            return
        moment = self._steps[self._index].moment
        now = int(world.clock.now)
        due = now + SLICE
        if isinstance(moment, (At, After)):
            start = self._started if isinstance(moment, At) else self._since
            due = max(now + 1, start + moment.time + int(world.arrived))
        world.clock.at(next_on_grid(due, SCAN), Phase.LOOK, self._look, "instructor looks")

    def _advance(self) -> None:
        """Carry out every step whose moment is there."""
        while not self.finished and not self.session.world.ended:
            step = self._steps[self._index]
            verdict = self._is_due(step.moment)
            if verdict == "wait":
                return
            self._index += 1
            self._since = self.session.clock_us
            self._met = None
            if verdict == "due":
                self._carry_out(step)
            else:
                self._note("skipped", said("what this step waits for did not come in time"), step)

    def _is_due(self, moment: Moment | None) -> Literal["wait", "due", "never"]:
        now = self.session.clock_us
        if moment is None:
            return "due"
        if isinstance(moment, At):
            return "due" if now >= self._started + moment.time else "wait"
        if isinstance(moment, After):
            return "due" if now >= self._since + moment.time else "wait"
        if self._met is None:
            self._met = self._question(moment)
        if self._met():
            return "due"
        return "never" if moment.within is not None and now >= self._since + moment.within else "wait"

    def _question(self, moment: When) -> Callable[[], bool]:
        """A question that is true once the condition is met, counted from now; an act counts when it is done."""
        condition = moment.condition
        if not isinstance(condition, ActionDone):
            return self._hands.test(condition)
        world = self.session.world
        begun = len(world.entries)

        def over(entry: Entry) -> bool:
            kind = CATALOGUE[entry.action.kind]
            due = entry.at + kind.takes if kind.effect == "end" and not kind.varies else entry.at
            return int(world.clock.now) > due or (kind.effect == "start" and int(world.clock.now) >= due)

        def is_it(action: Action) -> bool:
            given = action.arguments
            return action.kind == condition.kind and all(given.get(k) == v for k, v in condition.arguments.items())

        return lambda: any(is_it(entry.action) and over(entry) for entry in world.entries[begun:])

    # -- acting ----------------------------------------------------------------------------------------

    def _carry_out(self, step: Step) -> None:
        act = step.act
        if isinstance(act, Message):
            self._note("message", act.text, step)
        elif isinstance(act, Freeze):
            self.frozen, self._froze_at = act.text, self.session.clock_us
            self._note("freeze", act.text, step)
        elif isinstance(act, Inject):
            self._inject(act, step)
        elif isinstance(act, Clear):
            change = self._before.pop(act.name, None)
            if change is not None:
                self._have_done(change)
            self._note("clear", act.name, step)
        else:
            self._note("waited", "", step)

    def _inject(self, act: Inject, step: Step) -> None:
        assert act.what != "site", "refused when the instructor was made"
        if act.what in ("weather", "fault"):
            change = Meddling(act.what, act.target, values=act.changes)
        else:
            change = Meddling(act.what, act.target)
        before = reverse(self.session.world, change)
        self._before[act.name] = before
        self._have_done(replace(change, on=not before.on) if act.what == "swap" else change)
        self._note("inject", act.name, step)

    def _have_done(self, change: Meddling) -> None:
        self._decided.append((next_scan(self.session.world), change))
        if not self._recalls:
            self.session.meddle(change)

    def _note(self, kind: Kind, text: str, step: Step) -> None:
        done = Done(self.session.clock_us, kind, text, step.place)
        self.log.append(done)
        if not self._recalls:
            self._told(done)


def _possible(step: Step) -> None:
    """Refuse what can be written in a drill and not yet be carried out."""
    if isinstance(step.act, Action):
        raise ScriptFailed(
            said(
                "{place}: '{kind}' is an act of whoever is at work; allowed: inject, clear, message, freeze",
                place=step.place,
                kind=step.act.kind,
            )
        )
    if isinstance(step.act, Inject) and step.act.what == "site":
        raise ScriptFailed(
            said(
                "{place}: inject: the site itself can't be changed while the gate stands; "
                "allowed: swap, unplug, bridge, cover, weather, fault",
                place=step.place,
            )
        )
