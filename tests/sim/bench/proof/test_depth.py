"""Search to a depth: sound controllers hold, every seeded bug is found, and what is found can be played again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from sim.bench.proof.depth import Search
from sim.bench.proof.depth_report import TABLE, Bounds, Counterexample, Report
from sim.bench.proof.depth_sheets import (
    MAIN,
    OUR_LOST,
    OUR_NUMBERS,
    SERIAL,
    SHEETS,
    cycle,
    found_gate,
    search_sheet,
    search_sheets,
)
from sim.bench.proof.moves import moves, scope_of
from sim.bench.proof.terminal_watchers import WATCHERS
from sim.bench.proof.watching import glance
from sim.controller import ReferenceController, answer, dwelling
from sim.controller.machine import State
from sim.controller.memory import GuardTest
from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS, Drive, Outputs, Panel, Scan
from sim.errors import ActionError, ControllerError
from sim.units import SCAN


def search(
    make: Callable[[], Any] = ReferenceController, sheet: str = MAIN, scope: dict[str, Any] | None = None, **bounds
) -> Report:
    """Search with a scope narrower than all there is."""
    gate = found_gate(make, SHEETS[sheet])
    settings = found_gate(sheet=SHEETS[sheet]).controller.panel().settings
    whole = scope_of(settings, SERIAL)._replace(**(scope or {}))
    return Search(gate, settings, without=OUR_NUMBERS, lost=OUR_LOST, scope=whole).run(
        cycle(settings), Bounds(**bounds)
    )


def few(**more: Any) -> dict[str, Any]:
    """A scope with nothing but power and what is named."""
    return {"guards": (), "controls": (), "leaves": (), "serial": "", **more}


# a sound controller


@pytest.mark.parametrize("sheet", SHEETS)
def test_sound_controller_holds_to_a_depth(sheet: str) -> None:
    """On every sheet: each single act at each situation of a cycle breaks nothing."""
    report = search_sheet(sheet, Bounds(depth=1))
    assert [found.in_words() for found in report.found] == []
    assert report.finished == 1
    assert report.reached[0] >= 25
    assert not report.closed
    assert report.moves >= 12 * report.reached[0]


def test_search_is_settled_by_what_it_is_given() -> None:
    """Twice the same search sees the same."""
    one, other = (search_sheet(MAIN, Bounds(depth=1)) for _ in range(2))
    assert (one.reached, one.moves, one.scans) == (other.reached, other.moves, other.scans)
    assert (one.states, one.transitions) == (other.states, other.transitions)


def test_sheets_are_searched_side_by_side() -> None:
    """In processes of their own they see what they see here."""
    apart = search_sheets([MAIN, "one leaf"], Bounds(depth=1), workers=2)
    assert list(apart) == [MAIN, "one leaf"]
    for name, report in apart.items():
        assert report.reached == search_sheet(name, Bounds(depth=1)).reached


def test_a_small_scope_is_searched_to_its_end() -> None:
    """With a beam, the stop circuit and power there is an end to what can happen, and it is reached."""
    report = search(sheet="one leaf", scope=few(guards=("outer beam", "stop circuit")), depth=200, at_once=1)
    assert report.closed
    assert report.finished == 200
    assert report.found == []
    assert {"closed", "opening", "open", "halted", "reversing", "self-check"} <= set(report.states)
    assert ("stop opens", "reversing", "halted") in report.transitions
    assert 500 < report.situations < 20_000


def test_it_tells_which_rows_of_the_table_were_taken_and_which_never() -> None:
    """A shallow search of one movement: both lists together are the table."""
    report = search(scope=few(), depth=1)
    assert set(report.transitions) | set(report.never) == set(TABLE)
    assert ("go close", "warning before moving", "closing") in report.transitions
    assert ("reverses", "closing", "reversing") in report.never
    assert report.transitions["arrives", "opening", "at rest"] >= 1


def test_bounds_end_it_and_it_says_how_deep_it_came() -> None:
    """A search that is cut short claims no depth that it did not finish."""
    report = search_sheet(MAIN, Bounds(depth=4, situations=300))
    assert report.finished == 0
    assert 300 <= report.situations < 330
    assert search_sheet(MAIN, Bounds(depth=4, seconds=0.0)).finished == 0


def test_time_for_nothing_reaches_what_acts_alone_lead_to() -> None:
    """When time is no move, one act and all that follows it by itself is one deep, to the end of the movement."""
    scope = few(guards=("outer beam",))
    counted, free = (search(scope=scope, depth=1, time_counts=counts) for counts in (True, False))
    assert free.found == counted.found == []
    reopened = ("go open", "reversing", "opening")
    assert reopened in free.transitions
    assert reopened not in counted.transitions
    assert free.situations > counted.situations


def test_no_more_things_at_once_than_asked_for() -> None:
    """Nothing out of the ordinary leaves the cycle and time; and more at once reaches more."""
    sizes = [search(scope=few(guards=GUARD_TERMINALS[:2]), depth=2, at_once=most).situations for most in (0, 1, 2)]
    assert sizes[0] < sizes[1] < sizes[2]


def test_a_sheet_that_is_not_there_is_refused_in_words() -> None:
    """With the nearest one that is."""
    with pytest.raises(ActionError, match="no sheet 'one lef' to search; did you mean 'one leaf'"):
        search_sheet("one lef")


# controllers with a bug


class Blind(ReferenceController):
    """Doesn't see the outer beam while it closes in the lap."""

    def scan(self, now, inputs):
        lap = 0.25 * self._memory.leaves[0].travel + self._memory.leaves[0].origin
        if self._memory.state is State.CLOSING and inputs.counts[0] < lap:
            inputs = replace(inputs, guard_v=(0.1, *inputs.guard_v[1:]))
        return super().scan(now, inputs)


class Deaf(ReferenceController):
    """Doesn't hear the stop circuit while the outer beam is tripped."""

    def scan(self, now, inputs):
        if inputs.guard_v[0] > 12.0:
            inputs = replace(inputs, guard_v=(*inputs.guard_v[:4], 0.1))
        return super().scan(now, inputs)


class Powerless(ReferenceController):
    """Goes on driving on what is left in its capacitors."""

    def scan(self, now, inputs):
        before = self._answer
        after = super().scan(now, inputs)
        return before if inputs.supply_v <= 16.0 else after


class Hasty(ReferenceController):
    """Reverses without a pause."""

    def scan(self, now, inputs):
        scan = super().scan(now, inputs)
        if self._memory.state is State.REVERSING:
            return replace(scan, outputs=replace(scan.outputs, active=Drive(1.0), inactive=Drive(1.0)))
        return scan


class Eager(ReferenceController):
    """Takes a control that was held while power was away for a command, once it has looked at itself."""

    def scan(self, now, inputs):
        if self._memory.state in (State.NO_POWER, State.SELF_CHECK):
            super().scan(now, replace(inputs, command_v=(24.1,) * len(inputs.command_v)))
        return self._answer if self._memory.state is State.SELF_CHECK else super().scan(now, inputs)


class Restless(ReferenceController):
    """Closes by itself though somebody opened the stop circuit."""

    def scan(self, now, inputs):
        super().scan(now, inputs)
        if self._memory.state is State.AT_REST and self._memory.waits_for_command and not self._memory.fresh:
            self._memory.waits_for_command = False
            turn = self._turn(now, inputs)
            dwelling.consider(turn)
            self._conclude(turn)
        return super().scan(now, inputs)


class Sudden(ReferenceController):
    """Shortens the warning when it closes by itself."""

    def scan(self, now, inputs):
        super().scan(now, inputs)
        timers = self._memory.timers
        if self._memory.wish.by_itself and timers.get("warning", 0) > now + 10_000:
            timers["warning"] = self._memory.wake = int(now) + 10_000
            self._answer = answer.made_from(self._memory)
        return super().scan(now, inputs)


class Untested(ReferenceController):
    """Tests no beam when it closes by itself."""

    def scan(self, now, inputs):
        super().scan(now, inputs)
        if self._memory.wish.by_itself and self._memory.test.tested:
            self._memory.test = GuardTest()
            self._answer = answer.made_from(self._memory)
        return super().scan(now, inputs)


class Clinging(ReferenceController):
    """Goes on under a button that was let go while a beam is tripped."""

    def scan(self, now, inputs):
        if self._memory.state is State.HELD_OPENING and inputs.guard_v[0] > 12.0:
            inputs = replace(inputs, command_v=(0.2, *inputs.command_v[1:]))
        return super().scan(now, inputs)


class Swapped(ReferenceController):
    """Takes the other leaf for the one that opens first."""

    def restore(self, state) -> None:
        super().restore(state)
        self._memory.sheet["opens first"] = "inactive"
        self._swapped = True


class Brittle(ReferenceController):
    """Falls over when two guards are tripped while it backs off."""

    def scan(self, now, inputs):
        scan = super().scan(now, inputs)
        if self._memory.state is State.BACKING_OFF and sum(g != "clear" for g in self._memory.guards) == 2:
            raise ControllerError("it has no words for two guards")
        return scan


STOP, OUTER, EDGE = "stop circuit", "outer beam", "active edge"

BUGS = [
    (Blind, MAIN, few(guards=(OUTER,)), {}, "never drives closing while a reopening guard is tripped"),
    (Deaf, MAIN, few(guards=(OUTER, STOP)), {}, "stop beats everything within one scan"),
    (Powerless, MAIN, few(), {}, "nothing is driven while the board has no power"),
    (Hasty, MAIN, few(guards=(OUTER,)), {}, "never driven the other way without a pause"),
    (
        Eager,
        "one leaf",
        few(controls=("open button",)),
        {"depth": 3, "time_counts": False},
        "never moves after a halt or a power return until a command is given again",
    ),
    (
        Restless,
        "closes by itself",
        few(guards=(STOP,)),
        {"time_counts": False},
        "auto-close never after a halt, and never when it is off",
    ),
    (Sudden, "closes by itself", few(), {}, "the lamp warns before every start from rest"),
    (Untested, "closes by itself", few(), {}, "beams are tested before every start from rest"),
    (
        Clinging,
        "hold-to-run",
        few(guards=(OUTER,), controls=("open button",)),
        {},
        "hold-to-run stops within one scan when it is let go",
    ),
    (Swapped, MAIN, few(), {}, "no leaf is driven into the other at the cover strip"),
    (Brittle, MAIN, few(guards=(EDGE, OUTER)), {"depth": 3}, "answers at every scan"),
]
"""(controller, sheet, scope, bounds, the promise it breaks)."""


@pytest.mark.parametrize(("make", "sheet", "scope", "bounds", "promise"), BUGS, ids=[bug[0].__name__ for bug in BUGS])
def test_seeded_bug_is_found(make, sheet: str, scope: dict[str, Any], bounds: dict[str, Any], promise: str) -> None:
    """Each promise can be broken, and the search finds the run; what the sound controller does there is sound."""
    bounds = {"depth": 2, **bounds}
    found = {each.promise: each for each in search(make, sheet, scope, **bounds).found}
    assert promise in found
    print(found[promise].in_words())
    assert search(sheet=sheet, scope=scope, **bounds).found == []


def test_a_stop_while_a_contact_is_being_noticed_is_no_breach() -> None:
    """A leaf may be driven away from what it touched, also where that was noticed as its drive was let go."""
    report = search(sheet=MAIN, scope=few(guards=("stop circuit",), leaves=(0,)), depth=5)
    assert [found.in_words() for found in report.found] == []
    assert report.finished == 5


def test_an_edge_that_is_pressed_again_while_the_leaves_go_apart_is_the_same_contact() -> None:
    """What lets go for a moment and is touched again, by either leaf, lies between them: the way back frees it."""
    report = search(sheet=MAIN, scope=few(guards=(EDGE, "inactive edge", STOP)), depth=5)
    assert [found.in_words() for found in report.found] == []
    assert report.finished == 5


def test_every_watcher_has_a_bug_that_breaks_it() -> None:
    """None of them is there for show."""
    assert {watcher.name for watcher in WATCHERS} <= {bug[-1] for bug in BUGS}


def played_again(make: Callable[[], Any], sheet: str, found: Counterexample) -> list[tuple[str, int]]:
    """What is seen at every step of a gate to which the same is done at the same instants: (promise, when)."""
    gate = found_gate(make, SHEETS[sheet])
    settings = found_gate(sheet=SHEETS[sheet]).controller.panel().settings
    watchers = [watcher(settings) for watcher in WATCHERS]
    begun, before, seen = gate.now, None, []
    while gate.now < begun + found.at:
        for line in found.lines:
            done = {move.name: move for move in moves(gate, scope_of(settings, SERIAL))}
            if line.at == gate.now + SCAN - begun and line.said in done:
                done[line.said].do(gate)
        gate.step()
        shares = tuple(leaf.position / leaf.travel for leaf in gate.leaves)
        now = glance(gate.now, gate.read, gate.outputs, gate.held, gate.powered, before, shares)
        before = now.pressed if gate.powered else None
        seen += [(watcher.name, gate.now - begun) for watcher in watchers if watcher.see(now)]
    return seen


@pytest.mark.parametrize("seeded", [bug for bug in BUGS if bug[0] is not Brittle], ids=lambda bug: bug[0].__name__)
def test_what_is_found_can_be_played_again(seeded) -> None:
    """Stepped every 10 ms, with the same acts at the same instants, the same promise breaks at the same instant."""
    make, sheet, scope, bounds, promise = seeded
    found = next(
        each for each in search(make, sheet, scope, **{"depth": 2, **bounds}).found if each.promise == promise
    )
    assert (promise, found.at) in played_again(make, sheet, found)


def test_counterexample_is_told_in_plain_sentences_with_times() -> None:
    """Who did what when, what the gate did, and what broke."""
    report = search(Blind, MAIN, few(guards=(OUTER,)), depth=1)
    told = report.found[0].in_words().splitlines()
    assert told[0] == "never drives closing while a reopening guard is tripped: broken"
    assert told[1].endswith("  the open button is pressed and held")
    assert told[-2].endswith("  the outer beam is interrupted")
    assert told[-1].endswith("  a leaf is driven closing while outer beam is tripped")
    times = [line.split()[0] for line in told[1:]]
    assert times == sorted(times)


# somebody else's controller


class Simple:
    """Drives the active leaf for eight seconds at a press, stops at the stop circuit, warns and tests nothing."""

    def __init__(self) -> None:
        self.way = 0
        self.until = 0
        self.was_pressed = (True,) * len(COMMAND_TERMINALS)

    def power_up(self, now) -> None:
        self.__init__()

    def scan(self, now, inputs) -> Scan:
        pressed = tuple(volts < 12.0 for volts in inputs.command_v)
        given = [now_down and not before for now_down, before in zip(pressed, self.was_pressed, strict=True)]
        self.was_pressed = pressed
        if (given[0] or given[1]) and not self.way:
            self.way, self.until = (1 if given[0] else -1), int(now) + 8_000_000
        if now >= self.until or inputs.guard_v[4] > 12.0:
            self.way = 0
        return Scan(Outputs(active=Drive(float(self.way))))

    def panel(self) -> Panel:
        return Panel("driven" if self.way else "at rest", "")


def test_a_strangers_controller_is_searched_like_ours() -> None:
    """It tells nothing of itself, and what it forgets is found: beams, their test, the lamp, a pause."""
    report = search_sheet(MAIN, Bounds(depth=1), make=Simple)
    assert {found.promise for found in report.found} == {
        "never drives closing while a reopening guard is tripped",
        "the lamp warns before every start from rest",
        "beams are tested before every start from rest",
        "never driven the other way without a pause",
    }
    assert report.transitions == {}
    assert set(report.states) == {"driven", "at rest"}
