"""Controllers that go back too late, too little, or go on where they should wait."""

from __future__ import annotations

from sim.controller import conduct, guards, moving, reacting
from sim.controller.machine import State
from sim.controller.memory import Wish
from sim.controller.reference import ReferenceController
from sim.controller.sheet import number
from sim.controller.turn import Turn


class ReversesAtLeisure(ReferenceController):
    """It stands for three seconds before it goes back."""

    breaks, within = "reverses within a time and a distance", 20
    instead = (("sim.controller.moving:BRAKE_S", 3.0),)


def _soft_reversal(turn: Turn, why: str, *, contact: bool) -> None:
    _reverse(turn, why, contact=contact)
    turn.memory.brakes = False
    turn.start_timer("reversal", 1.0)


_reverse = moving.reverse


class ReversesSoftly(ReferenceController):
    """It lets the leaves run out instead of braking them."""

    breaks, within = "reverses within a time and a distance", 20
    instead = (("sim.controller.moving:reverse", _soft_reversal), ("sim.controller.answer:SOFT_STOP_PER_S", 1.2))


def _stops_when_clear(turn: Turn) -> None:
    if turn.memory.wish.reaction and not guards.not_clear(turn.sheet, turn.memory.guards, -1):
        moving.stop(turn, "the guard is clear again", brake=False)
    else:
        _while_opening(turn)


_while_opening = reacting._while_opening


class StopsWhenTheGuardIsClear(ReferenceController):
    """Its reversal ends where the guard clears."""

    breaks, within = "a reversal opens fully", 20
    instead = (("sim.controller.reacting:_while_opening", _stops_when_clear),)


def _reverses_after_a_warning(turn: Turn, why: str, *, contact: bool) -> None:
    _reverse(turn, why, contact=contact)
    turn.start_timer("reversal", number(turn.sheet, "warning before moving"))


class WarnsBeforeItReverses(ReferenceController):
    """It warns before a reversal as it does before a start."""

    breaks, within = "a reversal waits for nothing", 20
    instead = (("sim.controller.moving:reverse", _reverses_after_a_warning),)


def _goes_on_closing(turn: Turn) -> None:
    if turn.memory.interrupted < 0 and not guards.not_clear(turn.sheet, turn.memory.guards, 1):
        turn.memory.wish = Wish("close", "the guard is clear again", reaction=True)
        turn.fire("resumes")
        turn.start_timer("warning", number(turn.sheet, "warning before moving"))
    else:
        _held(turn)


_held = moving.held


class GoesOnClosing(ReferenceController):
    """Once the guard is clear it closes on."""

    breaks, within = "an interrupted closing never resumes by itself", 30
    instead = (("sim.controller.conduct:_DOES", {**conduct._DOES, State.HELD: _goes_on_closing}),)


def _remembers(turn: Turn) -> None:
    wish, closes = turn.memory.wish, turn.state is State.CLOSING
    _halt(turn)
    if closes:
        turn.memory.after_stop = wish


_halt = reacting._halt


class GoesOnWhenTheStopIsPulledOut(ReferenceController):
    """What the stop circuit interrupted goes on when it is closed again."""

    breaks, within = "an interrupted closing never resumes by itself", 40
    instead = (("sim.controller.reacting:_halt", _remembers),)


def _opens_at_once(turn: Turn) -> None:
    if turn.memory.interrupted > 0 and not guards.not_clear(turn.sheet, turn.memory.guards, 1):
        moving.begin_opening(turn)
    else:
        _held(turn)


class OpensOnWithoutAWarning(ReferenceController):
    """A held opening goes on the moment the guard clears."""

    breaks, within = "a held opening waits for its warning", 20
    instead = (("sim.controller.conduct:_DOES", {**conduct._DOES, State.HELD: _opens_at_once}),)


def _stays_held(turn: Turn) -> None:
    if turn.memory.interrupted > 0:
        _held(turn)


class StaysHeld(ReferenceController):
    """A closing that was held stays where it is."""

    breaks, within = "a held closing opens again", 20
    instead = (("sim.controller.conduct:_DOES", {**conduct._DOES, State.HELD: _stays_held}),)
