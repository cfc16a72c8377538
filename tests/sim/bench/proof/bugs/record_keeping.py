"""Controllers that write down too little, or keep what they must not."""

from __future__ import annotations

from sim.controller import log, service
from sim.controller.memory import Memory
from sim.controller.reference import ReferenceController
from sim.controller.turn import Turn

_adds = log.add


def _adds_no_guards(memory: Memory, now: int, kind: str, what: str, detail: str) -> None:
    if kind != "guard":
        _adds(memory, now, kind, what, detail)


class NotesNoGuards(ReferenceController):
    """That a guard tripped or cleared is not worth a note."""

    breaks, within = "the event log is complete", 10

    instead = (("sim.controller.log:add", _adds_no_guards),)


def _adds_and_loses(memory: Memory, now: int, kind: str, what: str, detail: str) -> None:
    if kind == "refused":
        memory.note_count += 1
        return
    _adds(memory, now, kind, what, detail)


class LosesRefusals(ReferenceController):
    """A refusal gets a number, and no note."""

    breaks, within = "the event log is complete", 30

    instead = (("sim.controller.log:add", _adds_and_loses),)


class ResetThoughSealed(ReferenceController):
    """The defaults can be had while the sheet is sealed."""

    breaks, within = "a sealed sheet stays as it is", 20

    instead = (("sim.controller.service:_ACTS", {**service._ACTS, "reset to defaults": service._reset}),)


def _forgets_nothing(turn: Turn) -> None:
    """Whatever was learned before stays."""


class KeepsWhatItHad(ReferenceController):
    """Learning that ends early leaves the learned travel of another day."""

    breaks, within = "learning that ends early keeps nothing", 10

    instead = (("sim.controller.learning:forget", _forgets_nothing),)
