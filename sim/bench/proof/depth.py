"""Bounded exhaustive search: everything that can be done, in every situation that can be reached, to a depth.

A situation is what `essence` leaves of the controller's state, with the guards and controls as they are, the power,
which way each leaf is driven and moves, in which of four zones of its travel it is, whether something stands in its
way, and what the watchers remember. In every situation every move is tried. A move is one thing that somebody does,
which the controller reads at its next scan, or letting time go on to the next instant at which the situation is
another one. The depth counts the moves away from an undisturbed cycle.

What this loses, and what a finished depth therefore does not say:

- One run stands for each situation, the first that came to it. Another run into the same one has other numbers (a
  leaf elsewhere in its zone, a deadline nearer, a duty still rising) and might go on otherwise. It isn't tried.
- Things are done at the instant at which a situation begins, and never two in one scan. What needs a blow in the
  middle of a situation, or two within 10 ms, isn't tried.
- No more than a stated number of things are out of the ordinary at a time.
- The gate is the line gate: no masses, no wind, no cables.

What it does say: of these runs every one was made, in every order of so many moves, and none broke a promise. What is
found is a run as it was made, with its times.
"""

from __future__ import annotations

import gc
from bisect import bisect_right
from collections import Counter, deque
from collections.abc import Hashable, Mapping, Sequence
from time import perf_counter, process_time
from typing import Any, Final, NamedTuple

from sim.bench.line_gate import KeptGate, LineGate
from sim.bench.line_leaf import NOWHERE
from sim.bench.proof.depth_report import LEADS_TO, Bounds, Counterexample, Report, Told
from sim.bench.proof.entry import NO_ANSWER
from sim.bench.proof.essence import NOTHING, essence
from sim.bench.proof.moves import WAIT, Move, Scope, moves, scope_of
from sim.bench.proof.terminal_watchers import WATCHERS
from sim.bench.proof.watching import Watcher, glance, way
from sim.controller.settings import Value
from sim.errors import ControllerError
from sim.units import SCAN, from_seconds

ZONES: Final = (0.015, 0.25, 0.985)
"""Shares of the travel that divide it: shut, in the lap, between, open."""

PATIENCE: Final = from_seconds(400.0)
"""Nothing happens any more when nothing has for this long [µs]."""


class _Node(NamedTuple):
    """A situation that was reached, and how."""

    parent: int
    move: str
    at: int
    state: str


class _Kept(NamedTuple):
    gate: KeptGate
    seen: tuple[Hashable, ...]
    before: frozenset[str] | None


_Level = deque[tuple[int, _Kept]]


class Search:
    """One search, of one gate as it stands. Deterministic but for its bound on wall time."""

    def __init__(
        self,
        gate: LineGate,
        sheet: Mapping[str, Value],
        watchers: Sequence[type[Watcher]] = WATCHERS,
        *,
        without: frozenset[str] = NOTHING,
        lost: frozenset[str] = NOTHING,
        scope: Scope | None = None,
    ) -> None:
        """`gate`: at rest, shut. `without`: attributes of the controller that don't decide what comes; `lost`: those
        that are gone without power. `scope`: what is done to the gate; else all that its sheet allows."""
        self.gate = gate
        self.watchers = [make(sheet) for make in watchers]
        self.report = Report()
        self._without = without
        self._without_power = without | lost
        self._scope = scope or scope_of(sheet)
        self._alone = sheet.get("leaves fitted") == "1"
        self._edges = tuple(share * gate.leaves[0].travel for share in ZONES)
        gate.marks = self._edges
        self._before: frozenset[str] | None = None
        self._nodes: list[_Node] = []
        self._numbers: dict[Hashable, int] = {}
        """A number for each part of a situation, so that a situation is three numbers."""
        self._known: dict[Hashable, int] = {}
        self._next: _Level = deque()
        """Situations of the next level, to be gone on from."""
        self._broken: set[str] = set()
        _listen(gate.controller, self.report.transitions)

    # -- the search ------------------------------------------------------------------------------------

    def run(self, lead_in: Sequence[Sequence[Move]], bounds: Bounds) -> Report:
        """Search from every situation of the undisturbed cycle, in which these moves are made whenever it rests."""
        begun, worked = perf_counter(), process_time()
        self._bounds, self._stops_at = bounds, begun + bounds.seconds
        collects = gc.isenabled()
        gc.disable()  # what is kept is many small things without circles; looking through them costs half the time
        try:
            self._begin(lead_in)
            self._search()
        finally:
            if collects:
                gc.enable()
        self.report.scans = self.gate.scans
        self.report.seconds = perf_counter() - begun
        self.report.processor_s = process_time() - worked
        return self.report

    def _search(self) -> None:
        report, bounds = self.report, self._bounds
        for depth in range(bounds.depth + 1):
            if not report.reached:
                return
            report.closed = len(report.reached) <= depth
            level, self._next = self._next, deque()
            if not bounds.time_counts and not self._let_time_pass(level, depth):
                return
            report.finished = bounds.depth if report.closed else depth
            if report.closed or depth == bounds.depth:
                return
            while level:
                if self._is_enough():
                    return
                node, kept = level.popleft()
                self._expand(node, kept, depth + 1)

    def _let_time_pass(self, level: _Level, depth: int) -> bool:
        """Add to a level what time alone leads to; whether there was enough time for that."""
        into, self._next = self._next, level
        place = 0
        while place < len(level):
            if self._is_enough():
                return False
            node, kept = level[place]
            self._restore(kept)
            self._try(node, WAIT, depth)
            place += 1
        self._next = into
        return True

    def _is_enough(self) -> bool:
        return self.report.situations >= self._bounds.situations or perf_counter() >= self._stops_at

    def _begin(self, lead_in: Sequence[Sequence[Move]]) -> None:
        self._from = self.gate.now
        node = self._start()
        for acts in lead_in:
            for move in acts:
                node = self._lead(node, move)
            while (after := self._lead(node, WAIT)) > node:
                node = after
            node = after if after >= 0 else node
            if node >= 0:
                self._restore(self._next[node][1])

    def _start(self) -> int:
        """Ask the controller for the first time; the situation it stands in, −1 when it doesn't answer."""
        try:
            self.gate.step()
        except ControllerError as error:
            self._note(NO_ANSWER, str(error), -1, WAIT, 0)
            return -1
        self._look(-1, WAIT, 0)
        return self._arrive(-1, "", 0)

    def _lead(self, node: int, move: Move) -> int:
        """Make a move of the undisturbed cycle; the situation it leads to, −1 when there is none to go on from."""
        return self._arrive(node, move.name, 0) if node >= 0 and self._make(node, move, 0) else -1

    def _expand(self, node: int, kept: _Kept, depth: int) -> None:
        self._restore(kept)
        for move in self._moves():
            self._restore(kept)
            self._try(node, move, depth)

    def _try(self, node: int, move: Move, depth: int) -> None:
        self.report.moves += 1
        if self._make(node, move, depth):
            self._arrive(node, move.name, depth)

    def _moves(self) -> list[Move]:
        """What is tried in the present situation, in a fixed order."""
        gate, bounds = self.gate, self._bounds
        things = len(gate.tripped) + len(gate.pressed) + sum(leaf.blocked_above < NOWHERE for leaf in gate.leaves)
        full = things + (not gate.powered) >= bounds.at_once
        tried = [move for move in moves(gate, self._scope) if not (full and move.adds)]
        return tried if bounds.time_counts else tried[1:]

    def _arrive(self, parent: int, move: str, depth: int) -> int:
        """Enter the present situation if it is new; its number."""
        key = self._key()
        known = self._known.get(key)
        if known is not None:
            return known
        state = self.gate.state
        self._known[key] = number = len(self._nodes)
        self._nodes.append(_Node(parent, move, self.gate.now, state))
        self.report.states[state] += 1
        while len(self.report.reached) <= depth:
            self.report.reached.append(0)
        self.report.reached[depth] += 1
        if depth < self._bounds.depth or not self._bounds.time_counts:
            self._next.append((number, self._keep()))
        return number

    # -- one move --------------------------------------------------------------------------------------

    def _make(self, node: int, move: Move, depth: int) -> bool:
        """Carry a move out; whether it led to a situation to go on from."""
        try:
            if move is WAIT:
                return self._wait(node, depth)
            move.do(self.gate)
            self.gate.step()
            self._look(node, move, depth)
            return True
        except ControllerError as error:
            self._note(NO_ANSWER, str(error), node, move, depth)
            return False

    def _wait(self, node: int, depth: int) -> bool:
        gate, here, end = self.gate, self._key(), self.gate.now + PATIENCE
        sign = self._sign()
        while gate.now < end:
            gate.step()
            if (now := self._sign()) != sign:
                sign = now
                self._look(node, WAIT, depth)
                if self._key() != here:
                    return True
            gate.skip(end)
        return False

    def _sign(self) -> tuple[Any, ...]:
        """What changes whenever a situation may have: cheap, to be asked at every step."""
        gate = self.gate
        one, other = gate.leaves
        edges = self._edges
        return (
            gate.scans,
            gate.powered,
            gate.outputs.lamp,
            bisect_right(edges, one.position),
            bisect_right(edges, other.position),
            (one.duty > 0.0) - (one.duty < 0.0),
            (other.duty > 0.0) - (other.duty < 0.0),
        )

    def _look(self, node: int, move: Move, depth: int) -> None:
        """Show the watchers this instant. A run that broke a promise goes on: it may break another."""
        gate = self.gate
        powered = gate.powered
        one, other = gate.leaves
        share = one.position / one.travel
        shares = (share, share if self._alone else other.position / other.travel)
        now = glance(gate.now, gate.read, gate.outputs, gate.held, powered, self._before, shares)
        self._before = now.pressed if powered else None
        for watcher in self.watchers:
            said = watcher.see(now)
            if said is not None:
                self._note(watcher.name, said, node, move, depth)

    # -- situations ------------------------------------------------------------------------------------

    def _key(self) -> Hashable:
        gate, now = self.gate, self.gate.now
        one, other = gate.leaves
        parts = (
            (
                self._sign()[1:],
                gate.dark,
                frozenset(gate.tripped),
                frozenset(gate.pressed),
                way(gate.outputs.active),
                way(gate.outputs.inactive),
                one.blocked_above < NOWHERE,
                other.blocked_above < NOWHERE,
            ),
            essence(gate.controller.__getstate__(), now, self._without if gate.powered else self._without_power),
            essence(tuple([watcher.seen for watcher in self.watchers]), now),
        )
        return tuple([self._numbers.setdefault(part, len(self._numbers)) for part in parts])

    def _keep(self) -> _Kept:
        return _Kept(self.gate.keep(), tuple([watcher.seen for watcher in self.watchers]), self._before)

    def _restore(self, kept: _Kept) -> None:
        self.gate.restore(kept.gate)
        for watcher, seen in zip(self.watchers, kept.seen, strict=True):
            watcher.seen = seen
        self._before = kept.before

    # -- what is told ----------------------------------------------------------------------------------

    def _note(self, promise: str, said: str, node: int, move: Move, depth: int) -> None:
        if promise in self._broken:
            return
        self._broken.add(promise)
        lines = self._lines(node)
        if move is not WAIT:
            lines.append(Told(self._nodes[node].at + SCAN - self._from, move.name))
        self.report.found.append(Counterexample(promise, said, self.gate.now - self._from, depth, tuple(lines)))

    def _lines(self, node: int) -> list[Told]:
        """How a situation was reached, as sentences; time that passed is told by what it led to."""
        chain = []
        while node > 0:
            chain.append(self._nodes[node])
            node = self._nodes[node].parent
        told: list[Told] = []
        for each in reversed(chain):
            if each.move != WAIT.name:
                told.append(Told(each.at - self._from, each.move))
            elif not told or told[-1].said != f"the gate is '{each.state}'":
                told.append(Told(each.at - self._from, f"the gate is '{each.state}'"))
        return told


def _listen(controller: object, taken: Counter[tuple[str, str, str]]) -> None:
    """Count the rows of the table that a reference controller takes; of a stranger nothing is counted."""
    machine = getattr(controller, "_machine", None)
    if machine is not None:
        machine.told = lambda trigger, state: taken.update([(trigger, state.value, LEADS_TO[trigger, state.value])])
