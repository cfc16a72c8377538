"""What is done at the service panel: settings, jog, learning, transmitters, seal. Every request gets an answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sim.controller import calendar, counters, duty, learning, motion, moving, starting, transmitters, waking, wording
from sim.controller.machine import State
from sim.controller.memory import Memory, Wish
from sim.controller.ports import Request
from sim.controller.reacting import is_busy
from sim.controller.settings import CATALOGUE, defaults
from sim.controller.sheet import checked, in_words
from sim.controller.turn import Turn
from sim.errors import ActionError, Refused
from sim.said import Verbatim, joined, said
from sim.units import LEAVES

JOG_LIMIT_S: Final = 60.0
"""A jog ends after this long though it is held [s]. CP, no source."""

LOAD_STROKES: Final = 4
"""Whole strokes by which an outdated load table is renewed."""

LOAD_OUT_OF_DATE: Final = said(
    "learned load out of date: two whole cycles by command renew it; auto-close is off until then"
)


def locked(memory: Memory) -> str:
    """Why the sheet can't be changed now, in words; empty if it can."""
    if memory.sealed_by:
        return said("the sheet is sealed by {who}; unseal it with a name and a reason", who=memory.sealed_by)
    return is_busy(memory.state)


def serve(turn: Turn) -> None:
    """Carry out the requests of this scan, in their order."""
    for request in turn.inputs.requests:
        act = _ACTS.get(request.kind)
        why = said("the panel knows no '{request}'", request=request.kind) if act is None else act(turn, request)
        _answer(turn, request, why)


def _answer(turn: Turn, request: Request, why: str) -> None:
    memory = turn.memory
    memory.accepted = not why
    name = request.name if request.kind == "set" else request.kind
    if why:
        memory.answer = said("refused: {why}", why=why)
        turn.refuse(name, why)
    else:
        memory.answer = wording.done(name)


def _unless_locked(act: Callable[[Turn, Request], str]) -> Callable[[Turn, Request], str]:
    def guarded(turn: Turn, request: Request) -> str:
        return locked(turn.memory) or act(turn, request)

    return guarded


# the sheet


def _set(turn: Turn, request: Request) -> str:
    memory = turn.memory
    try:
        value = checked(turn.sheet, request.name, request.value)
    except (ActionError, Refused) as refusal:
        return str(refusal)
    if not memory.accepted:
        turn.say("")
    if value == memory.sheet[request.name]:
        return ""
    memory.sheet[request.name] = value
    turn.note("sheet", request.name, in_words(request.name, value))
    if value == "not fitted":
        memory.failed_tests.pop(request.name, None)
    _outdate(turn, request.name)
    return ""


def _outdate(turn: Turn, name: str) -> None:
    memory = turn.memory
    if not memory.learned:
        return
    what = CATALOGUE[name].outdates
    if what == "travel":
        learning.forget(turn)
        turn.note("learning", "travel learning", said("out of date, {setting} was changed", setting=name))
        turn.say(said("learning not finished: {setting} was changed", setting=name))
    elif what == "load":
        memory.load_strokes_due = LOAD_STROKES
        for leaf in memory.leaves:
            leaf.new_opening_load, leaf.new_closing_load = [], []
        turn.note("learning", "learned load", said("out of date, {setting} was changed", setting=name))
        turn.say(LOAD_OUT_OF_DATE)


def _reset(turn: Turn, request: Request) -> str:
    turn.memory.sheet = defaults()
    turn.memory.failed_tests = {}
    learning.forget(turn)
    turn.note("sheet", "reset to defaults", said("every guard is declared as fitted"))
    turn.say(said("reset to defaults: every guard is declared as fitted"))
    return ""


def _seal(turn: Turn, request: Request) -> str:
    if not request.name.strip():
        return said("say who seals it")
    turn.memory.sealed_by = Verbatim(request.name.strip())
    reason = Verbatim(str(request.value).strip())
    counters.begin_anew(turn.memory, int(turn.now))
    by = said("by {who}: {reason}" if reason else "by {who}", who=turn.memory.sealed_by, reason=reason)
    turn.note("sheet", "sealed", by)
    return ""


def _unseal(turn: Turn, request: Request) -> str:
    reason = Verbatim(str(request.value).strip())
    if not turn.memory.sealed_by:
        return said("the sheet is not sealed")
    if not request.name.strip() or not reason:
        return said("say who opens it and why")
    turn.memory.sealed_by = ""
    turn.note("sheet", "unsealed", said("by {who}: {reason}", who=Verbatim(request.name.strip()), reason=reason))
    return ""


def _set_clock(turn: Turn, request: Request) -> str:
    try:
        second = calendar.typed(str(request.value))
    except ActionError as refusal:
        return str(refusal)
    waking.set_clock(turn, second)
    turn.note("sheet", "set clock", calendar.words(second))
    turn.say(said("the clock is set: {clock}", clock=calendar.words(second)))
    return ""


def _acknowledge(turn: Turn, request: Request) -> str:
    turn.say("")
    return ""


# movement


def _jog(turn: Turn, request: Request) -> str:
    """The lamp is lit while the leaf moves and not before: a jog is a short touch by whoever stands at the panel and
    sees the leaf, to see which way it goes, and a wait would have them hold on blindly. CP, no source."""
    if request.value == "release":
        if turn.state is State.JOGGING and turn.move(LEAVES.index(_leaf(request))).direction:
            moving.stop(turn, said("jog let go"), brake=True)
        return ""
    if request.value not in ("open", "close") or request.name not in LEAVES:
        return said(
            "a jog is 'active' or 'inactive' and 'open', 'close' or 'release', not '{leaf} {way}'",
            leaf=request.name,
            way=request.value,
        )
    index = LEAVES.index(_leaf(request))
    why = locked(turn.memory) or (starting.STOP_READS_OPEN if turn.state is State.HALTED else "")
    if not why and index not in turn.leaves:
        why = said("the sheet says that there is no inactive leaf")
    if why:
        return why
    if turn.state is State.DWELLING:
        turn.stop_timer("dwell")
        turn.fire("dwell ends")
    turn.memory.waits_for_command = True
    turn.fire("jog is held")
    if request.value == "open":
        turn.pulse_lock()
    turn.leaf(index).move = motion.by_hand(turn, 1 if request.value == "open" else -1)
    turn.start_timer("run-time limit", JOG_LIMIT_S)
    opens, leaf = request.value == "open", wording.LEAF[index]
    turn.note("movement", "jog", said("{leaf}, open" if opens else "{leaf}, close", leaf=leaf))
    turn.say(
        said("jog: {leaf}, open, while it is held" if opens else "jog: {leaf}, close, while it is held", leaf=leaf)
    )
    return ""


def _leaf(request: Request) -> str:
    return request.name if request.name in LEAVES else LEAVES[0]


def _learn(turn: Turn, request: Request) -> str:
    if turn.state is State.HALTED:
        return starting.STOP_READS_OPEN
    reasons = starting.obstacles_to(turn.memory, "learn") or duty.against(turn)
    if reasons:
        return joined(reasons, "; ")
    starting.ask(turn, Wish("learn", said("the service panel")))
    return ""


# transmitters


def _enrol(turn: Turn, request: Request) -> str:
    why = transmitters.begin_enrolling(turn, request.name, str(request.value))
    if not why:
        turn.say(said("enrolling for {holder}: press the button to enrol", holder=request.name.strip()))
    return why


def _delete(turn: Turn, request: Request) -> str:
    why = transmitters.delete(turn, request.name)
    if not why:
        turn.say(said("transmitter of {holder} deleted", holder=request.name))
    return why


def _delete_all(turn: Turn, request: Request) -> str:
    transmitters.delete_all(turn)
    turn.say(said("all transmitters deleted"))
    return ""


_ACTS: Final[dict[str, Callable[[Turn, Request], str]]] = {
    "set": _unless_locked(_set),
    "jog": _jog,
    "learn": _unless_locked(_learn),
    "enrol": _unless_locked(_enrol),
    "delete transmitter": _unless_locked(_delete),
    "delete all transmitters": _unless_locked(_delete_all),
    "reset to defaults": _unless_locked(_reset),
    "seal": _unless_locked(_seal),
    "unseal": _unseal,
    "acknowledge": _acknowledge,
    "set clock": _set_clock,
}
