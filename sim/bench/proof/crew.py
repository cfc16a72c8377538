"""A proof on several processes: each takes the next search, says how far it is, and hands back what it found.

A stranger's file is only ever run in these processes, never in the one that asks. One that says nothing for longer
than it may is ended, and that is a finding.
"""

from __future__ import annotations

import multiprocessing
import time
import traceback
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Any, Final

from sim.bench.branching import CAN_BRANCH
from sim.bench.patience import Patience
from sim.bench.proof.case import Case
from sim.bench.proof.entry import NO_ANSWER, Breach, Focus
from sim.bench.proof.order import Order, Task, tasks
from sim.bench.proof.search import PATIENCE_S, Found, Outcome, Search, Tally
from sim.errors import CannotLearn, ControllerError, GudgeonError
from sim.kernel import compiler

SILENCE_S: Final = 3.0 * PATIENCE_S
"""Processor time without a word after which a process is ended [s]; a play that hangs ends by its own patience."""

START_S: Final = 180.0
"""The same before its first word, in which the kernel may have to be compiled [s]."""

STRANGER_S: Final = 2.0 * PATIENCE_S
"""Processor time that one play of a stranger may take [s]."""

WORD_EVERY_S: Final = 0.25
"""How often a process says how far it is [s]."""


@dataclass
class Progress:
    """How far a proof is; for whoever shows it."""

    examples: int = 0
    planned: int = 0
    tasks_done: int = 0
    tasks: int = 0
    broken: tuple[str, ...] = ()
    under_way: tuple[str, ...] = ()


@dataclass
class Gathered:
    """What all searches of a proof have brought."""

    found: list[Found] = field(default_factory=list)
    tally: Tally = field(default_factory=Tally)
    drawn: dict[str, int] = field(default_factory=dict)
    """Search: cases that were drawn and played before the time was up, or it had found something."""
    unfinished: list[str] = field(default_factory=list)
    """Searches that the time was too short for."""
    unready: str = ""
    """Why the gate can't be made ready on this site, in words."""
    seconds: float = 0.0


def search_all(order: Order, told: Callable[[Progress], None] | None = None) -> Gathered:
    """Carry every search of a proof out. Raises what went wrong with our own code, never a stranger's mistake."""
    compiler.load()
    crew = _Crew(order, tasks(order), told or (lambda _progress: None))
    try:
        return crew.work()
    finally:
        crew.end()


def play_again(order: Order, case: Case) -> Outcome:
    """Play one case once more, in a process of its own. Raises what `search_all` would."""
    task = Task("once more", Focus(), 1, 0, (case,))
    compiler.load()
    crew = _Crew(replace(order, workers=1, seconds=3600.0), [task], lambda _progress: None)
    try:
        gathered = crew.work()
    finally:
        crew.end()
    if not gathered.found:
        return Outcome({})
    found = gathered.found[0]
    return Outcome({found.property: found.breach}, done=found.done)


@dataclass
class _Hand:
    """One process of the crew, as the others see it."""

    process: BaseProcess
    pipe: Connection
    task: Task | None = None
    seen: Tally = field(default_factory=Tally)
    """What its search under way has seen so far."""

    def __post_init__(self) -> None:
        assert self.process.pid is not None
        self.patience = Patience(self.process.pid, START_S)


class _Crew:
    def __init__(self, order: Order, todo: Sequence[Task], told: Callable[[Progress], None]) -> None:
        self.order = order
        self.todo = list(todo)
        self.told = told
        self.began = time.monotonic()
        self.until = self.began + order.seconds
        self.gathered = Gathered()
        self.progress = Progress(planned=sum(task.examples for task in todo), tasks=len(todo))
        context = multiprocessing.get_context("fork" if CAN_BRANCH else "spawn")
        self.hands: list[_Hand] = []
        for _ in range(max(1, min(order.workers, len(todo)))):
            ours, theirs = context.Pipe()
            process = context.Process(target=_hand, args=(theirs, order, self.until), daemon=True)  # type: ignore[attr-defined]
            process.start()
            theirs.close()
            self.hands.append(_Hand(process, ours))

    def work(self) -> Gathered:
        for hand in list(self.hands):
            self._give(hand)
        while self.hands:
            ready = wait([hand.pipe for hand in self.hands], timeout=1.0)
            for hand in list(self.hands):
                if hand.pipe in ready:
                    self._hear(hand)
                elif why := hand.patience.over():
                    self._silent(hand, why)
        self.gathered.seconds = time.monotonic() - self.began
        return self.gathered

    def end(self) -> None:
        for hand in self.hands:
            hand.process.kill()
            hand.process.join()
            hand.pipe.close()

    def _give(self, hand: _Hand) -> None:
        """The next search, or nothing more to do."""
        late = time.monotonic() > self.until
        if late or self.gathered.unready:
            self.gathered.unfinished += [task.name for task in self.todo]
            self.todo.clear()
        broken = tuple(found.property for found in self.gathered.found)
        self.todo = [task for task in self.todo if task.name not in broken]
        hand.task = self.todo.pop(0) if self.todo else None
        hand.seen = Tally()
        with suppress(BrokenPipeError):  # if it has died, the next look at its pipe says so
            hand.pipe.send((hand.task, broken))
        if hand.task is None:
            hand.process.join(5.0)
            self._leave(hand)

    def _leave(self, hand: _Hand) -> None:
        hand.process.kill()
        hand.process.join()
        hand.pipe.close()
        self.hands.remove(hand)

    def _hear(self, hand: _Hand) -> None:
        hand.patience.heard(SILENCE_S)
        try:
            kind, what = hand.pipe.recv()
        except (EOFError, ConnectionResetError):
            self._silent(hand, "its process came to an end by itself")
            return
        if kind == "tally":
            hand.seen = what
        elif kind == "done":
            self._take(hand, *what)
            self._give(hand)
        elif kind == "unready":
            self.gathered.unready = what
            self._give(hand)
        elif kind == "controller failed":
            self._silent(hand, what)
        else:
            raise RuntimeError(what)
        self._tell()

    def _take(self, hand: _Hand, found: list[Found], tally: Tally, cut_short: bool) -> None:
        assert hand.task is not None
        if cut_short:
            self.gathered.unfinished.append(hand.task.name)
        if not hand.task.cases:
            drawn = self.gathered.drawn
            drawn[hand.task.name] = drawn.get(hand.task.name, 0) + tally.examples
        self.gathered.tally.join(tally)
        hand.seen = Tally()
        self.progress.tasks_done += 1
        known = {each.property for each in self.gathered.found}
        self.gathered.found += [each for each in found if each.property not in known]
        if any(each.property == NO_ANSWER for each in found):
            self.todo.clear()  # what it does between two failures says nothing

    def _silent(self, hand: _Hand, why: str) -> None:
        """A process that can't go on: the controller in it is at fault, and the others needn't try."""
        self.gathered.found.append(Found(NO_ANSWER, Case(()), Breach(0, why), self.order.seed, 0, 0))
        self.todo.clear()
        self._leave(hand)

    def _tell(self) -> None:
        seen = self.gathered.tally.examples + sum(hand.seen.examples for hand in self.hands)
        self.told(
            replace(
                self.progress,
                examples=seen,
                broken=tuple(found.property for found in self.gathered.found),
                under_way=tuple(hand.task.name for hand in self.hands if hand.task is not None),
            )
        )


# the other side


def _hand(pipe: Connection, order: Order, until: float) -> None:
    """One process: builds the gate, then takes one search after the other until there is none."""
    try:
        compiler.load()
        pipe.send(("tally", Tally()))  # before any foreign line runs, so that its patience isn't spent on ours
        stage = order.stage()
        stage.world()
        while True:
            task, broken = pipe.recv()
            if task is None:
                return
            pipe.send(("done", _searched(pipe, order, stage, task, broken, until)))
    except CannotLearn as error:
        pipe.send(("unready", str(error)))
        pipe.recv()
    except ControllerError as error:
        pipe.send(("controller failed", str(error)))
    except GudgeonError as error:
        pipe.send(("broken", f"{type(error).__name__}: {error}"))
    except EOFError:
        return
    except Exception:
        pipe.send(("broken", traceback.format_exc()))


def _searched(
    pipe: Connection, order: Order, stage: Any, task: Task, broken: tuple[str, ...], until: float
) -> tuple[list[Found], Tally, bool]:
    said = time.monotonic()

    def say(tally: Tally) -> None:
        nonlocal said
        if time.monotonic() - said > WORD_EVERY_S:
            said = time.monotonic()
            pipe.send(("tally", tally))

    properties = [each for each in order.wanted if each.name not in broken and not order.missing(each)]
    search = Search(stage, properties, order.bounds, say, PATIENCE_S if order.source is None else STRANGER_S)
    if task.cases:
        found = search.play_all(task.cases, until)
    else:
        drawn = search.run(task.focus, task.examples, task.seed, until)
        found = [drawn] if drawn is not None else []
    return found, search.tally, search.cut_short
