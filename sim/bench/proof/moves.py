"""What can be done to a line gate at any instant, one thing at a time, each told in a sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Final, NamedTuple

from sim.bench.line_gate import SUPPLY_V, LineGate
from sim.bench.line_leaf import NOWHERE
from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS
from sim.controller.settings import NOT_FITTED, Value
from sim.units import LEAVES

NEAR: Final = 5.0
"""What is put in a leaf's way is this far before it, on either side [counts]."""

NO_POWER_V: Final = 4.0
"""Board supply when power is gone [V]."""


class Move(NamedTuple):
    """One thing that somebody or something does."""

    name: str
    """A sentence."""
    do: Callable[[LineGate], None]
    adds: bool = False
    """Whether one thing more is out of the ordinary after it."""


WAIT: Final = Move("time passes", lambda gate: None)
"""The one move that is carried out by letting time go to the next thing that happens."""


class Scope(NamedTuple):
    """What there is to do things with."""

    guards: tuple[str, ...] = GUARD_TERMINALS
    controls: tuple[str, ...] = COMMAND_TERMINALS
    leaves: tuple[int, ...] = (0, 1)
    serial: str = ""
    """A transmitter whose button 1 is pressed, empty for none."""
    requests: tuple[str, ...] = ()
    """Kinds of requests at the service panel that need no more words."""


def moves(gate: LineGate, scope: Scope) -> Iterator[Move]:
    """Everything that can be done now, in a fixed order."""
    yield WAIT
    for guard in scope.guards:
        yield _clear(guard) if guard in gate.tripped else _trip(guard)
    for control in scope.controls:
        yield _let_go(control) if control in gate.pressed else _press(control)
    if gate.powered:
        if scope.serial:
            yield _word(scope.serial)
        yield from map(_request, scope.requests)
    yield _POWER_COMES if gate.supply_v <= NO_POWER_V else _POWER_GOES
    for index in scope.leaves:
        yield _take_away(index) if gate.leaves[index].blocked_above < NOWHERE else _block(index)


def scope_of(sheet: Mapping[str, Value], serial: str = "", requests: tuple[str, ...] = ()) -> Scope:
    """What a gate with this sheet has: guards and leaves that it declares away are not tried."""
    return Scope(
        guards=tuple(name for name in GUARD_TERMINALS if sheet.get(name) != NOT_FITTED),
        leaves=(0,) if sheet.get("leaves fitted") == "1" else (0, 1),
        serial=serial,
        requests=requests,
    )


def tap(control: str) -> tuple[Move, Move]:
    """Press a control and let it go."""
    return _press(control), _let_go(control)


def _trip(guard: str) -> Move:
    verb = "is pressed" if guard.endswith("edge") else "opens" if guard.endswith("circuit") else "is interrupted"
    return Move(f"the {guard} {verb}", lambda gate: gate.trip(guard), adds=True)


def _clear(guard: str) -> Move:
    verb = (
        "is let go"
        if guard.endswith("edge")
        else "is closed again"
        if guard.endswith("circuit")
        else "is clear again"
    )
    return Move(f"the {guard} {verb}", lambda gate: gate.clear(guard))


def _press(control: str) -> Move:
    return Move(f"the {control} is {_turned(control)}", lambda gate: gate.press(control), adds=True)


def _let_go(control: str) -> Move:
    verb = "opens" if control.endswith("contact") else "is let go"
    return Move(f"the {control} {verb}", lambda gate: gate.release(control))


def _turned(control: str) -> str:
    return (
        "closed" if control.endswith("contact") else "turned and held" if "switch" in control else "pressed and held"
    )


def _word(serial: str) -> Move:
    return Move("the transmitter is pressed", lambda gate: gate.press_transmitter(serial))


def _request(kind: str) -> Move:
    return Move(f"'{kind}' is asked for at the panel", lambda gate: gate.request(kind))


def _set_supply(volts: float) -> Callable[[LineGate], None]:
    def do(gate: LineGate) -> None:
        gate.supply_v = volts

    return do


_POWER_GOES: Final = Move("power goes", _set_supply(NO_POWER_V), adds=True)
_POWER_COMES: Final = Move("power comes back", _set_supply(SUPPLY_V))


def _block(index: int) -> Move:
    def do(gate: LineGate) -> None:
        leaf = gate.leaves[index]
        leaf.blocked_below, leaf.blocked_above = leaf.position - NEAR, leaf.position + NEAR

    return Move(f"something stands in the way of the {LEAVES[index]} leaf", do, adds=True)


def _take_away(index: int) -> Move:
    def do(gate: LineGate) -> None:
        gate.leaves[index].blocked_below, gate.leaves[index].blocked_above = -NOWHERE, NOWHERE

    return Move(f"what stood in the way of the {LEAVES[index]} leaf is taken away", do)
