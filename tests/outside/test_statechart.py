"""The table of states against a second state machine: W3C SCXML, as `python-statemachine` runs it.

SCXML (State Chart XML, W3C Recommendation of 1 September 2015) says what a chart with states inside states means: an
event is taken by the innermost state that has a way for it, else by the one round it, else by nobody. The table is
written as such a document twice: flat, a row a way; and nested, where a row that a whole group shares stands once, on
the group. Both are run by the second library over random events, and so is the controller's own machine.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from xml.sax.saxutils import quoteattr

import pytest
from statemachine.exceptions import TransitionNotAllowed
from statemachine.io import load

from sim.controller.machine import BY_HAND, ROWS, STARTING, TRAVELLING, TRIGGERS, GateMachine, State
from sim.controller.readable import ChartMachine
from sim.errors import ControllerError

Group = tuple[str, frozenset[State], tuple["Group", ...]]
"""A state round others: its name, the states in it, the groups in it."""

POWERED = frozenset(State) - {State.NO_POWER}
STOPPABLE = POWERED - {State.SELF_CHECK, State.HALTED}
NESTED: tuple[Group, ...] = (
    (
        "powered",
        POWERED,
        (
            (
                "stoppable",
                STOPPABLE,
                (
                    ("starting", frozenset(STARTING), ()),
                    ("travelling", frozenset(TRAVELLING), ()),
                    ("by_hand", frozenset(BY_HAND), ()),
                ),
            ),
        ),
    ),
)


def document(groups: tuple[Group, ...]) -> str:
    """The table as SCXML; a row that holds for a whole group stands on it."""
    left = {trigger: (set(sources), target) for trigger, sources, target in ROWS}
    body = "".join(_in_group(groups, frozenset(State), left))
    return f'<scxml xmlns="http://www.w3.org/2005/07/scxml" version="1.0" initial="NO_POWER">{body}</scxml>'


def _in_group(groups: tuple[Group, ...], members: frozenset[State], left: dict) -> Iterator[str]:
    for name, states, inner in groups:
        shared = [trigger for trigger, (sources, _) in left.items() if sources >= states]
        first = next(state for state in State if state in states)
        yield f'<state id="{name}" initial="{first.name}">'
        for trigger in shared:
            yield _way(trigger, left[trigger][1])
            left[trigger][0].difference_update(states)
        yield from _in_group(inner, states, left)
        yield "</state>"
    grouped = {state for _, states, _ in groups for state in states}
    for state in State:
        if state in members and state not in grouped:
            ways = [_way(trigger, target) for trigger, (sources, target) in left.items() if state in sources]
            yield f'<state id="{state.name}">{"".join(ways)}</state>'


def _way(trigger: str, target: State) -> str:
    return f'<transition event={quoteattr(_event(trigger))} target="{target.name}"/>'


def _event(trigger: str) -> str:
    """SCXML's events have no spaces in their names."""
    return trigger.replace(" ", "_")


class Second:
    """The table as the second library runs it, with the verbs of ours."""

    def __init__(self, text: str) -> None:
        kind = load(text, format="scxml", name="Gate")
        self._machine = type("Gate", (kind,), {"allow_event_without_transition": False})()

    @property
    def state(self) -> State:
        (leaf,) = [each for each in self._machine.configuration_values if each in State.__members__]
        return State[leaf]

    def fire(self, trigger: str) -> None:
        try:
            self._machine.send(_event(trigger))
        except TransitionNotAllowed as error:
            raise ControllerError(str(error)) from error


WAYS = {(source, trigger): target for trigger, sources, target in ROWS for source in sources}
EVENTS = 5000


def towards(state: State, way: tuple[State, str]) -> str:
    """The next trigger on a shortest path from a state to a way and along it."""
    first = {state: ""}
    for reached in (queue := [state]):
        for (source, trigger), target in WAYS.items():
            if source is reached and target not in first:
                first[target] = first[reached] or trigger
                queue.append(target)
    return first[way[0]] or way[1]


CHARTS = {"flat": document(()), "nested": document(NESTED)}


def _takes(machine, trigger: str) -> bool:
    try:
        machine.fire(trigger)
    except ControllerError:
        return False
    return True


@pytest.mark.parametrize("make", [GateMachine, ChartMachine], ids=["numbers", "transitions"])
@pytest.mark.parametrize("chart", list(CHARTS))
def test_random_events_lead_to_the_same_states(chart: str, make: Callable[[], GateMachine]) -> None:
    """Over many events, in which every row is taken: same state after each, same ones refused."""
    draw = random.Random(f"{chart} {make.__name__}")
    ours, theirs = make(), Second(CHARTS[chart])
    seen: set[tuple[State, str]] = set()
    refused = 0
    for _ in range(EVENTS):
        before = ours.state
        ways = [trigger for trigger, sources, _ in ROWS if ours.state in sources]
        untried = [way for way in WAYS if way not in seen]
        kind = draw.random()
        if kind < 0.5 and untried:
            trigger = towards(before, untried[0])
        else:
            trigger = draw.choice(ways if kind < 0.8 else TRIGGERS)
        taken = _takes(ours, trigger)
        assert _takes(theirs, trigger) is taken, f"'{trigger}' from {before.value}"
        assert theirs.state is ours.state, f"'{trigger}' from {before.value}"
        refused += not taken
        if taken:
            seen.add((before, trigger))
    assert seen == set(WAYS)
    assert refused > 100


def test_the_nested_chart_says_in_groups_what_the_flat_one_says_in_rows() -> None:
    """The nested document is another one: it holds each way out of a group once."""
    assert CHARTS["flat"].count("<transition") == len(WAYS)
    assert CHARTS["nested"].count("<transition") < CHARTS["flat"].count("<transition") / 1.5
    for trigger in ("power_fails", "stop_opens"):
        assert CHARTS["nested"].count(f'event="{trigger}"') == 1


@pytest.mark.parametrize("chart", list(CHARTS))
def test_a_way_left_out_is_noticed(chart: str) -> None:
    """Seeded bug: with one row gone from the document, the two machines part."""
    broken = CHARTS[chart].replace(_way("stands", State.AT_REST), "")
    assert broken != CHARTS[chart]
    ours, theirs = GateMachine(), Second(broken)
    for trigger in ("power returns", "check is done", "jog is held", "is told to stop"):
        assert _takes(ours, trigger)
        assert _takes(theirs, trigger)
    assert _takes(ours, "stands")
    assert not _takes(theirs, "stands")
